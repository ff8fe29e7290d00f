/// The energy ledger of whole rides.

#include <catch2/catch.hpp>

#include <cmath>
#include <numeric>

#include "leewheel/give_and_take.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

TEST_CASE("the books of every rider close to a millionth of the work", "[ledger]") {
  const auto seed = GENERATE(range(1000u, 1030u));
  INFO("seed " << seed);
  const RideResult result = ride_to_end(scenes::random_scenario(seed));
  for (const RiderResult& r : result.riders) {
    INFO(r.name << ", work " << r.ledger.pedal_J << " J");
    CHECK(r.ledger.error() < 1e-6);
  }
}

TEST_CASE("the books close where riders brake, stand and start again", "[ledger]") {
  Scenario s = scenes::scene(scenes::grades({0.05, -0.10, 0.0, 0.12, -0.12}, 400.0), scenes::club(6));
  s.tactics = TacticsSettings{};
  s.ride.regroup_at_m = {600.0, 1400.0};
  s.ride.step_s = GENERATE(0.02, 0.1, 1.0);
  const RideResult result = ride_to_end(s);
  REQUIRE(result.end == RideEnd::all_finished);
  for (const RiderResult& r : result.riders) {
    CHECK(r.ledger.braking_J > 100.0);
    CHECK(r.ledger.error() < 1e-6);
  }
}

TEST_CASE("energy of height is weight times the rise of the road, and of speed that of the last speed less the first",
          "[ledger]") {
  Scenario s = scenes::scene(scenes::smooth_hills(3000.0), scenes::club(5));
  const RideResult result = ride_to_end(s);
  REQUIRE(result.end == RideEnd::all_finished);
  for (std::size_t k = 0; k < s.riders.size(); ++k) {
    // Riders line up from the first name to the last, each a wheel gap and a bicycle behind.
    const double start_m = static_cast<double>(s.riders.size() - 1 - k) * (bicycle_length_m + s.ride.start_gap_m);
    const double rise_m = s.road.elevation_m(s.road.length_m()) - s.road.elevation_m(start_m);
    CHECK(result.riders[k].ledger.potential_J ==
          Approx(s.riders[k].total_mass_kg() * s.gravity_mps2 * rise_m).epsilon(1e-9));
  }
}

TEST_CASE("a rider alone saves nothing", "[ledger]") {
  const Scenario s = scenes::scene(scenes::smooth_hills(3000.0), {scenes::plain_rider("Solo")});
  const RideResult result = ride_to_end(s);
  CHECK(std::abs(result.riders[0].ledger.saved_J) < 1e-6 * result.riders[0].ledger.pedal_J);
  CHECK(result.debts.empty());
}

TEST_CASE("what is saved is what the motion would have cost alone less what it cost", "[ledger]") {
  Scenario s = scenes::scene(scenes::smooth_hills(3000.0), scenes::club(5));
  for (const RiderResult& r : ride_to_end(s).riders) {
    CHECK(r.ledger.saved_J == Approx(r.ledger.alone_J - r.ledger.pedal_J).margin(1e-6 * r.ledger.pedal_J).epsilon(0));
  }
}

TEST_CASE("what all give is what all receive", "[ledger]") {
  const RideResult result = ride_to_end(scenes::scene(scenes::smooth_hills(3000.0), scenes::club(8)));
  double given_J = 0.0, received_J = 0.0;
  for (const RiderResult& r : result.riders) {
    given_J += r.given_J;
    received_J += r.received_J;
  }
  CHECK(given_J > 1000.0);
  CHECK(given_J == Approx(received_J).epsilon(1e-9));
}

TEST_CASE("what a rider is said to have received is what the rider saved", "[ledger]") {
  // The debts are booked once a second from the power of that moment, the savings every step: they agree within 1 % of the work.
  Scenario s = scenes::scene(scenes::smooth_hills(4000.0), scenes::club(6));
  s.ride.step_s = GENERATE(0.1, 0.2, 0.3);
  s.ride.wake_interval_s = GENERATE(0.2, 0.5, 2.0);  // also such as do not divide the second of the decisions
  const RideResult result = ride_to_end(s);
  for (const RiderResult& r : result.riders) {
    INFO(r.name << " saved " << r.ledger.saved_J << " J, received " << r.received_J << " J");
    CHECK(std::abs(r.received_J - r.ledger.saved_J) < 0.01 * r.ledger.alone_J);
  }
}

TEST_CASE("in a ride the balances sum to nothing, and a chain goes down them", "[ledger]") {
  const RideResult ride = ride_to_end(scenes::scene(scenes::smooth_hills(3000.0), scenes::club(8)));
  const GiveAndTake got = give_and_take(ride.riders.size(), ride.debts);
  CHECK(std::accumulate(got.net_J.begin(), got.net_J.end(), 0.0) == Approx(0.0).margin(1e-6));
  CHECK(got.chain.size() == 4);  // riders
  for (std::size_t k = 1; k < got.chain.size(); ++k) CHECK(got.net_J[got.chain[k]] < got.net_J[got.chain[k - 1]]);
  for (std::size_t i = 0; i < ride.riders.size(); ++i)
    CHECK(got.net_J[i] == Approx(ride.riders[i].given_J - ride.riders[i].received_J).margin(1e-6));
}
