#include "io/road_file.hpp"

#include <fmt/format.h>

#include <cmath>

#include "io/plain_number.hpp"
#include "io/road_parts.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

void read_position(const YamlValue& value, RoadProfile& profile) {
  if (!value.given()) return;
  YamlMap map(value);
  double latitude_deg = 0.0, longitude_deg = 0.0;
  profile.has_position = map.require("latitude_deg", "degrees north").number({-90.0, 90.0}, latitude_deg);
  profile.has_position &= map.require("longitude_deg", "degrees east").number({-180.0, 180.0}, longitude_deg);
  profile.latitude_rad = rad_from_deg(latitude_deg);
  profile.longitude_rad = rad_from_deg(longitude_deg);
}

}  // namespace

double NamedRoad::length_m() const {
  return known ? static_cast<double>(profile.elevation_m.size() - 1) * profile.spacing_m : longest_road_m;
}

NamedRoad stand_in_road() {
  NamedRoad road{plain_profile(3, grid_m), {}, false};
  road.profile.elevation_m.assign(3, 0.0);
  road.profile.heading_rad.assign(3, 0.0);
  return road;
}

std::optional<NamedRoad> read_described_road(YamlMap& map) {
  double start_elevation_m = 0.0;
  const YamlValue stretches = map["stretches"], line = map["line"], start = map["start_elevation_m"];
  const YamlValue position = map["position"];
  const bool one_form = map.one_of("stretches", "line");
  if (stretches.given())
    map.require("start_elevation_m", "the elevation of the start").number(elevation_range, start_elevation_m);
  if (line.given() && start.given()) start.fault("found beside line, expected beside stretches only");
  std::optional<NamedRoad> road;
  if (one_form) road = stretches.given() ? road_from_stretches(stretches, start_elevation_m) : road_from_line(line);
  NamedRoad unknown = stand_in_road();
  read_position(position, road ? road->profile : unknown.profile);
  read_marks(map, road ? *road : unknown);
  return road;
}

bool read_distance(const YamlValue& value, const NamedRoad& road, double& distance_m) {
  if (value.is_number()) return value.number({0.0, road.length_m()}, distance_m);
  std::string name;
  if (!value.text(name)) return false;
  std::vector<double> found;
  if (name == "start") found.push_back(0.0);
  if (name == "finish") found.push_back(road.length_m());
  for (const Landmark& place : road.places)
    if (place.name == name && (found.empty() || std::abs(found.back() - place.distance_m) > grid_m))
      found.push_back(place.distance_m);
  if (found.size() == 1) {
    distance_m = found.front();
    return true;
  }
  if (const std::optional<double> m = distance_in_m(name); found.empty() && m) {
    if (*m >= 0.0 && *m <= road.length_m()) {
      distance_m = *m;
      return true;
    }
    value.refuse(fmt::format("a place on the road, which is {:.2f} km long", road.length_m() / 1e3));
    return false;
  }
  if (!road.known) return false;
  std::vector<std::string> names{"start", "finish"};
  for (const Landmark& place : road.places) names.push_back(place.name);
  const std::string nearest = nearest_name(name, names);
  if (found.size() > 1)
    value.refuse(fmt::format("metres: that name stands at {:g} and at {:g} m", found[0], found[1]));
  else
    value.refuse(nearest.empty()
                     ? fmt::format("metres, kilometres as 3.2 km, or a place on the road: {}", fmt::join(names, ", "))
                     : "'" + nearest + "'");
  return false;
}

std::optional<NamedRoad> read_road_file(const std::string& path, Faults& faults) {
  YamlFile file(path, faults);
  if (!file.readable()) return std::nullopt;
  YamlMap map(file.root());
  if (!map.value().is_map()) return std::nullopt;
  return read_described_road(map);
}

RoadProfile read_road(const std::string& path) {
  Faults faults;
  std::optional<NamedRoad> road = read_road_file(path, faults);
  faults.throw_if_any();
  return std::move(road->profile);
}

}  // namespace leewheel
