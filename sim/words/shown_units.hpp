#pragma once
#include <cmath>

/// Units that a person reads: metric, or imperial on request. Inside, and in files for machines, everything stays SI.

namespace leewheel {

struct ShownUnits {
  bool imperial = false;
  double way(double m) const { return imperial ? m / 1609.344 : m / 1000.0; }
  const char* way_name() const { return imperial ? "mi" : "km"; }
  double height(double m) const { return imperial ? m / 0.3048 : m; }
  const char* height_name() const { return imperial ? "ft" : "m"; }
  double speed(double mps) const { return imperial ? mps * 3600.0 / 1609.344 : mps * 3.6; }
  const char* speed_name() const { return imperial ? "mph" : "km/h"; }
  double wind(double mps) const { return std::abs(mps) < 0.01 ? 0.0 : speed(mps); }  // no "-0.0"
  const char* wind_name() const { return speed_name(); }
  double per_way(double s_per_km) const { return imperial ? s_per_km * 1.609344 : s_per_km; }
  const char* a_way() const { return imperial ? "a mile" : "a kilometre"; }
  double mass(double kg) const { return imperial ? kg / 0.45359237 : kg; }
  const char* mass_name() const { return imperial ? "lb" : "kg"; }
  double warmth(double celsius) const { return imperial ? 32.0 + 1.8 * celsius : celsius; }
  const char* warmth_name() const { return imperial ? "°F" : "°C"; }
  double litres(double l) const { return imperial ? l * 33.814 : l; }  // US fluid ounces
  const char* litres_name() const { return imperial ? "fl oz" : "L"; }
};

}  // namespace leewheel
