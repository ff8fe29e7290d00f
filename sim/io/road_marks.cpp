/// Exposure, surface, width and room marked by ranges, and landmarks.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/road_parts.hpp"

namespace leewheel {

namespace {

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
    map["water"].choice(no_yes, mark.water);
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

}  // namespace

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

}  // namespace leewheel
