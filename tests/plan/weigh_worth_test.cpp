// What `weigh` calls a gain, beside closed forms and beside rides of the rider alone that it has no part in.

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "io/scenario_reader.hpp"
#include "leewheel/weigh.hpp"
#include "plan/weigh_solo.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

constexpr double density_kgpm3 = 1.225, drag_area_m2 = 0.32, mass_kg = 83.0, rolling = 0.004, efficiency = 0.976;

/// Power of the plain rider on a calm level road.
double level_power_W(double speed_mps, double drag_factor) {
  const double air_N = 0.5 * density_kgpm3 * drag_area_m2 * drag_factor * speed_mps * speed_mps;
  const double bearings_N = 0.091 + 0.0087 * speed_mps;  // Martin et al. 1998, eq. 10
  return (air_N + mass_kg * 9.80665 * rolling + bearings_N) * speed_mps / efficiency;
}
double level_speed_mps(double power_W) {
  double low = 0.1, high = 30.0;
  while (high - low > 1e-9) (level_power_W(0.5 * (low + high), 1.0) > power_W ? high : low) = 0.5 * (low + high);
  return low;
}

/// One day as it stands, the last rider of a calm level road.
constexpr double from_m = 2000.0, to_m = 8000.0;
Scenario level(const std::vector<double>& critical_powers_W, RideKind kind) {
  std::vector<RiderSettings> riders;
  for (const double power_W : critical_powers_W) {
    riders.push_back(scenes::plain_rider(std::string("rider ") + static_cast<char>('a' + riders.size()), power_W));
    riders.back().target_effort = 0.85;
  }
  Scenario s = scenes::scene(scenes::flat_road(9000.0), riders);
  s.ride.kind = kind;
  s.ride.formation = Formation::one_in_front;
  return s;
}
WayWeighed sitting_in(const Scenario& s, std::size_t rider, double from, double to) {
  const WeighSettings settings{{rider}, from, to, 1, 1};
  return weigh(s, settings, [](std::size_t) { return true; }).front().ways[way_of(Choice::sits_in)];
}

/// One rider between two marks, from samples of every step.
struct Measured {
  double time_s = 0.0, driving_W = 0.0, drag_factor = 0.0;  ///< driving: at the cranks, and the work of the speed lost
};
Measured measured(const Scenario& s, std::size_t rider, double from, double to) {
  Ride ride(s, {.notes_debts = false});
  RideSample now;
  double begins_s = -1.0, begins_J = 0.0, factors = 0.0, looks = 0.0;
  const RiderSettings& r = s.riders[rider];
  const double moving_kg = r.total_mass_kg() + r.wheel_inertia_kgm2 / (r.wheel_radius_m * r.wheel_radius_m);
  const auto speed_J = [&] {
    return 0.5 * moving_kg * now.speed_mps[rider] * now.speed_mps[rider] / r.drivetrain_efficiency;
  };
  for (;; ride.step()) {
    ride.sample(now);
    const double at_m = now.distance_m[rider], past_s = (at_m - (begins_s < 0.0 ? from : to)) / now.speed_mps[rider];
    if (begins_s < 0.0 && at_m >= from) {
      begins_s = now.time_s - past_s;
      begins_J = now.pedal_J[rider] - past_s * now.power_W[rider] - speed_J();
    } else if (begins_s >= 0.0 && at_m >= to) {
      const double time_s = now.time_s - past_s - begins_s;
      const double ends_J = now.pedal_J[rider] - past_s * now.power_W[rider] - speed_J();
      return {time_s, (ends_J - begins_J) / time_s, factors / looks};
    }
    if (begins_s >= 0.0) factors += now.drag_factor[rider], ++looks;
  }
}
Measured measured_sitting_in(Scenario s, std::size_t rider, double from, double to) {
  s.instructions = {{static_cast<std::uint32_t>(rider), from, to, Choice::sits_in}};
  return measured(s, rider, from, to);
}

/// Seconds of the rider alone at a mean driving power, by halving the interval of the effort.
double alone_at_power_s(const Scenario& s, std::size_t rider, double from, double to, double driving_W) {
  Scenario solo = alone(s, rider);
  solo.riders[0].w_prime_J = 1e9;
  const double own = solo.riders[0].target_effort;
  Measured ridden;
  for (double low = 0.2, high = 3.0; high - low > 1e-5;) {
    const double scale = 0.5 * (low + high);
    solo.plans = {{{0.0, own}, {from, own * scale}}};
    ridden = measured(solo, 0, from, to);
    (ridden.driving_W > driving_W ? high : low) = scale;
  }
  return ridden.time_s;
}

}  // namespace

TEST_CASE("behind an equal on a calm level road the watts saved are those of the drag saved", "[weigh][closed_form]") {
  const Scenario s = level({250.0, 250.0}, RideKind::together);
  const WayWeighed way = sitting_in(s, 1, from_m, to_m);
  const double speed_mps = (to_m - from_m) / way.time_s.mean;
  const double factor = measured_sitting_in(s, 1, from_m, to_m).drag_factor;
  REQUIRE(factor < 0.75);
  CHECK(way.power_W.mean == Approx(level_power_W(speed_mps, factor)).margin(0.1));
  CHECK(way.saved_W.mean == Approx(level_power_W(speed_mps, 1.0) - level_power_W(speed_mps, factor)).margin(0.1));
  CHECK(way.gain_s.mean == Approx((to_m - from_m) / level_speed_mps(way.power_W.mean) - way.time_s.mean).margin(1.0));
}

TEST_CASE("who only eases gains nothing: behind a slower rider whose wake saves nothing", "[weigh][closed_form]") {
  Scenario s = level({160.0, 280.0}, RideKind::together);
  wake_base(s.wake).wake_scale = 0.0;
  const WayWeighed way = sitting_in(s, 1, from_m, to_m);
  REQUIRE(way.behind_share > 0.9);
  REQUIRE(way.power_W.mean < 0.75 * 0.85 * 280.0);
  CHECK(std::abs(way.gain_s.mean) < 0.5);
  CHECK(std::abs(way.saved_W.mean) < 0.5);
}

TEST_CASE("with nobody else on the road every way gains nothing", "[weigh]") {
  const Scenario s = scenes::scene(scenes::smooth_hills(6000.0), {scenes::plain_rider("rider a", 240.0)});
  const Weighing w = weigh(s, {{0}, 0.0, 6000.0, 2, 1}, [](std::size_t) { return true; }).front();
  for (const WayWeighed& way : w.ways) {
    CHECK(way.days == 2);
    CHECK(way.gain_s.mean == Approx(0.0).margin(1e-6));
    CHECK(way.saved_W.mean == Approx(0.0).margin(1e-6));  // the speed made at the start is work of both
  }
  CHECK(w.verdict == Verdict::nobody_there);
}

TEST_CASE("a weak rider pulled along gains what the same higher power does not bring alone", "[weigh][closed_form]") {
  Scenario s = level({280.0, 170.0}, RideKind::free);
  s.tactics.hold_margin = 1.5;
  s.riders[1].w_prime_J = 40000.0;
  s.ride.start_speed_mps = 9.0;  // the acceleration of a start would shake the weak rider off
  const WayWeighed way = sitting_in(s, 1, from_m, to_m);
  REQUIRE(way.behind_share > 0.9);
  REQUIRE(way.power_W.mean > 0.85 * 170.0 + 10.0);
  CHECK(way.gain_s.mean == Approx((to_m - from_m) / level_speed_mps(way.power_W.mean) - way.time_s.mean).margin(1.5));
}

TEST_CASE("alone the same watts are ridden however long they last, and read both ways off one line",
          "[weigh][closed_form]") {
  Scenario s = level({170.0}, RideKind::free);
  s.riders[0].w_prime_J = 3000.0;
  SoloCurve curve(alone(s, 0), {from_m, to_m}, 0.85 * 170.0);
  curve.look_near_power(200.0);
  const std::optional<double> time_s = curve.time_s(200.0);
  REQUIRE(time_s);
  CHECK(*time_s == Approx((to_m - from_m) / level_speed_mps(200.0)).margin(0.5));
  CHECK(curve.power_W(*time_s).value() == Approx(200.0).margin(1e-9));
  CHECK(!curve.time_s(400.0));  // nobody has looked there
}

TEST_CASE("the rider alone meets the wind of the hour at which the group comes", "[weigh]") {
  Scenario s = level({250.0, 110.0}, RideKind::free);
  wake_base(s.wake).wake_scale = 0.0;
  s.ride.regroup_at_m = {2000.0};
  s.wind.forecast = {{0.0, 0.0, 0.0}, {900.0, 8.0, 0.0}};  // northwards into a rising northerly
  const RiderResult first = ride_to_end(s).riders[0];
  REQUIRE(first.waited_s > 60.0);
  const WeighSettings settings{{0}, 2000.0, 5000.0, 1, 1};
  const Weighing w = weigh(s, settings, [](std::size_t) { return true; }).front();
  CHECK(w.ways[as_planned].gain_s.mean == Approx(0.0).margin(2.0));
}

TEST_CASE("standing at a regroup point on the way counts nowhere", "[weigh]") {
  Scenario s = level({250.0, 110.0}, RideKind::free);
  wake_base(s.wake).wake_scale = 0.0;
  s.ride.regroup_at_m = {5000.0};
  REQUIRE(ride_to_end(s).riders[0].waited_s > 60.0);
  const Weighing w = weigh(s, {{0}, from_m, to_m, 1, 1}, [](std::size_t) { return true; }).front();
  CHECK(std::abs(w.ways[as_planned].gain_s.mean) < 20.0);  // what it costs to brake and set off
}

TEST_CASE("the gain is that of an independent ride alone at the same power, on twelve stretches of the scenarios",
          "[weigh]") {
  struct Case {
    const char *scenario, *rider;
    double from_m, to_m;
  };
  constexpr Case cases[] = {
      {"larkmoor", "Elin", 600, 4000},  {"larkmoor", "Bram", 8000, 10900}, {"larkmoor", "Dirk", 4160, 7000},
      {"larkmoor", "Fenn", 600, 4000},  {"headwind", "Pia", 10000, 11500}, {"headwind", "Mattis", 5500, 10000},
      {"headwind", "Nele", 1000, 5500}, {"headwind", "Rune", 1000, 5500},  {"clubhill", "Dagny", 3200, 5000},
      {"clubhill", "Hanne", 50, 3200},  {"clubhill", "Gorm", 8300, 10150}, {"clubhill", "Asta", 5400, 6620},
  };
  int same_sign = 0, measured = 0;
  for (const Case& c : cases) {
    Scenario s = read_scenario(std::string(LEEWHEEL_SCENARIOS) + "/" + c.scenario + "/scenario.yaml");
    s.wind.forecast.resize(1);  // the ride alone comes at another hour; here it meets the same wind
    std::size_t rider = 0;
    while (s.riders[rider].name != c.rider) ++rider;
    const WayWeighed way = sitting_in(s, rider, c.from_m, c.to_m);
    const Measured sits_in = measured_sitting_in(s, rider, c.from_m, c.to_m);
    const double gain_s = alone_at_power_s(s, rider, c.from_m, c.to_m, sits_in.driving_W) - sits_in.time_s;
    INFO(c.scenario << " " << c.rider << ": " << way.gain_s.mean << " s, " << way.saved_W.mean << " W, ridden again "
                    << gain_s);
    REQUIRE(way.days == 1);
    CHECK(way.gain_s.mean == Approx(gain_s).margin(0.3));
    CHECK((way.gain_s.mean > 0.0) == (way.saved_W.mean > 0.0));
    same_sign += (way.gain_s.mean > 0.0) == (gain_s > 0.0);
    ++measured;
  }
  CHECK(measured == 12);
  CHECK(same_sign == 12);
}
