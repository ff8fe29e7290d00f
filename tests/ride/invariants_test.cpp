/// What must hold at every step of any ride, drawn at random.

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// What must hold at every step of any ride.
class Watch {
 public:
  explicit Watch(const Scenario& scenario) : s_(scenario) {}

  void look(const RideSample& now) {
    for (std::size_t i = 0; i < s_.riders.size(); ++i) {
      check_rider(now, i);
      for (std::size_t j = i + 1; j < s_.riders.size(); ++j) check_pair(now, i, j);
    }
    last_ = now;
  }
  int through = 0, bad_state = 0;  ///< steps of a pair, of a rider
  double least_gap_m = std::numeric_limits<double>::max();
  double first_bad_s = -1.0;

 private:
  bool riding(const RideSample& sample, std::size_t i) const { return sample.role[i] != static_cast<float>(Role::finished); }
  void check_rider(const RideSample& now, std::size_t i) {
    bool good = now.wbal_J[i] >= 0.0f && now.wbal_J[i] <= static_cast<float>(s_.riders[i].w_prime_J);
    for (const SampleColumn& column : sample_columns()) good = good && std::isfinite((now.*column.values)[i]);
    good = good && now.speed_mps[i] >= 0.0f && now.power_W[i] >= 0.0f && now.drag_factor[i] > 0.0f;
    if (last_.time_s > 0.0) good = good && now.distance_m[i] >= last_.distance_m[i] - 1e-3f;
    if (!good) note(bad_state, now.time_s);
  }
  void check_pair(const RideSample& now, std::size_t i, std::size_t j) {
    if (!riding(now, i) || !riding(now, j) || std::abs(now.lateral_m[i] - now.lateral_m[j]) >= 0.4f) return;
    const double apart_m = static_cast<double>(now.distance_m[i]) - now.distance_m[j];
    least_gap_m = std::min(least_gap_m, std::abs(apart_m) - bicycle_length_m);
    bool good = std::abs(apart_m) - bicycle_length_m >= -0.01;
    if (last_.time_s > 0.0 && std::abs(last_.lateral_m[i] - last_.lateral_m[j]) < 0.4f)
      good = good && apart_m * (static_cast<double>(last_.distance_m[i]) - last_.distance_m[j]) > 0.0;
    if (!good) note(through, now.time_s);
  }
  void note(int& counter, double time_s) {
    if (counter++ == 0 && first_bad_s < 0.0) first_bad_s = time_s;
  }
  const Scenario& s_;
  RideSample last_;
};

}  // namespace

TEST_CASE("no rider goes through a wheel, W' stays within bounds, and the ride ends, whatever the ride",
          "[tactics][invariants]") {
  const auto seed = GENERATE(range(1u, 121u));
  Scenario s = scenes::random_scenario(seed);
  if (seed > 60) {  // every way to share the front, also on roads closed to traffic
    s.ride.formation = static_cast<Formation>(seed % formation_names.size());
    s.ride.closed_road = seed % 2 == 0;
  }
  Watch watch(s);
  Ride ride(s);
  RideSample sample;
  while (ride.end() == RideEnd::riding) {
    ride.step();
    ride.sample(sample);
    watch.look(sample);
  }
  INFO("seed " << seed << ": " << s.riders.size() << " riders, " << ride_kind_names[static_cast<int>(s.ride.kind)] << ", "
               << formation_names[static_cast<int>(s.ride.formation)] << ", step " << s.ride.step_s << " s, abreast "
               << s.ride.start_abreast << ", regroup points " << s.ride.regroup_at_m.size());
  INFO("smallest wheel gap " << watch.least_gap_m << " m; first fault at " << watch.first_bad_s << " s of "
                             << ride.time_s());
  CHECK(watch.through == 0);
  CHECK(watch.bad_state == 0);
  CHECK(ride.end() == RideEnd::all_finished);
  for (const RiderResult& r : ride.result().riders) CHECK(r.ledger.error() < 1e-6);
}

TEST_CASE("nobody gives more than strength and W' allow", "[tactics]") {
  // P <= CP + (Pmax - CP) W'bal/W' (Morton 1996, Ergonomics 39:611).
  const auto seed = GENERATE(range(200u, 206u));
  const Scenario s = scenes::random_scenario(seed);
  Ride ride(s);
  RideSample before, now;
  ride.sample(before);
  while (ride.end() == RideEnd::riding) {
    ride.step();
    ride.sample(now);
    for (std::size_t i = 0; i < s.riders.size(); ++i) {
      const RiderSettings& r = s.riders[i];
      const double left = std::max(before.wbal_J[i], now.wbal_J[i]) / r.w_prime_J;
      const double limit_W = r.critical_power_W + (r.peak_power_W - r.critical_power_W) * left;
      REQUIRE(now.power_W[i] <= limit_W * (1.0 + 1e-6));
    }
    before = now;
  }
}

TEST_CASE("a rider with next to no W' never has less than none, by any law, tired or fresh", "[tactics]") {
  const auto law = GENERATE(range(std::size_t{0}, recovery_law_names.size()));
  const bool fatigue = GENERATE(false, true);
  Scenario s = scenes::scene(scenes::grades({0.0, 0.08, -0.04, 0.1}, 500.0), scenes::club(3));
  for (RiderSettings& rider : s.riders) rider.w_prime_J = 1.0;
  s.ride.kind = RideKind::race;
  s.ride.recovery_law = static_cast<RecoveryLaw>(law);
  s.ride.fatigue = fatigue;
  const RideResult result = ride_to_end(s);
  INFO(recovery_law_names[law] << (fatigue ? ", tired" : ""));
  for (const RiderResult& rider : result.riders) CHECK(rider.wbal_least_J >= 0.0);
  for (const RiderResult& rider : result.riders) CHECK(rider.wbal_least_J < 0.5);  // it was used
}
