#include "io/scenario_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/file_kind.hpp"
#include "io/learned_file.hpp"
#include "io/now_file.hpp"
#include "io/old_names.hpp"
#include "io/riders_section.hpp"
#include "io/road_section.hpp"
#include "io/wind_section.hpp"
#include "leewheel/from_here.hpp"
#include "leewheel/units.hpp"
#include "leewheel/wake.hpp"

namespace leewheel {

namespace {

constexpr std::size_t most_text_bytes = 16u << 20;
constexpr Range altitude_range{-430.0, 6000.0};

// --- air ----------------------------------------------------------------------------------------------

void read_air(const YamlValue& value, Scenario& scenario) {
  scenario.air_station_altitude_m = scenario.road.elevation_m(0.0);
  YamlMap map(value);
  map["station_altitude_m"].number(altitude_range, scenario.air_station_altitude_m);
  double humidity_percent = 100.0 * scenario.air.humidity_fraction;
  double pressure_hPa = standard_pressure_Pa(scenario.air_station_altitude_m) / 100.0;
  // What the air section does not tell is that of the standard atmosphere at the station's altitude (ISO 2533).
  scenario.air.temperature_C = standard_temperature_K(scenario.air_station_altitude_m) - kelvin_at_0C;
  map["temperature_C"].number({-30.0, 50.0}, scenario.air.temperature_C);
  map["pressure_hPa"].number({450.0, 1100.0}, pressure_hPa);
  map["humidity_percent"].number({0.0, 100.0}, humidity_percent);
  scenario.air.pressure_Pa = 100.0 * pressure_hPa;
  scenario.air.humidity_fraction = humidity_percent / 100.0;
}

// --- ride ------------------------------------------------------------------------------------------------------

void read_order(const YamlValue& list, Scenario& scenario) {
  std::vector<std::string> names;
  for (const RiderSettings& rider : scenario.riders) names.push_back(rider.name);
  std::vector<std::string>& order = scenario.ride.start_order;
  for (const YamlValue& item : list.items()) {
    std::string name;
    if (!item.text(name)) continue;
    if (std::find(order.begin(), order.end(), name) != order.end())
      item.refuse("each rider once");
    else if (std::find(names.begin(), names.end(), name) == names.end()) {
      const std::string nearest = nearest_name(name, names);
      item.refuse(nearest.empty() ? fmt::format("a rider: {}", fmt::join(names, ", ")) : "'" + nearest + "'");
    } else
      order.push_back(name);
  }
}

void read_stops(const YamlValue& list, const NamedRoad& road, std::vector<PlannedStop>& stops) {
  for (const YamlValue& item : list.items()) {
    YamlMap map(item);
    PlannedStop stop{};
    double stop_min = 0.0;
    const YamlValue at = map.require("at", "a place or metres");
    const bool placed = read_distance(at, road, stop.at_m);
    if (map.require("stop_min", "the length of the stop").number({0.0, 240.0, true}, stop_min))
      stop.stop_s = 60.0 * stop_min;
    map["for"].name(stop.what);
    for (const PlannedStop& other : stops)
      if (placed && std::abs(other.at_m - stop.at_m) < 100.0) at.refuse("a place 100 m or more from every other stop");
    if (placed) stops.push_back(stop);
  }
  std::sort(stops.begin(), stops.end(), [](const PlannedStop& a, const PlannedStop& b) { return a.at_m < b.at_m; });
}

void read_ride(const YamlValue& value, const NamedRoad& road, Scenario& scenario) {
  YamlMap map(value);
  RideSettings& ride = scenario.ride;
  map["kind"].choice(ride_kind_names, ride.kind);
  map["formation"].choice(formation_names, ride.formation);
  map["recovery_law"].choice(recovery_law_names, ride.recovery_law);
  static constexpr std::array<std::string_view, 2> no_yes{"no", "yes"};
  map["closed_road"].choice(no_yes, ride.closed_road);
  map["fatigue"].choice(no_yes, ride.fatigue);
  static constexpr std::array<std::string_view, 2> sides{"left", "right"};
  map["keep"].choice(sides, ride.keep_right);
  map.numbers(ride_fields(), ride);
  long start_abreast = ride.start_abreast, seed = static_cast<long>(ride.seed), abreast = 0;
  map["start_abreast"].whole(1, 4, start_abreast);
  map["seed"].whole(0, std::numeric_limits<long>::max(), seed);
  if (map["abreast"].whole(1, 4, abreast)) {
    RoadProfile profile = scenario.road.profile();
    profile.abreast.assign(profile.abreast.size(), static_cast<std::uint8_t>(abreast));
    scenario.road = Road(std::move(profile));
  }
  ride.start_abreast = static_cast<int>(start_abreast);
  ride.seed = static_cast<std::uint64_t>(seed);
  read_order(map["start_order"], scenario);
  read_stops(map["stops"], road, ride.stops);
  for (const YamlValue& item : map["regroup_at"].items())
    if (double distance_m = 0.0; read_distance(item, road, distance_m)) ride.regroup_at_m.push_back(distance_m);
  std::sort(ride.regroup_at_m.begin(), ride.regroup_at_m.end());
  ride.regroup_at_m.erase(std::unique(ride.regroup_at_m.begin(), ride.regroup_at_m.end()), ride.regroup_at_m.end());
}

/// `yes`, or the numbers, which mean yes.
void read_heat(const YamlValue& value, HeatSettings& heat) {
  static constexpr std::array<std::string_view, 2> no_yes{"no", "yes"};
  if (!value.is_map()) {
    value.choice(no_yes, heat.on);
    return;
  }
  YamlMap map(value);
  map.numbers(heat_fields(), heat);
  heat.on = true;
}

/// The first of the start line must still have road ahead.
void check_start_line(const YamlValue& road, const Scenario& scenario) {
  const auto abreast = static_cast<std::size_t>(std::max(1, scenario.ride.start_abreast));
  const std::size_t rows = (scenario.riders.size() + abreast - 1) / abreast;
  if (rows == 0) return;
  const double gap_m = scenario.ride.kind == RideKind::by_strength ? scenario.tactics.second_group_gap_m : 0.0,
               line_m = static_cast<double>(rows - 1) * (bicycle_length_m + scenario.ride.start_gap_m) + gap_m;
  if (line_m >= scenario.road.length_m())
    road.fault(fmt::format("found {:.0f} m of road, expected more than the start line of its riders, {:.0f} m",
                           scenario.road.length_m(), line_m));
}

template <class Settings>
void read_numbers(const YamlValue& value, std::span<const NumberField<Settings>> fields, Settings& into) {
  YamlMap map(value);
  map.numbers(fields, into);
}

/// The law by its name, then its own numbers.
void read_wake_law(const YamlValue& value, WakeLaw& law) {
  YamlMap map(value);
  const YamlValue named = map["law"];
  if (std::string name; named.text(name)) {
    const auto found = std::find(wake_law_names.begin(), wake_law_names.end(), name);
    if (found != wake_law_names.end())
      law = wake_law(static_cast<std::size_t>(found - wake_law_names.begin()));
    else {
      const std::string nearest = nearest_name(name, {wake_law_names.begin(), wake_law_names.end()});
      named.refuse(nearest.empty() ? fmt::format("one of {}", fmt::join(wake_law_names, ", ")) : "'" + nearest + "'");
    }
  }
  std::visit([&](auto& own) { map.numbers(own.fields(), own); }, law);
}

void read_rest(YamlMap& map, const NamedRoad& road, Scenario& scenario) {
  if (!map["gravity_mps2"].number({9.7, 9.9}, scenario.gravity_mps2) && road.profile.has_position)
    scenario.gravity_mps2 = normal_gravity_mps2(road.profile.latitude_rad);
  scenario.start = read_start(map["start"]);
  read_air(map["air"], scenario);
  read_heat(map["heat"], scenario.heat);
  read_wind(map["wind"], road, scenario.road, scenario.start, scenario.wind);
  read_riders(map, road, scenario);
  lay_learned(map["learned"], scenario.riders);
  read_ride(map["ride"], road, scenario);
  read_numbers(map["behaviour"], tactics_fields(), scenario.tactics);
  read_numbers(map["groups"], group_fields(), scenario.groups);
  read_wake_law(map["wake"], scenario.wake);
  read_numbers(map["uncertainty"], uncertainty_fields(), scenario.uncertainty);
}

/// With a state of `lineup --now` the scenario is the rest of the ride from there.
Scenario rest_if_under_way(const YamlValue& now, Scenario scenario) {
  std::string path;
  Faults& faults = now.file().faults();
  if (!now.given() || !now.neighbour(path) || faults.count() > 0) return scenario;
  try {
    return from_here(scenario, read_now(path, scenario)).scenario;
  } catch (const InputFault& fault) {
    for (const Fault& one : fault.faults()) faults.add(one);
    return scenario;
  }
}

Scenario read_root(const YamlValue& root) {
  YamlMap map(root);
  std::string title, question, finding;
  map.require("title", "a title").text(title);
  map["question"].text(question);
  map["finding"].text(finding);
  std::optional<NamedRoad> road = read_road_part(map.require("road", "a road"));
  const bool has_road = road.has_value();
  if (!has_road) road = stand_in_road();
  Scenario scenario{.title = title,
                    .question = question,
                    .finding = finding,
                    .road = Road(road->profile),
                    .air = {},
                    .wind = {},
                    .riders = {},
                    .plans = {},
                    .ride = {},
                    .tactics = {},
                    .groups = {},
                    .wake = {}};
  read_rest(map, *road, scenario);
  if (has_road) check_start_line(map["road"], scenario);
  return rest_if_under_way(map["now"], std::move(scenario));
}

}  // namespace

Scenario read_scenario(const std::string& path, std::vector<Fault>* remarks) {
  const std::string text = read_text(path);
  if (kind_of(text) == FileKind::gpx)
    throw InputFault({path, 0, 0, "", "found a recorded track, expected a scenario: leewheel new makes one of a track"});
  Faults faults;
  YamlFile file(path, text, faults);
  faults.throw_if_any();
  const std::vector<Fault> renamed = rename_old_keys(file.tree(), path, faults);
  faults.throw_if_any();
  if (remarks) *remarks = renamed;
  if (!file.root().is_map()) {
    file.root().refuse("a mapping of keys to values");
    faults.throw_if_any();
  }
  Scenario scenario = read_root(file.root());
  faults.throw_if_any();
  return with_named_waits(std::move(scenario));
}

std::string read_text(const std::string& path) { return read_whole_file(path, most_text_bytes); }

}  // namespace leewheel
