/// The planner beside an optimiser of its own, on roads of different kinds, within the same limits.

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>

#include "io/scenario_reader.hpp"
#include "optimum.hpp"
#include "plan/pacing_ride.hpp"
#include "support/scenes.hpp"
#include "winding_track.hpp"

using namespace leewheel;

namespace {

struct Person {
  const char* name;
  double critical_W, w_prime_J, body_kg;
};
constexpr Person small{"small", 200.0, 12000.0, 62.0}, big{"big", 320.0, 25000.0, 80.0};

struct Case {
  const char* name;
  Road road;
  double wind_mps, from_deg;
  double piece_m;        ///< on which the optimiser may change its instruction: two minutes or more
  bool by_rule = false;  ///< an instruction is two powers, one uphill, one downhill
};

Stretch stretch(double length_m, double grade, double heading_deg = 0.0) {
  Stretch s;
  s.length_m = length_m, s.grade = grade, s.has_heading = true;
  s.heading_rad = heading_deg * std::numbers::pi / 180.0;
  s.surface = Surface::smooth_asphalt;
  return s;
}

Road road(const std::vector<Stretch>& stretches) { return Road(profile_from_stretches(stretches, 100.0)); }

Road waves(double each_m, int count) {
  std::vector<Stretch> stretches;
  for (int k = 0; k < count; ++k) stretches.push_back(stretch(each_m, k % 2 == 0 ? 0.05 : -0.05));
  return road(stretches);
}

Road larkmoor_road() { return read_scenario(std::string(LEEWHEEL_SCENARIOS) + "/larkmoor/scenario.yaml").road; }

std::vector<Case> cases() {
  return {
      {"steps",
       road({stretch(2000, 0.03), stretch(1500, 0.09), stretch(2500, 0.04), stretch(1000, 0.08), stretch(1500, 0.0),
             stretch(2000, 0.07), stretch(1500, 0.03)}),
       0.0, 0.0, 500.0},
      {"turning wind", road({stretch(6000, 0.01), stretch(2000, 0.04), stretch(6000, 0.01)}), 6.0, 0.0, 1000.0},
      {"short hill", road({stretch(1200, 0.03), stretch(600, 0.10), stretch(1200, 0.02), stretch(600, 0.09)}), 0.0, 0.0,
       600.0},
      {"a shipped road, Larkmoor", larkmoor_road(), 0.0, 0.0, 500.0},
      {"rolling, 500 m", waves(500.0, 16), 0.0, 0.0, 1000.0, true},
      {"rolling, 250 m", waves(250.0, 32), 0.0, 0.0, 500.0, true},
      {"winding track", winding_track_road(), 0.0, 0.0, 500.0, true},
  };
}

Case even_hill() { return {"short hill", road({stretch(2000, 0.08)}), 0.0, 0.0, 500.0}; }

Scenario scenario_of(const Case& c, const Person& p) {
  RiderSettings r = scenes::plain_rider(p.name, p.critical_W);
  r.w_prime_J = p.w_prime_J, r.body_mass_kg = p.body_kg;
  Scenario s = scenes::scene(c.road, {r});
  s.ride.start_speed_mps = 5.0;
  s.tactics.descent_speed_mps = 18.0;
  scenes::set_wind(s, c.wind_mps, c.from_deg);
  if (c.wind_mps > 0.0)  // comes round after seven minutes and back after fourteen
    for (const auto& [time_s, from] :
         {std::pair{400.0, 0.0}, {460.0, std::numbers::pi}, {840.0, std::numbers::pi}, {900.0, 2.0 * std::numbers::pi}})
      s.wind.forecast.push_back({time_s, c.wind_mps, from});
  return s;
}

std::vector<double> places(double every_m, double length_m) {
  std::vector<double> at;
  for (double x = 0.0; x < length_m - 1.0; x += every_m) at.push_back(x);
  at.push_back(length_m);
  return at;
}

/// The limits of `settings` as the optimiser takes them.
std::vector<optimum::Piece> pieces_of(const Scenario& solo, const Case& c, double even_W, const PacingSettings& settings) {
  const double length_m = solo.road.length_m();
  const double even_s = ride_timed(solo, {0.0, length_m}, {even_W}).time_s;
  double piece_m = c.piece_m;
  while (c.by_rule && even_s * piece_m / length_m < settings.changes_every_s) piece_m += c.piece_m;
  std::vector<double> cuts = places(piece_m, length_m);
  if (c.by_rule && cuts.back() - *(cuts.end() - 2) < piece_m - 1.0)
    cuts.erase(cuts.end() - 2);  // too short for an instruction
  const PacedRide even = ride_timed(solo, cuts, std::vector<double>(cuts.size() - 1, even_W));
  const double w_prime_J = solo.riders[0].w_prime_J, calm_s = std::min(settings.calm_s, settings.calm_share * even.time_s);
  const auto falls = [&](std::size_t k) {
    return (solo.road.elevation_m(cuts[k + 1]) - solo.road.elevation_m(cuts[k])) / (cuts[k + 1] - cuts[k]) < -0.01;
  };
  double uphill_s = 0.0, so_far_s = 0.0;
  for (std::size_t k = 0; k + 1 < cuts.size(); ++k)
    if (!falls(k)) uphill_s += even.passed_s[k + 1] - even.passed_s[k];
  std::vector<optimum::Piece> pieces;
  for (std::size_t k = 0; k + 1 < cuts.size(); ++k) {
    if (!falls(k)) so_far_s += even.passed_s[k + 1] - even.passed_s[k];
    const double reserve_J = settings.reserve_share * w_prime_J;
    const bool early = so_far_s < 2.0 / 3.0 * uphill_s;
    pieces.push_back(
        {cuts[k], cuts[k + 1], falls(k) ? 0.0 : settings.easiest_share * even_W,
         even.passed_s[k] < calm_s ? even_W : settings.hardest_share * even_W, c.by_rule,
         early ? std::max(reserve_J, std::min(settings.early_share * w_prime_J, even.wbal_J[k + 1])) : reserve_J});
  }
  return pieces;
}

/// The optimiser's powers ridden here, moved alike until the lowest W' meets the reserve.
double ridden_optimum_s(const Scenario& solo, const std::vector<optimum::Piece>& pieces, double even_W, double reserve_J) {
  const std::vector<double> tens = places(10.0, solo.road.length_m());
  const std::vector<double> passed_s = ride_timed(solo, tens, std::vector<double>(tens.size() - 1, even_W)).passed_s;
  const std::vector<optimum::Powers> found = optimum::quickest_W(solo, pieces, passed_s);
  std::vector<double> powers_W;
  for (std::size_t k = 0, piece = 0; k + 1 < tens.size(); ++k) {
    while (tens[k] >= pieces[piece].to_m) ++piece;
    powers_W.push_back(optimum::falls(solo.road, tens[k]) ? found[piece].falling_W : found[piece].rising_W);
  }
  const auto moved = [&](double by_W) {
    std::vector<double> powers = powers_W;
    for (double& p : powers) p = p > 0.0 ? std::max(0.0, p + by_W) : 0.0;
    return ride_timed(solo, tens, powers);
  };
  double low = -20.0, high = 20.0;
  for (int round = 0; round < 12; ++round) {
    const double middle = 0.5 * (low + high);
    (moved(middle).wbal_least_J >= reserve_J ? low : high) = middle;
  }
  return moved(low).time_s;
}

struct Gain {
  double even_s, plan_s, optimum_s;
  std::size_t instructions;
  double share() const { return (even_s - plan_s) / (even_s - optimum_s); }
};

/// All three keep the same reserve, as ridden.
Gain gain_of(const Case& c, const Person& p) {
  PacingSettings settings;
  settings.days = 0;
  const Scenario scenario = scenario_of(c, p), solo = rehearsal(scenario, 0);
  const double reserve_J = settings.reserve_share * p.w_prime_J, even_W = even_power_W(solo, reserve_J, 0.05);
  const Pacing plan = best_pacing(scenario, 0, settings);
  CHECK(plan.wbal_least_J >= reserve_J - 1e-6);
  return {ride_timed(solo, {0.0, solo.road.length_m()}, {even_W}).time_s, plan.time_s,
          ridden_optimum_s(solo, pieces_of(solo, c, even_W, settings), even_W, reserve_J), plan.sections.size()};
}

}  // namespace

TEST_CASE("the plan wins 85 percent of what an optimiser of its own wins within the same limits", "[pacing][gain]") {
  const std::vector<Case> roads = cases();
  for (const auto& [c, p] : {std::pair{roads[0], big}, {roads[1], small}, {roads[2], small}, {roads[4], big}}) {
    const Gain gain = gain_of(c, p);
    INFO(c.name << ", " << p.name << ": even " << gain.even_s << " s, plan " << gain.plan_s << " s, optimum "
                << gain.optimum_s << " s");
    CHECK(gain.even_s - gain.optimum_s > 5.0);
    CHECK(gain.share() >= 0.85);
  }
}

TEST_CASE(
    "on a winding road as a device records it the plan wins 85 percent of what an optimiser wins who pedals down bends too",
    "[pacing][gain]") {
  const Gain gain = gain_of({"winding track", winding_track_road(), 0.0, 0.0, 500.0, true}, big);
  INFO("even " << gain.even_s << " s, plan " << gain.plan_s << " s, optimum " << gain.optimum_s << " s");
  CHECK(gain.even_s - gain.optimum_s > 5.0);
  CHECK(gain.share() >= 0.85);
}

TEST_CASE("nothing is to be won on a hill of one slope, and the plan loses no more than whole watts cost",
          "[pacing][gain]") {
  const Gain gain = gain_of(even_hill(), big);
  CHECK(gain.even_s - gain.optimum_s < 1.0);
  CHECK(gain.plan_s - gain.even_s < 1.5);
}

/// The plan's time with limits so wide that nobody would follow it: what lies outside the usual ones.
double with_wide_limits_s(const Case& c, const Person& p) {
  PacingSettings wide;
  wide.days = 0;
  wide.calm_s = wide.early_share = 0.0;
  wide.hardest_share = 1.6, wide.easiest_share = 0.3, wide.changes_every_s = 30.0;
  return best_pacing(scenario_of(c, p), 0, wide).time_s;
}

/// LEEWHEEL_TRACK names a scenario whose road is taken as well.
std::vector<Case> cases_and_track() {
  std::vector<Case> all = cases();
  if (const char* path = std::getenv("LEEWHEEL_TRACK"))
    all.assign(1, {"track", read_scenario(path).road, 0.0, 0.0, 500.0, true});
  return all;
}

TEST_CASE("table of what plans win beside an optimiser, all roads and riders", "[.pacing_gain]") {
  std::printf(
      "| road | rider | even power (s) | plan (s) | optimiser (s) | share | instructions | plan with wide limits (s) |\n"
      "|---|---|---|---|---|---|---|---|\n");
  for (const Case& c : cases_and_track())
    for (const Person& p : {small, big}) {
      const Gain gain = gain_of(c, p);
      std::printf("| %s | %s | %.1f | %.1f | %.1f | %.0f %% | %zu | %.1f |\n", c.name, p.name, gain.even_s, gain.plan_s,
                  gain.optimum_s, 100.0 * gain.share(), gain.instructions, with_wide_limits_s(c, p));
      std::fflush(stdout);
      CHECK(gain.share() >= 0.85);
    }
}
