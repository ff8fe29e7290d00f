#include "io/wind_section.hpp"

#include <fmt/format.h>

#include <GeographicLib/LocalCartesian.hpp>
#include <algorithm>
#include <cmath>
#include <optional>

#include "leewheel/units.hpp"

namespace leewheel {

namespace {

constexpr Range speed_mps_range{0.0, 40.0}, speed_kmh_range{0.0, 144.0};
constexpr Range gust_mps_range{0.0, 80.0}, gust_kmh_range{0.0, 288.0};
constexpr std::array<std::string_view, 2> off_on{"off", "on"}, no_yes{"no", "yes"};
constexpr const char* direction_meaning = "where the wind comes from, clockwise from north";

// --- directions --------------------------------------------------------------------------------------------------

/// "west-south-west", "West South-West" and "wsw" all become "wsw".
std::string letters_of(std::string_view text) {
  std::string lower;
  for (const char c : text)
    if (c != '-' && c != ' ' && c != '_') lower += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  std::string letters;
  for (std::size_t at = 0; at < lower.size();) {
    bool found = false;
    for (const std::string_view word : {"north", "east", "south", "west"})
      if (lower.compare(at, word.size(), word) == 0) {
        letters += word.front();
        at += word.size();
        found = true;
        break;
      }
    if (!found) letters += lower[at++];
  }
  return letters;
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return lower;
}

/// Degrees or a point of the compass.
bool read_direction(const YamlValue& value, double& from_rad) {
  if (!value.given()) return false;
  double from_deg = 0.0;
  if (value.is_number()) {
    if (!value.number({0.0, 360.0}, from_deg)) return false;
    from_rad = rad_from_deg(from_deg);
    return true;
  }
  std::string text;
  if (!value.text(text)) return false;
  const std::string letters = letters_of(text);
  std::vector<std::string> words;
  for (std::size_t k = 0; k < compass_points.size(); ++k) {
    if (lower_case(compass_points[k]) == letters) {
      from_rad = rad_from_deg(22.5 * static_cast<double>(k));
      return true;
    }
    words.emplace_back(compass_points[k]);
  }
  for (const char* word : {"north", "east", "south", "west", "north-east", "south-east", "south-west", "north-west"})
    words.emplace_back(word);
  const std::string nearest = text.size() > 3 ? nearest_name(lower_case(text), words) : "";
  value.refuse(nearest.empty() ? fmt::format("degrees from north (0 to 360) or one of {}", listed(compass_points))
                               : fmt::format("degrees or a point of the compass, such as '{}'", nearest));
  return false;
}

// --- forecasts ---------------------------------------------------------------------------------------------------

/// Speed, direction and gusts, as a forecast's line and the short form have them.
void read_wind_of(YamlMap& map, ForecastPoint& point) {
  double speed_kmh = 0.0, gust = 0.0;
  map.one_of("speed_mps", "speed_kmh");
  map["speed_mps"].number(speed_mps_range, point.speed_mps);
  if (map["speed_kmh"].number(speed_kmh_range, speed_kmh)) point.speed_mps = mps_from_kmh(speed_kmh);
  const YamlValue from = map["from"], from_deg = map["from_deg"];
  double degrees = 0.0;
  if (from.given() && from_deg.given()) map.value().fault("found both from and from_deg, expected one of them");
  if (from.given())
    read_direction(from, point.from_rad);
  else if (map.require("from_deg", direction_meaning).number({0.0, 360.0}, degrees))
    point.from_rad = rad_from_deg(degrees);
  const YamlValue mps = map["gusts_mps"], kmh = map["gusts_kmh"];
  if (mps.given() && kmh.given()) map.value().fault("found both gusts_mps and gusts_kmh, expected one of them");
  if (mps.number(gust_mps_range, gust)) point.gust_mps = gust;
  if (kmh.number(gust_kmh_range, gust)) point.gust_mps = mps_from_kmh(gust);
  if (point.gust_mps && *point.gust_mps < point.speed_mps)
    (kmh.given() ? kmh : mps)
        .refuse(kmh.given() ? fmt::format("at least the speed, which is {:g} km/h", kmh_from_mps(point.speed_mps))
                            : fmt::format("at least the speed, which is {:g} m/s", point.speed_mps));
}

ForecastPoint read_forecast_point(const YamlValue& item) {
  YamlMap map(item);
  ForecastPoint point;
  double time_min = 0.0, temperature_C = 0.0, pressure_hPa = 0.0, humidity_percent = 0.0;
  map.one_of("time_min", "time_s");
  map["time_s"].number({0.0, 7 * 86400.0}, point.time_s);
  if (map["time_min"].number({0.0, 7 * 1440.0}, time_min)) point.time_s = 60.0 * time_min;
  read_wind_of(map, point);
  if (map["temperature_C"].number({-30.0, 50.0}, temperature_C)) point.temperature_C = temperature_C;
  if (map["pressure_hPa"].number({450.0, 1100.0}, pressure_hPa)) point.pressure_Pa = 100.0 * pressure_hPa;
  if (map["humidity_percent"].number({0.0, 100.0}, humidity_percent)) point.humidity_fraction = humidity_percent / 100.0;
  return point;
}

std::vector<ForecastPoint> read_points(const std::vector<YamlValue>& items) {
  std::vector<ForecastPoint> forecast;
  for (const YamlValue& item : items) {
    const std::size_t faults_before = item.file().faults().count();
    forecast.push_back(read_forecast_point(item));
    const bool good = item.file().faults().count() == faults_before;
    if (good && forecast.size() > 1 && forecast.back().time_s <= forecast[forecast.size() - 2].time_s)
      item.fault(fmt::format("found time {:g} s after {:g} s, expected rising times", forecast.back().time_s,
                             forecast[forecast.size() - 2].time_s));
  }
  return forecast;
}

/// A list, or the name of a CSV file. Empty when it was a fault.
std::vector<ForecastPoint> read_forecast(const YamlValue& value) {
  if (value.given() && value.node()->kind == YamlNode::Kind::scalar) {
    std::string path;
    return value.neighbour(path) ? read_forecast_csv(path, value.file().faults()) : std::vector<ForecastPoint>{};
  }
  const std::vector<ForecastPoint> forecast = read_points(value.items());
  if (value.is_list() && forecast.empty()) value.fault("found an empty list, expected at least one time");
  return forecast;
}

/// forecast, or the short form of one time. `fallback` is what to ask for when neither is there.
void read_forecast_or_short(YamlMap& map, std::vector<ForecastPoint>& into) {
  bool short_form = false;
  for (const char* key : {"from", "from_deg", "speed_mps", "speed_kmh", "gusts_mps", "gusts_kmh"})
    short_form |= map[key].given();
  const YamlValue list = map["forecast"];
  if (short_form && list.given()) list.fault("found beside a wind in short form (from, speed), expected one way");
  if (short_form) {
    ForecastPoint point;
    read_wind_of(map, point);
    into = {point};
    return;
  }
  std::vector<ForecastPoint> forecast = read_forecast(map.require("forecast", "a list of times, speeds and directions"));
  if (!forecast.empty()) into = std::move(forecast);
}

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

void read_stations(const YamlValue& list, const NamedRoad& named, const Road& road, WindSettings& wind) {
  for (const YamlValue& item : list.items()) {
    YamlMap map(item);
    WindStation station;
    const YamlValue name = map["name"];
    name.name(station.name);
    for (const WindStation& other : wind.stations)
      if (name.given() && other.name == station.name) name.refuse("a name that no other station has");
    read_station_place(map, named, road, station);
    station.forecast = {ForecastPoint{}};
    read_forecast_or_short(map, station.forecast);
    wind.stations.push_back(std::move(station));
  }
  if (list.is_list() && wind.stations.empty()) list.fault("found an empty list, expected at least one station");
  if (!wind.stations.empty()) wind.forecast = wind.stations.front().forecast;
}

// --- belts and hills ---------------------------------------------------------------------------------------------

Shelter read_shelter(const YamlValue& item, const NamedRoad& named) {
  YamlMap map(item);
  Shelter belt;
  belt.to_m = named.length_m();
  map["from_m"].number({0.0, named.length_m()}, belt.from_m);
  const YamlValue to = map["to_m"];
  if (to.number({0.0, named.length_m()}, belt.to_m) && belt.to_m <= belt.from_m)
    to.refuse(fmt::format("a number above from_m, which is {:g} m", belt.from_m));
  map["side"].choice(shelter_side_names, belt.side);
  map.require("kind", listed(shelter_kind_names)).choice(shelter_kind_names, belt.kind);
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

// --- CSV -----------------------------------------------------------------------------------------------------------

constexpr std::size_t most_csv_bytes = 4u << 20;

struct Cell {
  std::string text;
  int column;
};

std::vector<Cell> cells_of(std::string_view line) {
  std::vector<Cell> cells;
  for (std::size_t from = 0;;) {
    const std::size_t end = std::min(line.find(',', from), line.size());
    std::size_t first = from, last = end;
    while (first < last && (line[first] == ' ' || line[first] == '\t')) ++first;
    while (last > first && (line[last - 1] == ' ' || line[last - 1] == '\t')) --last;
    cells.push_back({std::string(line.substr(first, last - first)), static_cast<int>(first) + 1});
    if (end == line.size()) return cells;
    from = end + 1;
  }
}

/// Whether the names are known ones, each once.
bool good_header(const std::vector<Cell>& header, const std::string& path, int line, Faults& faults) {
  static const std::vector<std::string> known{"time_min",      "time_s",       "speed_mps",       "speed_kmh",
                                              "from",          "from_deg",     "gusts_mps",       "gusts_kmh",
                                              "temperature_C", "pressure_hPa", "humidity_percent"};
  const std::size_t before = faults.count();
  for (std::size_t k = 0; k < header.size(); ++k) {
    const Cell& cell = header[k];
    if (std::find(known.begin(), known.end(), cell.text) == known.end()) {
      const std::string nearest = nearest_name(cell.text, known);
      faults.add({path, line, cell.column, shown(cell.text),
                  fmt::format("unknown column, expected {}",
                              nearest.empty() ? fmt::format("one of {}", fmt::join(known, ", ")) : nearest)});
    }
    for (std::size_t other = 0; other < k; ++other)
      if (header[other].text == cell.text)
        faults.add({path, line, cell.column, shown(cell.text), "found a second time, expected each column once"});
  }
  return faults.count() == before;
}

YamlNode node_of(std::string text, int line, int column) {
  YamlNode node;
  node.kind = YamlNode::Kind::scalar, node.line = line, node.column = column, node.scalar = std::move(text);
  return node;
}

/// A line of the file as a map, so that it is read like one in YAML.
YamlNode row_of(const std::vector<Cell>& header, const std::vector<Cell>& cells, int line) {
  YamlNode row;
  row.kind = YamlNode::Kind::map, row.line = line, row.column = 1;
  for (std::size_t k = 0; k < header.size(); ++k) {
    if (cells[k].text.empty()) continue;
    row.keys.push_back(node_of(header[k].text, line, cells[k].column));
    row.items.push_back(node_of(cells[k].text, line, cells[k].column));
  }
  return row;
}

}  // namespace

std::string_view compass_point(double from_rad) {
  const long point = std::lround(deg_from_rad(from_rad) / 22.5);
  return compass_points[static_cast<std::size_t>(((point % 16) + 16) % 16)];
}

std::vector<ForecastPoint> read_forecast_csv(const std::string& path, Faults& faults) {
  std::string text;
  try {
    text = read_whole_file(path, most_csv_bytes);
  } catch (const InputFault& fault) {
    for (const Fault& one : fault.faults()) faults.add(one);
    return {};
  }
  if (const int line = line_of_bad_text(text)) {
    faults.add({path, line, 0, "", "found bytes that are not UTF-8 text, expected a CSV file"});
    return {};
  }
  const std::size_t faults_before = faults.count();
  std::vector<Cell> header;
  YamlNode rows;
  rows.kind = YamlNode::Kind::list;
  int line = 0;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t end = std::min(text.find('\n', from), text.size());
    std::string_view all = std::string_view(text).substr(from, end - from);
    from = end + 1, ++line;
    if (!all.empty() && all.back() == '\r') all.remove_suffix(1);
    if (all.find_first_not_of(" \t") == std::string_view::npos || all.front() == '#') continue;
    const std::vector<Cell> cells = cells_of(all);
    if (header.empty()) {
      header = cells;
      if (!good_header(header, path, line, faults)) return {};
    } else if (cells.size() != header.size()) {
      faults.add({path, line, 0, "",
                  fmt::format("found {} values, expected {} as in the first line", cells.size(), header.size())});
    } else {
      rows.items.push_back(row_of(header, cells, line));
    }
  }
  if (faults.count() != faults_before) return {};
  if (rows.items.empty()) {
    faults.add({path, std::max(1, line), 0, "",
                "found no line of values, expected a line of column names and a line for each time"});
    return {};
  }
  const YamlFile file(path, "[]", faults);
  std::vector<YamlValue> items;
  for (const YamlNode& row : rows.items) items.emplace_back(file, &row, rows, "");
  std::vector<ForecastPoint> forecast = read_points(items);
  return faults.count() == faults_before ? forecast : std::vector<ForecastPoint>{};
}

void read_wind(const YamlValue& value, const NamedRoad& named, const Road& road, WindSettings& wind) {
  if (!value.given()) return;
  YamlMap map(value);
  const YamlValue stations = map["stations"];
  if (stations.given()) {
    for (const char* key : {"forecast", "from", "from_deg", "speed_mps", "speed_kmh", "gusts_mps", "gusts_kmh"})
      if (map[key].given()) map[key].fault("found beside stations, expected inside each of them");
    read_stations(stations, named, road, wind);
  } else {
    read_forecast_or_short(map, wind.forecast);
  }
  map.numbers(wind_fields(), wind);
  map["gusts"].choice(off_on, wind.gusts);
  map["yaw_drag"].choice(off_on, wind.yaw_drag);
  for (const YamlValue& item : map["shelter"].items()) wind.shelter.push_back(read_shelter(item, named));
  read_hills(map["hills"], named, road, wind);
}

}  // namespace leewheel
