#include "support/scenes.hpp"

#include <bit>
#include <cmath>
#include <numbers>
#include <random>

#include "leewheel/units.hpp"

namespace leewheel::scenes {

namespace {

Stretch plain_stretch(double length_m, double grade) {
  Stretch stretch;
  stretch.length_m = length_m;
  stretch.grade = grade;
  stretch.surface = Surface::smooth_asphalt;
  return stretch;
}

/// The generator's own bits only: the standard's distributions differ between libraries.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : bits_(seed) {}
  double between(double low, double high) { return low + (high - low) * (static_cast<double>(bits_() >> 11) * 0x1.0p-53); }
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(bits_() % count); }
  template <class T>
  T one_of(std::initializer_list<T> values) {
    return *(values.begin() + below(values.size()));
  }

 private:
  std::mt19937_64 bits_;
};

Road random_road(Dice& dice) {
  std::vector<Stretch> stretches(2 + dice.below(6));
  for (Stretch& s : stretches) {
    s.length_m = dice.between(80.0, 500.0);
    s.grade = dice.between(-0.12, 0.14);
    s.bend_radius_m = dice.below(2) ? dice.between(15.0, 200.0) * dice.one_of({-1.0, 1.0}) : 0.0;
    s.exposure_left = static_cast<Exposure>(dice.below(exposure_names.size()));
    s.exposure_right = static_cast<Exposure>(dice.below(exposure_names.size()));
    s.surface = static_cast<Surface>(dice.below(surface_names.size()));
    s.width_m = dice.between(4.0, 8.0);
  }
  stretches.front().grade = dice.between(-0.03, 0.08);
  stretches.front().has_heading = true;
  stretches.front().heading_rad = dice.between(0.0, 6.28);
  return Road(profile_from_stretches(stretches, dice.between(0.0, 1500.0)));
}

RiderSettings random_rider(Dice& dice, std::size_t k) {
  RiderSettings r;
  r.name = std::string("rider ") + static_cast<char>('a' + k);
  r.body_mass_kg = dice.between(45.0, 110.0);
  r.critical_power_W = dice.between(130.0, 380.0);
  r.w_prime_J = dice.between(6000.0, 28000.0);
  r.peak_power_W = r.critical_power_W + dice.between(200.0, 800.0);
  r.drag_area_hoods_m2 = dice.between(0.26, 0.45);
  r.drag_area_drops_m2 = 0.92 * r.drag_area_hoods_m2;
  r.drag_area_upright_m2 = 1.08 * r.drag_area_hoods_m2;
  r.wheel_skill = dice.between(0.0, 1.0);
  r.target_effort = dice.between(0.6, 1.05);
  return r;
}

struct Fnv {
  std::uint64_t hash = 0xcbf29ce484222325u;
  void add(std::uint64_t bits) { hash = (hash ^ bits) * 0x100000001b3u; }
  void add(double value) { add(std::bit_cast<std::uint64_t>(value)); }
  void add(float value) { add(static_cast<std::uint64_t>(std::bit_cast<std::uint32_t>(value))); }
};

}  // namespace

Road flat_road(double length_m) { return constant_grade(length_m, 0.0); }

Road constant_grade(double length_m, double grade, Exposure exposure) {
  Stretch stretch = plain_stretch(length_m, grade);
  stretch.exposure_left = stretch.exposure_right = exposure;
  return Road(profile_from_stretches({stretch}, 0.0));
}

Road grades(const std::vector<double>& grades, double each_m) {
  std::vector<Stretch> stretches;
  for (const double grade : grades) stretches.push_back(plain_stretch(each_m, grade));
  return Road(profile_from_stretches(stretches, 0.0));
}

Road smooth_hills(double length_m) {
  RoadProfile p = profile_from_stretches({plain_stretch(length_m, 0.0)}, 0.0);
  const double turn = 2.0 * std::numbers::pi;
  for (std::size_t k = 0; k < p.elevation_m.size(); ++k) {
    const double x = static_cast<double>(k) * p.spacing_m;
    p.elevation_m[k] = 0.012 * x + 14.0 * (1.0 - std::cos(turn * x / 1600.0)) + 3.0 * std::sin(turn * x / 700.0);
    p.heading_rad[k] = std::fmod(1.0 + 0.5 * std::sin(turn * x / 2500.0), turn);
    if (x > 0.4 * length_m && x < 0.6 * length_m) p.exposure_left[k] = p.exposure_right[k] = Exposure::wood;
  }
  return Road(std::move(p));
}

Road with_landmarks(const Road& road, const std::vector<double>& at_m) {
  RoadProfile profile = road.profile();
  profile.landmarks.clear();
  for (const double x : at_m) profile.landmarks.push_back({"at " + std::to_string(x), x});
  return Road(std::move(profile));
}

RiderSettings plain_rider(const std::string& name, double critical_power_W) {
  RiderSettings r;
  r.name = name;
  r.body_mass_kg = 72.0, r.kit_mass_kg = 3.0, r.bike_mass_kg = 8.0;
  r.critical_power_W = critical_power_W;
  r.drag_area_hoods_m2 = r.drag_area_drops_m2 = r.drag_area_upright_m2 = 0.32;
  r.wheel_drag_area_m2 = r.wheel_inertia_kgm2 = 0.0;
  r.target_effort = 1.0;
  return r;
}

std::vector<RiderSettings> club(std::size_t count) {
  std::vector<RiderSettings> riders(count);
  for (std::size_t k = 0; k < count; ++k) {
    const double u = std::fmod(0.5 + 0.618034 * static_cast<double>(k), 1.0),
                 w = std::fmod(0.75488 * static_cast<double>(k), 1.0);
    const std::string digits = std::to_string(k);
    riders[k].name = "rider " + std::string(6 - digits.size(), '0') + digits;
    riders[k].body_mass_kg = 58.0 + 30.0 * u;
    riders[k].critical_power_W = (2.9 + 1.2 * w) * riders[k].body_mass_kg;
    riders[k].drag_area_hoods_m2 = 0.30 + 0.08 * u;
    riders[k].drag_area_drops_m2 = 0.92 * riders[k].drag_area_hoods_m2;
    riders[k].drag_area_upright_m2 = 1.08 * riders[k].drag_area_hoods_m2;
    riders[k].wheel_skill = w;
  }
  return riders;
}

AirState air_of_density(double density_kgpm3) {
  AirState air{.temperature_C = 15.0, .pressure_Pa = 101325.0, .humidity_fraction = 0.0};
  for (int round = 0; round < 20; ++round) air.pressure_Pa *= density_kgpm3 / air_density_kgpm3(air);
  return air;
}

Scenario scene(const Road& road, const std::vector<RiderSettings>& riders) {
  Scenario s{"", "", "", road, air_of_density(1.225), 0.0, standard_gravity_mps2, {}, riders, {}, {}, {}, {}, {}};
  s.tactics.effort_wobble = 0.0;
  s.tactics.descent_speed_mps = 100.0;
  return s;
}

void set_wind(Scenario& scenario, double speed_mps, double from_deg) {
  scenario.wind.forecast = {{0.0, speed_mps, rad_from_deg(from_deg)}};
}

void set_effort(Scenario& scenario, double share_of_critical) {
  scenario.plans.assign(scenario.riders.size(), {PlanStep{0.0, share_of_critical}});
}

Scenario random_scenario(std::uint64_t seed) {
  Dice dice(seed);
  std::vector<RiderSettings> riders(1 + dice.below(12));
  const Road road = random_road(dice);
  for (std::size_t k = 0; k < riders.size(); ++k) riders[k] = random_rider(dice, k);
  Scenario s = scene(road, riders);
  s.air = AirState{dice.between(-5.0, 35.0), dice.between(85000.0, 103000.0), dice.between(0.1, 1.0)};
  s.wind.forecast = {{0.0, dice.between(0.0, 12.0), dice.between(0.0, 6.28)},
                     {600.0, dice.between(0.0, 12.0), dice.between(0.0, 6.28)}};
  s.tactics = TacticsSettings{};
  s.tactics.turn_s = dice.between(8.0, 90.0);
  s.ride.kind = static_cast<RideKind>(dice.below(ride_kind_names.size()));
  s.ride.step_s = dice.one_of({0.02, 0.05, 0.1, 0.1, 0.2, 0.25, 0.5, 1.0});
  s.ride.wake_interval_s = std::max(s.ride.step_s, dice.one_of({0.1, 0.2, 0.5}));
  s.ride.start_speed_mps = dice.between(0.0, 8.0);
  s.ride.start_gap_m = dice.between(0.3, 4.0);
  s.ride.time_limit_s = 7200.0;
  s.ride.seed = seed;
  s.ride.keep_right = dice.below(2) == 0;
  if (dice.below(2) == 0) s.ride.regroup_at_m = {0.5 * road.length_m()};
  if (dice.below(4) == 0) s.ride.start_abreast = 2;
  return s;
}

Scenario mirrored(const Scenario& scenario) {
  Scenario s = scenario;
  RoadProfile p = s.road.profile();
  const double turn = 2.0 * std::numbers::pi;
  for (double& heading : p.heading_rad) heading = heading == 0.0 ? 0.0 : turn - heading;
  std::swap(p.exposure_left, p.exposure_right);
  s.road = Road(std::move(p));
  for (ForecastPoint& point : s.wind.forecast) point.from_rad = -point.from_rad;
  s.ride.keep_right = !s.ride.keep_right;
  return s;
}

std::uint64_t hash_of(const RideSample& sample) {
  Fnv fnv;
  fnv.add(sample.time_s);
  for (const SampleColumn& column : sample_columns())
    for (const float value : sample.*column.values) fnv.add(value);
  return fnv.hash;
}

std::uint64_t hash_of(const RideResult& result) {
  Fnv fnv;
  fnv.add(result.time_s);
  fnv.add(static_cast<std::uint64_t>(result.events.size()));
  for (const RiderResult& r : result.riders)
    for (const double value :
         {r.finish_time_s, r.distance_m, r.wbal_end_J, r.ledger.pedal_J, r.ledger.air_J, r.ledger.saved_J})
      fnv.add(value);
  return fnv.hash;
}

}  // namespace leewheel::scenes
