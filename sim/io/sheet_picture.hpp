#pragma once
/// The pictures of the plan sheet: road, land beside it and wind, as SVG inside HTML.

#include <string>
#include <string_view>

#include "io/sheet.hpp"

namespace leewheel {

/// Text made safe for HTML and XML; control characters become blanks.
std::string html_text(std::string_view text);

/// "4.5 %", with a true minus.
std::string grade_text(double grade);

/// Units of the reader's choice.
struct SheetUnits {
  bool imperial = false;
  double km(double m) const { return imperial ? m / 1609.344 : m / 1000.0; }
  const char* km_name() const { return imperial ? "mi" : "km"; }
  double height(double m) const { return imperial ? m / 0.3048 : m; }
  const char* height_name() const { return imperial ? "ft" : "m"; }
  double speed(double mps) const { return imperial ? mps * 3600.0 / 1609.344 : mps * 3.6; }
  const char* speed_name() const { return imperial ? "mph" : "km/h"; }
  double mass(double kg) const { return imperial ? kg / 0.45359237 : kg; }
  const char* mass_name() const { return imperial ? "lb" : "kg"; }
  double warmth(double celsius) const { return imperial ? 32.0 + 1.8 * celsius : celsius; }
  const char* warmth_name() const { return imperial ? "°F" : "°C"; }
  double litres(double l) const { return imperial ? l * 33.814 : l; }  // US fluid ounces
  const char* litres_name() const { return imperial ? "fl oz" : "L"; }
};

/// `width` in pixels of the drawing: one for phones, one for wide screens and paper. `mark` keeps ids of several apart.
std::string road_picture(const Sheet& sheet, const SheetUnits& units, double width, std::string_view mark);

/// Swatches of the classes of land that this road has.
std::string land_key(const Road& road, std::string_view mark);

}  // namespace leewheel
