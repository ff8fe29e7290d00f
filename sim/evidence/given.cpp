#include "evidence/given.hpp"

#include <array>
#include <cmath>

#include "leewheel/units.hpp"

namespace leewheel::evidence {

double needed(YamlMap& map, std::string_view key, const Range& range) {
  double value = 1.0;
  map.require(key, "a number").number(range, value);
  return value;
}

double optional(YamlMap& map, std::string_view key, const Range& range, double otherwise) {
  map[key].number(range, otherwise);
  return otherwise;
}

bool yes_no(YamlMap& map, std::string_view key, bool otherwise) {
  static constexpr std::array<std::string_view, 2> names{"no", "yes"};
  int picked = otherwise;
  map[key].choice(names, picked);
  return picked != 0;
}

std::vector<double> number_list(const YamlValue& value, const Range& range) {
  std::vector<double> numbers;
  if (!value.given()) return numbers;
  if (!value.is_list()) {
    double one = 0.0;
    if (value.number(range, one)) numbers.push_back(one);
    return numbers;
  }
  for (const YamlValue& item : value.items()) {
    double one = 0.0;
    if (!item.given() || item.node()->kind == YamlNode::Kind::empty)
      item.fault("found nothing, expected a number");
    else
      item.number(range, one);
    numbers.push_back(one);
  }
  if (numbers.empty()) value.fault("found an empty list, expected numbers");
  return numbers;
}

GivenWind read_wind(YamlMap& given) {
  YamlMap wind(given["wind"]);
  if (!wind.given()) return {};
  const double head_mps = optional(wind, "head_mps", {-60.0, 60.0}, 0.0);
  const double cross_mps = optional(wind, "cross_mps", {-60.0, 60.0}, 0.0);
  const double speed_mps = optional(wind, "speed_mps", {0.0, 60.0}, 0.0);
  double off_nose_deg = optional(wind, "off_nose_deg", {-360.0, 360.0}, 0.0);
  const double from_deg = optional(wind, "from_deg", {-360.0, 360.0}, 0.0);
  const double heading_deg = optional(wind, "heading_deg", {-360.0, 360.0}, 0.0);
  if (wind["speed_mps"].given() && (wind["head_mps"].given() || wind["cross_mps"].given()))
    wind.value().fault("found both speed_mps and head_mps or cross_mps, expected one way of telling the wind");
  if (wind["from_deg"].given() != wind["heading_deg"].given() || (wind["from_deg"].given() && wind["off_nose_deg"].given()))
    wind.value().fault("expected from_deg with heading_deg, or off_nose_deg alone");
  if (!wind["speed_mps"].given()) return {-head_mps, cross_mps};
  if (wind["from_deg"].given()) off_nose_deg = from_deg - heading_deg;
  const double angle_rad = rad_from_deg(off_nose_deg);
  return {-speed_mps * std::cos(angle_rad), speed_mps * std::sin(angle_rad)};
}

RoadLoad read_load(YamlMap& given) {
  static constexpr std::array<std::string_view, 2> air_forms{"vector", "along_only"};
  RoadLoad load;
  load.mass_kg = needed(given, "mass_kg", {0.0, 1e6, true});
  load.drag_area_m2 = needed(given, "drag_area_m2", {0.0, 1e3});
  load.drag_factor = optional(given, "drag_factor", {0.0, 2.0}, 1.0);
  load.wheel_drag_area_m2 = optional(given, "wheel_drag_area_m2", {0.0, 1.0}, 0.0);
  load.rolling = optional(given, "rolling", {0.0, 1.0}, 0.0);
  load.efficiency = optional(given, "efficiency", {0.0, 1.0, true}, 1.0);
  load.density_kgpm3 = optional(given, "density_kgpm3", {0.0, 10.0}, 1.225);
  load.gravity_mps2 = optional(given, "gravity_mps2", {0.0, 30.0, true}, 9.80665);
  load.grade = optional(given, "grade_percent", {-100.0, 100.0}, 0.0) / 100.0;
  load.bearings = yes_no(given, "bearings", false);
  given["air_form"].choice(air_forms, load.air_form);
  const GivenWind wind = read_wind(given);
  load.wind_along_mps = wind.along_mps;
  load.wind_cross_mps = wind.cross_mps;
  return load;
}

}  // namespace leewheel::evidence
