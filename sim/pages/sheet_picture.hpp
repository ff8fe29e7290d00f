#pragma once
/// The pictures of the plan sheet: road, land beside it and wind, as SVG inside HTML.

#include <string>
#include <string_view>
#include <vector>

#include "pages/sheet.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// "4.5 %", with a true minus.
std::string grade_text(double grade);

/// `width` in pixels of the drawing: one for phones, one for wide screens and paper. `mark` keeps ids of several apart.
std::string road_picture(const Sheet& sheet, const ShownUnits& units, double width, std::string_view mark);

/// A class of land as the picture draws it.
struct LandClass {
  std::string swatch;  ///< SVG
  const char* name;
};
/// Those that lie beside this road.
std::vector<LandClass> land_classes(const Road& road, std::string_view mark);

}  // namespace leewheel
