#include "io/wind_section.hpp"

#include <fmt/format.h>

#include <GeographicLib/LocalCartesian.hpp>
#include <algorithm>
#include <array>
#include <cmath>

#include "io/forecast_section.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

constexpr std::array<std::string_view, 2> off_on{"off", "on"}, no_yes{"no", "yes"};

// --- stations ----------------------------------------------------------------------------------------------------

/// A place by distance along the road, by metres east and north of the start, or by latitude and longitude.
void read_station_place(YamlMap& map, const NamedRoad& named, const Road& road, WindStation& station) {
  const YamlValue at = map["at_m"], east = map["east_m"], north = map["north_m"];
  const YamlValue latitude = map["latitude_deg"], longitude = map["longitude_deg"];
  const int ways = at.given() + (east.given() || north.given()) + (latitude.given() || longitude.given());
  if (ways != 1) {
    map.value().fault(fmt::format("{} place, expected one of at_m, east_m with north_m, latitude_deg with longitude_deg",
                                  ways == 0 ? "missing its" : "found more than one"));
    return;
  }
  double at_m = 0.0;
  if (at.number({0.0, named.length_m()}, at_m)) {
    const std::vector<Eigen::Vector2d> places = road_places_enu_m(road);
    const Eigen::Vector2d& place =
        places[std::min(places.size() - 1, static_cast<std::size_t>(std::lround(at_m / road.spacing_m())))];
    station.east_m = place.x(), station.north_m = place.y();
  } else if (east.given() || north.given()) {
    map.require("east_m", "metres east of the start").number({-200e3, 200e3}, station.east_m);
    map.require("north_m", "metres north of the start").number({-200e3, 200e3}, station.north_m);
  } else if (latitude.given() || longitude.given()) {
    double latitude_deg = 0.0, longitude_deg = 0.0, up_m = 0.0;
    const bool north_good = map.require("latitude_deg", "degrees north").number({-90.0, 90.0}, latitude_deg);
    const bool east_good = map.require("longitude_deg", "degrees east").number({-180.0, 180.0}, longitude_deg);
    if (!north_good || !east_good || !named.known) return;
    if (!named.profile.has_position) {
      latitude.fault("found on a road without a position, expected at_m, or east_m with north_m");
      return;
    }
    const GeographicLib::LocalCartesian ground(deg_from_rad(named.profile.latitude_rad),
                                               deg_from_rad(named.profile.longitude_rad));
    ground.Forward(latitude_deg, longitude_deg, 0.0, station.east_m, station.north_m, up_m);
  }
}

void read_stations(const YamlValue& list, const NamedRoad& named, const Road& road, const StartTime& start,
                   WindSettings& wind) {
  for (const YamlValue& item : list.items()) {
    YamlMap map(item);
    WindStation station;
    const YamlValue name = map["name"];
    name.name(station.name);
    for (const WindStation& other : wind.stations)
      if (name.given() && other.name == station.name) name.refuse("a name that no other station has");
    read_station_place(map, named, road, station);
    station.forecast = {ForecastPoint{}};
    read_forecast_or_short(map, start, station.forecast);
    wind.stations.push_back(std::move(station));
  }
  if (list.is_list() && wind.stations.empty()) list.fault("found an empty list, expected at least one station");
  if (!wind.stations.empty()) wind.forecast = wind.stations.front().forecast;
}

// --- belts and hills ---------------------------------------------------------------------------------------------

Windbreak read_windbreak(const YamlValue& item, const NamedRoad& named) {
  YamlMap map(item);
  Windbreak belt;
  belt.to_m = named.length_m();
  map["from_m"].number({0.0, named.length_m()}, belt.from_m);
  const YamlValue to = map["to_m"];
  if (to.number({0.0, named.length_m()}, belt.to_m) && belt.to_m <= belt.from_m)
    to.refuse(fmt::format("a number above from_m, which is {:g} m", belt.from_m));
  map["side"].choice(windbreak_side_names, belt.side);
  map.require("kind", listed(windbreak_kind_names)).choice(windbreak_kind_names, belt.kind);
  map.require("height_m", "the height above the road").number({0.0, 60.0, true}, belt.height_m);
  map["distance_m"].number({0.0, 2000.0}, belt.distance_m);
  return belt;
}

RoadHill read_hill(const YamlValue& item, const NamedRoad& named, const Road& road) {
  YamlMap map(item);
  RoadHill hill;
  const YamlValue crest = map["crest"], crest_m = map["crest_m"];
  if (map.one_of("crest_m", "crest")) {
    crest_m.number({0.0, named.length_m()}, hill.crest_m);
    read_distance(crest, named, hill.crest_m);
  }
  map.require("height_m", "from foot to crest").number({0.0, 3000.0, true}, hill.height_before_m);
  double half_m = 0.0, ridge_deg = 0.0;
  map.one_of("slope_length_m", "half_length_m");
  map["slope_length_m"].number({0.0, 50e3, true}, hill.length_before_m);
  if (map["half_length_m"].number({0.0, 25e3, true}, half_m)) hill.length_before_m = 2.0 * half_m;
  hill.height_behind_m = hill.height_before_m;
  hill.length_behind_m = hill.length_before_m;
  map["height_behind_m"].number({0.0, 3000.0}, hill.height_behind_m);
  map["slope_behind_m"].number({0.0, 50e3, true}, hill.length_behind_m);
  map["cliff"].choice(no_yes, hill.cliff);
  hill.across_rad = road.heading_rad(hill.crest_m);
  if (map["ridge_deg"].number({0.0, 360.0}, ridge_deg)) {
    const double square_rad = rad_from_deg(ridge_deg + 90.0);
    const bool forward = std::cos(square_rad - hill.across_rad) >= 0.0;
    hill.across_rad = forward ? square_rad : square_rad + rad_from_deg(180.0);
  }
  // Felt up to three slopes' length from the crest, on a road that crosses the ridge at an angle for longer.
  const double square = std::max(0.2, std::cos(hill.across_rad - road.heading_rad(hill.crest_m)));
  hill.from_m = hill.crest_m - 3.0 * hill.length_before_m / square;
  hill.to_m = hill.crest_m + 3.0 * std::max(hill.length_behind_m, hill.cliff ? 4.0 * hill.length_before_m : 0.0) / square;
  return hill;
}

void read_hills(const YamlValue& value, const NamedRoad& named, const Road& road, WindSettings& wind) {
  if (!value.given()) return;
  if (value.is_list()) {
    for (const YamlValue& item : value.items()) wind.hills.push_back(read_hill(item, named, road));
    return;
  }
  static constexpr std::array<std::string_view, 2> ways{"off", "from_road"};
  if (value.node()->kind == YamlNode::Kind::scalar &&
      std::find(ways.begin(), ways.end(), value.node()->scalar) != ways.end())
    wind.hills_from_road = value.node()->scalar == "from_road";
  else
    value.refuse("off, from_road, or a list of hills");
}

}  // namespace

void read_wind(const YamlValue& value, const NamedRoad& named, const Road& road, const StartTime& start,
               WindSettings& wind) {
  if (!value.given()) return;
  YamlMap map(value);
  const YamlValue stations = map["stations"];
  if (stations.given()) {
    for (const char* key : {"forecast", "from", "from_deg", "speed_mps", "speed_kmh", "gusts_mps", "gusts_kmh"})
      if (map[key].given()) map[key].fault("found beside stations, expected inside each of them");
    read_stations(stations, named, road, start, wind);
  } else {
    read_forecast_or_short(map, start, wind.forecast);
  }
  map.numbers(wind_fields(), wind);
  map["gusts"].choice(off_on, wind.gusts);
  map["yaw_drag"].choice(off_on, wind.yaw_drag);
  for (const YamlValue& item : map["windbreaks"].items()) wind.windbreaks.push_back(read_windbreak(item, named));
  read_hills(map["hills"], named, road, wind);
}

}  // namespace leewheel
