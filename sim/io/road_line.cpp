/// A road as a sampled line.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "io/road_parts.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

std::vector<double> read_series(const YamlValue& list, const Range& range) {
  std::vector<double> values;
  for (const YamlValue& item : list.items()) {
    values.push_back(0.0);
    item.number(range, values.back());
  }
  return values;
}

}  // namespace

double between(const std::vector<double>& y, double position) {
  const auto last = static_cast<double>(y.size() - 1);
  const auto i = static_cast<std::size_t>(std::clamp(std::floor(position), 0.0, last - 1.0));
  const double t = position - static_cast<double>(i);
  const double here = y[i], next = y[i + 1];
  if (i == 0 || i + 2 >= y.size() - 1) return here + t * (next - here);
  const double m0 = 0.5 * (next - y[i - 1]), m1 = 0.5 * (y[i + 2] - here), t2 = t * t, t3 = t2 * t;
  return (2 * t3 - 3 * t2 + 1) * here + (t3 - 2 * t2 + t) * m0 + (3 * t2 - 2 * t3) * next + (t3 - t2) * m1;
}

void unwrap(std::vector<double>& heading_rad) {
  for (std::size_t i = 1; i < heading_rad.size(); ++i)
    heading_rad[i] = heading_rad[i - 1] + std::remainder(heading_rad[i] - heading_rad[i - 1], 2.0 * std::numbers::pi);
}

RoadProfile plain_profile(std::size_t points, double spacing_m) {
  const Stretch plain;  // its defaults are those of a road without marks
  RoadProfile profile;
  profile.spacing_m = spacing_m;
  profile.rolling.assign(points, rolling_coefficient(plain.surface));
  profile.width_m.assign(points, plain.width_m);
  profile.exposure_left.assign(points, plain.exposure_left);
  profile.exposure_right.assign(points, plain.exposure_right);
  profile.abreast.assign(points, static_cast<std::uint8_t>(plain.abreast));
  profile.closed.assign(points, plain.closed ? 1 : 0);
  return profile;
}

std::optional<NamedRoad> road_from_line(const YamlValue& value) {
  const std::size_t faults_before = value.file().faults().count();
  YamlMap map(value);
  double spacing_m = 10.0, length_m = 0.0;
  map.require("spacing_m", "the distance between samples").number({0.5, 100.0}, spacing_m);
  const YamlValue elevations = map.require("elevation_m", "a list of elevations");
  const YamlValue headings = map.require("heading_deg", "a list of headings, as many as elevations");
  const std::vector<double> elevation_m = read_series(elevations, elevation_range);
  std::vector<double> heading_rad = read_series(headings, heading_range);
  for (double& heading : heading_rad) heading = rad_from_deg(heading);
  unwrap(heading_rad);
  const std::size_t samples = elevation_m.size();
  if (elevations.is_list() && samples < 3) elevations.fault(fmt::format("found {} samples, expected at least 3", samples));
  if (headings.is_list() && elevations.is_list() && heading_rad.size() != samples)
    headings.fault(fmt::format("found {} headings, expected {} as there are elevations", heading_rad.size(), samples));
  const double full_m = static_cast<double>(samples - 1) * spacing_m;
  length_m = full_m;
  const YamlValue length = map["length_m"];
  length.number({0.0, longest_road_m, true}, length_m);
  if (samples >= 3 && !(length_m > full_m - spacing_m && length_m <= full_m + 1e-6))
    (length.given() ? length : elevations)
        .fault(fmt::format("found a length of {:g} m, expected one in ({:g}, {:g}] m for {} samples", length_m,
                           full_m - spacing_m, full_m, samples));
  if (length_m > longest_road_m)
    elevations.fault(
        fmt::format("found {:.0f} km of road, expected at most {:.0f} km", length_m / 1e3, longest_road_m / 1e3));
  for (std::size_t i = 1; i < samples && value.file().faults().count() == faults_before; ++i)
    if (const double rise_m = elevation_m[i] - elevation_m[i - 1]; std::abs(rise_m) > 0.35 * spacing_m) {
      elevations.items()[i].fault(
          fmt::format("found a step of {:g} m over {:g} m of road, expected at most 35 percent", rise_m, spacing_m));
    }
  if (value.file().faults().count() != faults_before) return std::nullopt;

  const auto cells = static_cast<std::size_t>(std::max(2.0, std::round(length_m / grid_m)));
  NamedRoad road{plain_profile(cells + 1, length_m / static_cast<double>(cells)), {}, true};
  const double last_cell_m = length_m - (full_m - spacing_m);
  for (std::size_t i = 0; i <= cells; ++i) {
    const double distance_m = static_cast<double>(i) * road.profile.spacing_m;
    const double beyond_m = distance_m - (full_m - spacing_m);
    const double position =
        beyond_m <= 0.0 ? distance_m / spacing_m : static_cast<double>(samples - 2) + std::min(1.0, beyond_m / last_cell_m);
    road.profile.elevation_m.push_back(between(elevation_m, position));
    road.profile.heading_rad.push_back(between(heading_rad, position));
  }
  return road;
}

}  // namespace leewheel
