#pragma once
/// The pictures of the plan sheet: road, land beside it and wind, as SVG inside HTML.

#include <string>
#include <string_view>

#include "io/sheet.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// Text made safe for HTML and XML; control characters become blanks.
std::string html_text(std::string_view text);

/// "4.5 %", with a true minus.
std::string grade_text(double grade);

/// `width` in pixels of the drawing: one for phones, one for wide screens and paper. `mark` keeps ids of several apart.
std::string road_picture(const Sheet& sheet, const ShownUnits& units, double width, std::string_view mark);

/// Swatches of the classes of land that this road has.
std::string land_key(const Road& road, std::string_view mark);

}  // namespace leewheel
