/// One number for everything a run depends on. Structs are taken apart by structured bindings, which must name every member:
/// a member that is added to one of them and forgotten here does not compile. Structs of doubles alone are walked by their
/// tables of fields; tests/plan/scenario_digest_test.cpp holds that no member of those lacks a row.

#include <bit>
#include <optional>
#include <span>
#include <string>
#include <type_traits>
#include <vector>

#include "leewheel/chance.hpp"
#include "leewheel/ensemble.hpp"

namespace leewheel {

namespace {

struct Digest {
  std::uint64_t bits = 0xcbf29ce484222325u;

  void add(std::uint64_t value) { bits = mix64(bits ^ value); }
  void add(double value) { add(std::bit_cast<std::uint64_t>(value)); }
  void add(const std::string& text) { add(hash_name(text)); }
  template <class Whole>
  requires std::is_integral_v<Whole> || std::is_enum_v<Whole>
  void add(Whole value) { add(static_cast<std::uint64_t>(value)); }
  template <class Value>
  void add(const std::optional<Value>& value) {
    add(value.has_value());
    if (value) add(*value);
  }
  template <class Value>
  void add(const std::vector<Value>& values) {
    add(values.size());
    for (const Value& value : values) add(value);
  }
  template <class... Values>
  void add_each(const Values&... values) {
    (add(values), ...);
  }
  template <class Settings>
  void add_fields(std::span<const NumberField<Settings>> fields, const Settings& settings) {
    for (const auto& field : fields) add(settings.*field.member);
  }

  void add(const Landmark& mark) {
    const auto& [name, distance_m, water] = mark;  // water moves no rider
    add_each(name, distance_m);
  }
  void add(const Road& road) {
    const auto& [spacing_m, elevation_m, heading_rad, rolling, width_m, exposure_left, exposure_right, abreast, closed,
                 landmarks, named, latitude_rad, longitude_rad, has_position] = road.profile();
    add_each(spacing_m, elevation_m, heading_rad, rolling, width_m, exposure_left, exposure_right, abreast, closed,
             landmarks, latitude_rad, longitude_rad, has_position);  // `named` moves no rider
  }
  void add(const AirState& air) {
    const auto& [temperature_C, pressure_Pa, humidity_fraction] = air;
    add_each(temperature_C, pressure_Pa, humidity_fraction);
  }
  void add(const ForecastPoint& point) {
    const auto& [time_s, speed_mps, from_rad, gust_mps, temperature_C, pressure_Pa, humidity_fraction] = point;
    add_each(time_s, speed_mps, from_rad, gust_mps, temperature_C, pressure_Pa, humidity_fraction);
  }
  void add(const WindStation& station) {
    const auto& [name, east_m, north_m, forecast] = station;
    add_each(name, east_m, north_m, forecast);
  }
  void add(const Windbreak& belt) {
    const auto& [from_m, to_m, side, kind, height_m, distance_m] = belt;
    add_each(from_m, to_m, side, kind, height_m, distance_m);
  }
  void add(const RoadHill& hill) {
    const auto& [crest_m, height_before_m, length_before_m, height_behind_m, length_behind_m, across_rad, from_m, to_m,
                 cliff] = hill;
    add_each(crest_m, height_before_m, length_before_m, height_behind_m, length_behind_m, across_rad, from_m, to_m, cliff);
  }
  void add(const WindSettings& wind) {
    const auto& [forecast, stations, height_m, rider_height_m, change_length_m, windbreaks, hills, hills_from_road, gusts,
                 gust_length_m, yaw_drag, side_area_m2, side_force_caution_N] = wind;
    add_each(forecast, stations, height_m, rider_height_m, change_length_m, windbreaks, hills, hills_from_road, gusts,
             gust_length_m, yaw_drag, side_area_m2, side_force_caution_N);
  }
  void add(const RiderSettings& rider) {
    using R = RiderSettings;
    add(rider.name);
    for (const auto& field : rider_fields()) {
      const bool spread = field.member == &R::critical_power_spread || field.member == &R::w_prime_spread;
      if (!spread || rider.*field.member > 0.0) add(rider.*field.member);  // runs kept before there were spreads stay good
    }
  }
  void add(const PlanStep& step) {
    const auto& [from_m, effort] = step;
    add_each(from_m, effort);
  }
  void add(const PlannedStop& stop) {
    const auto& [at_m, stop_s, what] = stop;
    add_each(at_m, stop_s, what);
  }
  void add(const OnTheWay& rider) {
    const auto& [name, at_m, wbal_share] = rider;
    add_each(name, at_m, wbal_share);
  }
  void add(const RideSettings& ride) {
    const auto& [kind, formation, step_s, wake_interval_s, record_interval_s, time_limit_s, start_speed_mps, start_gap_m,
                 start_abreast, start_order, regroup_at_m, stops, on_the_way, keep_right, closed_road, fatigue, recovery_law,
                 seed] = ride;
    add_each(kind, formation, step_s, wake_interval_s, record_interval_s, time_limit_s, start_speed_mps, start_gap_m,
             start_abreast, start_order, regroup_at_m, keep_right, closed_road, fatigue, recovery_law, seed);
    if (!stops.empty()) add(stops);  // runs kept before there were stops stay good
    if (!on_the_way.empty()) add(on_the_way);
  }
  void add(const HeatSettings& heat) {
    const auto& [on, sun_C, warming_s, acclimatised] = heat;
    if (on) add_each(on, sun_C, warming_s, acclimatised);  // runs kept before there was heat stay good
  }
  void add(const Instruction& instruction) {
    const auto& [rider, from_m, to_m, choice] = instruction;
    add_each(rider, from_m, to_m, choice);
  }
};

}  // namespace

std::uint64_t scenario_digest(const Scenario& scenario) {
  const auto& [title, question, finding, road, air, air_station_altitude_m, gravity_mps2, wind, riders, plans, ride, tactics,
               groups, wake, uncertainty, instructions, rests_on, heat, start, survey] =
      scenario;  // words, the clock and what is worked out ahead change no ride
  Digest digest;
  digest.add_each(road, air, air_station_altitude_m, gravity_mps2, wind, riders, plans, ride, instructions);
  digest.add(heat);
  digest.add_fields(tactics_fields(), tactics);
  digest.add_fields(group_fields(), groups);
  if (wake.index() != 0) digest.add(std::string(wake_law_names[wake.index()]));
  std::visit([&](const auto& law) { digest.add_fields(law.fields(), law); }, wake);
  digest.add_fields(uncertainty_fields(), uncertainty);
  return digest.bits;
}

}  // namespace leewheel
