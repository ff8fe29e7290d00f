#include "io/road_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "io/road_section.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

constexpr double grid_m = 1.0;  // of a road inside the program
constexpr double longest_road_m = 500e3;
constexpr Range elevation_range{-430.0, 6000.0};
constexpr Range heading_range{-360.0, 360.0};
constexpr Range width_range{2.0, 40.0};
constexpr long most_abreast = 4;
constexpr std::array<std::string_view, 2> no_yes{"no", "yes"};

// --- stretches -------------------------------------------------------------------------------------------------

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
  return NamedRoad{profile_from_stretches(stretches, start_elevation_m, grid_m), std::move(places), true};
}

// --- sampled line ----------------------------------------------------------------------------------------------

std::vector<double> read_series(const YamlValue& list, const Range& range) {
  std::vector<double> values;
  for (const YamlValue& item : list.items()) {
    values.push_back(0.0);
    item.number(range, values.back());
  }
  return values;
}

/// Cubic through four neighbours (Catmull & Rom 1974), so that grade does not jump at the samples; linear in the last
/// cell, which may be shorter than the others.
double between(const std::vector<double>& y, double position) {
  const auto last = static_cast<double>(y.size() - 1);
  const auto i = static_cast<std::size_t>(std::clamp(std::floor(position), 0.0, last - 1.0));
  const double t = position - static_cast<double>(i);
  const double here = y[i], next = y[i + 1];
  if (i == 0 || i + 2 >= y.size() - 1) return here + t * (next - here);
  const double m0 = 0.5 * (next - y[i - 1]), m1 = 0.5 * (y[i + 2] - here), t2 = t * t, t3 = t2 * t;
  return (2 * t3 - 3 * t2 + 1) * here + (t3 - 2 * t2 + t) * m0 + (3 * t2 - 2 * t3) * next + (t3 - t2) * m1;
}

/// Makes each heading lie within half a turn of the one before, so that headings can be interpolated.
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

// --- marks -----------------------------------------------------------------------------------------------------

/// Grid points of a range; both ends default to the road's.
std::pair<std::size_t, std::size_t> read_range(YamlMap& map, const NamedRoad& road) {
  double from_m = 0.0, to_m = road.length_m();
  const YamlValue to = map["to_m"];
  map["from_m"].number({0.0, road.length_m()}, from_m);
  if (to.number({0.0, road.length_m()}, to_m) && to_m <= from_m)
    to.refuse(fmt::format("a number above from_m, which is {:g} m", from_m));
  const auto point = [&](double distance_m) {
    return static_cast<std::size_t>(std::lround(distance_m / road.profile.spacing_m));
  };
  const std::size_t points = road.profile.elevation_m.size();
  return {point(from_m), to_m >= road.length_m() ? points : point(to_m)};
}

template <class Value>
void fill(std::vector<Value>& column, std::pair<std::size_t, std::size_t> range, Value value) {
  for (std::size_t i = range.first; i < std::min(range.second, column.size()); ++i) column[i] = value;
}

void read_exposure_mark(const YamlValue& item, NamedRoad& road) {
  YamlMap map(item);
  const auto range = read_range(map, road);
  const YamlValue is = map["is"], left = map["left"], right = map["right"];
  if (is.given() == (left.given() || right.given()))
    item.fault(is.given() ? "found is beside left or right, expected one way"
                          : "missing is, or left and right, expected an exposure");
  Exposure on_left{}, on_right{};
  const bool both = is.choice(exposure_names, on_left);
  if (both) on_right = on_left;
  if (both || left.choice(exposure_names, on_left)) fill(road.profile.exposure_left, range, on_left);
  if (both || right.choice(exposure_names, on_right)) fill(road.profile.exposure_right, range, on_right);
}

void read_landmarks(const YamlValue& list, NamedRoad& road) {
  for (const YamlValue& item : list.items()) {
    YamlMap map(item);
    Landmark mark;
    const YamlValue name = map.require("name", "a name");
    const bool named = name.name(mark.name);
    const bool placed = map.require("at_m", "the distance along the road").number({0.0, road.length_m()}, mark.distance_m);
    if (named && (mark.name == "start" || mark.name == "finish"))
      name.refuse("another name; start and finish are every road's ends");
    for (const Landmark& other : road.profile.landmarks)
      if (named && other.name == mark.name) name.refuse("a name that no other landmark has");
    if (named && placed) {
      road.profile.landmarks.push_back(mark);
      road.places.push_back(mark);
    }
  }
  std::stable_sort(road.profile.landmarks.begin(), road.profile.landmarks.end(),
                   [](const Landmark& a, const Landmark& b) { return a.distance_m < b.distance_m; });
}

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

void read_marks(YamlMap& map, NamedRoad& road) {
  for (const YamlValue& item : map["exposure"].items()) read_exposure_mark(item, road);
  for (const YamlValue& item : map["surface"].items()) {
    YamlMap mark(item);
    const auto range = read_range(mark, road);
    Surface surface{};
    if (mark.require("is", "a surface").choice(surface_names, surface))
      fill(road.profile.rolling, range, rolling_coefficient(surface));
  }
  for (const YamlValue& item : map["width_m"].items()) {
    YamlMap mark(item);
    const auto range = read_range(mark, road);
    double width_m = 0.0;
    if (mark.require("is", "a width in m").number(width_range, width_m)) fill(road.profile.width_m, range, width_m);
  }
  for (const YamlValue& item : map["abreast"].items()) {
    YamlMap mark(item);
    const auto range = read_range(mark, road);
    long abreast = 1;
    if (mark.require("is", "riders side by side").whole(1, most_abreast, abreast))
      fill(road.profile.abreast, range, static_cast<std::uint8_t>(abreast));
  }
  for (const YamlValue& item : map["closed"].items()) {
    YamlMap mark(item);
    const auto range = read_range(mark, road);
    bool closed = false;
    if (mark.require("is", "yes or no").choice(no_yes, closed)) {
      road.profile.closed.resize(road.profile.elevation_m.size(), 0);
      fill(road.profile.closed, range, static_cast<std::uint8_t>(closed));
    }
  }
  read_landmarks(map["landmarks"], road);
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
  if (!road.known) return false;
  std::vector<std::string> names{"start", "finish"};
  for (const Landmark& place : road.places) names.push_back(place.name);
  const std::string nearest = nearest_name(name, names);
  if (found.size() > 1)
    value.refuse(fmt::format("metres: that name stands at {:g} and at {:g} m", found[0], found[1]));
  else
    value.refuse(nearest.empty() ? fmt::format("metres, or a place on the road: {}", fmt::join(names, ", "))
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

// --- writing ---------------------------------------------------------------------------------------------------

namespace {

constexpr double written_spacing_m = 10.0;

/// A name as YAML text, whatever stands in it.
std::string quoted(const std::string& name) {
  std::string text = "\"";
  for (const char c : name) {
    if (c == '"' || c == '\\') text += '\\';
    text += c == '\n' || c == '\r' || c == '\t' ? ' ' : c;
  }
  return text + "\"";
}

/// "  key: [..]" wrapped to readable lines.
void write_list(std::string& text, const char* key, const std::vector<std::string>& values) {
  std::string line = fmt::format("  {}: [", key);
  for (std::size_t i = 0; i < values.size(); ++i) {
    const std::string word = values[i] + (i + 1 < values.size() ? "," : "]");
    if (line.size() + word.size() > 110) {
      text += line + "\n";
      line = "   ";
    }
    line += (line.back() == '[' ? "" : " ") + word;
  }
  text += line + "\n";
}

/// Ranges of equal values, one line each; `shown_as(i)` is what to write for grid point i.
template <class Shown>
void write_ranges(std::string& text, const char* key, const RoadProfile& profile, const Shown& shown_as) {
  text += fmt::format("{}:\n", key);
  const std::size_t points = profile.elevation_m.size();
  for (std::size_t from = 0, to = 0; from < points; from = to) {
    const std::string value = shown_as(from);
    while (to < points && shown_as(to) == value) ++to;
    text += fmt::format("  - {{from_m: {:.0f}, ", static_cast<double>(from) * profile.spacing_m);
    if (to < points) text += fmt::format("to_m: {:.0f}, ", static_cast<double>(to) * profile.spacing_m);
    text += value + "}\n";
  }
}

std::string exposure_shown(Exposure left, Exposure right) {
  const auto name = [](Exposure exposure) { return exposure_names[static_cast<std::size_t>(exposure)]; };
  return left == right ? fmt::format("is: {}", name(left)) : fmt::format("left: {}, right: {}", name(left), name(right));
}

std::string_view surface_of(double rolling) {
  std::size_t nearest = 0;
  const auto error = [&](std::size_t i) { return std::abs(rolling_coefficient(static_cast<Surface>(i)) - rolling); };
  for (std::size_t i = 1; i < surface_names.size(); ++i)
    if (error(i) < error(nearest)) nearest = i;
  return surface_names[nearest];
}

void write_line(std::string& text, const RoadProfile& profile) {
  const double length_m = static_cast<double>(profile.elevation_m.size() - 1) * profile.spacing_m;
  const auto samples = static_cast<std::size_t>(std::max(2.0, std::ceil(length_m / written_spacing_m - 1e-6)));
  const double spacing_m = std::min(written_spacing_m, length_m / 2.0);
  std::vector<double> turned_rad = profile.heading_rad;
  unwrap(turned_rad);
  std::vector<std::string> elevation, heading;
  for (std::size_t i = 0; i <= samples; ++i) {
    const double position = std::min(static_cast<double>(i) * spacing_m, length_m) / profile.spacing_m;
    elevation.push_back(fmt::format("{:.2f}", between(profile.elevation_m, position)));
    const double heading_deg = std::fmod(deg_from_rad(between(turned_rad, position)), 360.0);
    heading.push_back(fmt::format("{:.1f}", heading_deg < 0.0 ? heading_deg + 360.0 : heading_deg));
  }
  text += fmt::format("line:\n  spacing_m: {:g}\n  length_m: {:.3f}\n", spacing_m, length_m);
  write_list(text, "elevation_m", elevation);
  write_list(text, "heading_deg", heading);
}

}  // namespace

std::string road_yaml(const RoadProfile& profile, const std::string& comment) {
  std::string text;
  for (std::size_t from = 0; from < comment.size();) {
    const std::size_t end = std::min(comment.find('\n', from), comment.size());
    text += "# " + comment.substr(from, end - from) + "\n";
    from = end + 1;
  }
  if (profile.has_position)
    text += fmt::format("position: {{latitude_deg: {:.6f}, longitude_deg: {:.6f}}}\n", deg_from_rad(profile.latitude_rad),
                        deg_from_rad(profile.longitude_rad));
  const auto points = [&](const auto& column) { return [&](std::size_t i) { return fmt::format("is: {}", column[i]); }; };
  text += fmt::format("# exposure: {}\n", listed(exposure_names));
  write_ranges(text, "exposure", profile,
               [&](std::size_t i) { return exposure_shown(profile.exposure_left[i], profile.exposure_right[i]); });
  text += fmt::format("# surface: {}\n", listed(surface_names));
  write_ranges(text, "surface", profile,
               [&](std::size_t i) { return fmt::format("is: {}", surface_of(profile.rolling[i])); });
  write_ranges(text, "width_m", profile, points(profile.width_m));
  write_ranges(text, "abreast", profile, points(profile.abreast));
  if (std::find(profile.closed.begin(), profile.closed.end(), 1) != profile.closed.end())
    write_ranges(text, "closed", profile, [&](std::size_t i) { return fmt::format("is: {}", no_yes[profile.closed[i]]); });
  text += profile.landmarks.empty() ? "landmarks: []\n" : "landmarks:\n";
  for (const Landmark& mark : profile.landmarks)
    text += fmt::format("  - {{name: {}, at_m: {:.1f}}}\n", quoted(mark.name), mark.distance_m);
  write_line(text, profile);
  return text;
}

}  // namespace leewheel
