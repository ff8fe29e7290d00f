/// A road described stretch by stretch.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/road_parts.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

void read_exposure(const YamlValue& value, Exposure& left, Exposure& right) {
  if (!value.is_map()) {
    if (value.choice(exposure_names, left)) right = left;
    return;
  }
  YamlMap sides(value);
  sides.require("left", "an exposure").choice(exposure_names, left);
  sides.require("right", "an exposure").choice(exposure_names, right);
}

Stretch read_stretch(const YamlValue& value, bool first) {
  Stretch stretch;
  YamlMap map(value);
  map["name"].name(stretch.name);
  map.require("length_m", "the length along the road").number({0.0, 200e3, true}, stretch.length_m);
  double grade_percent = 0.0, heading_deg = 0.0;
  if (map.require("grade_percent", "rise over run in percent").number({-35.0, 35.0}, grade_percent))
    stretch.grade = grade_percent / 100.0;
  const YamlValue heading = first ? map.require("heading_deg", "the direction of travel at the start") : map["heading_deg"];
  stretch.has_heading = heading.number(heading_range, heading_deg);
  stretch.heading_rad = rad_from_deg(heading_deg);
  const YamlValue bend = map["bend_radius_m"];
  if (bend.number({-10000.0, 10000.0}, stretch.bend_radius_m) && stretch.bend_radius_m != 0.0 &&
      std::abs(stretch.bend_radius_m) < 5.0)
    bend.refuse("0 for straight on, or a radius of at least 5 m (> 0 bends left, < 0 right)");
  read_exposure(map["exposure"], stretch.exposure_left, stretch.exposure_right);
  map["surface"].choice(surface_names, stretch.surface);
  map["width_m"].number(width_range, stretch.width_m);
  long abreast = stretch.abreast;
  map["abreast"].whole(1, most_abreast, abreast);
  stretch.abreast = static_cast<int>(abreast);
  map["closed"].choice(no_yes, stretch.closed);
  return stretch;
}

}  // namespace

std::optional<NamedRoad> road_from_stretches(const YamlValue& list, double start_elevation_m) {
  const std::size_t faults_before = list.file().faults().count();
  std::vector<Stretch> stretches;
  std::vector<Landmark> places;
  double length_m = 0.0, elevation_m = start_elevation_m, highest_m = elevation_m, lowest_m = elevation_m;
  for (const YamlValue& item : list.items()) {
    stretches.push_back(read_stretch(item, stretches.empty()));
    const Stretch& stretch = stretches.back();
    if (!stretch.name.empty()) places.push_back({stretch.name, length_m});
    length_m += stretch.length_m;
    elevation_m += stretch.length_m * stretch.grade / std::hypot(1.0, stretch.grade);
    highest_m = std::max(highest_m, elevation_m);
    lowest_m = std::min(lowest_m, elevation_m);
  }
  if (list.is_list() && stretches.empty()) list.fault("found an empty list, expected at least one stretch");
  if (length_m > longest_road_m)
    list.fault(fmt::format("found {:.0f} km of road, expected at most {:.0f} km", length_m / 1e3, longest_road_m / 1e3));
  if (lowest_m < elevation_range.lowest || highest_m > elevation_range.highest)
    list.fault(fmt::format("found elevations from {:.0f} to {:.0f} m, expected [{:.0f}, {:.0f}] m", lowest_m, highest_m,
                           elevation_range.lowest, elevation_range.highest));
  if (list.file().faults().count() != faults_before) return std::nullopt;
  if (length_m < 2.0 * grid_m) {
    list.fault(fmt::format("found {:g} m of road, expected at least {:g} m", length_m, 2.0 * grid_m));
    return std::nullopt;
  }
  RoadProfile profile = profile_from_stretches(stretches, start_elevation_m, grid_m);
  profile.named = places;
  return NamedRoad{std::move(profile), std::move(places), true};
}

}  // namespace leewheel
