/// The debrief as a whole on rides of our own.

#include "leewheel/debrief.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numeric>

#include "io/scenario_reader.hpp"
#include "leewheel/units.hpp"
#include "support/recorded.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

DebriefInput input_of(const Scenario& scenario, std::vector<Recording> recordings) {
  DebriefInput input{scenario, true, {}, {}, {}, {}};
  for (Recording& recording : recordings) {
    for (std::size_t r = 0; r < scenario.riders.size(); ++r)
      if (scenario.riders[r].name == recording.rider) input.recorded.push_back(r);
    input.alone.push_back(false);
    input.recordings.push_back(std::move(recording));
  }
  return input;
}

/// Ridden alone, unless the scenario says otherwise.
Debrief debriefed(const Scenario& planned, const Scenario& ridden, const recorded::Noise& noise, std::uint64_t seed) {
  return debrief(input_of(planned, recorded::record(ridden, noise, seed).recordings));
}

double part_of(const RiderDebrief& rider, Factor factor) { return rider.part_s[static_cast<std::size_t>(factor)]; }

double sum_of(const TimeParts& parts) { return std::accumulate(parts.begin(), parts.end(), 0.0); }

Scenario loop_ride() {
  Scenario scenario = scenes::scene(recorded::loop(), {scenes::plain_rider("Ada")});
  scenes::set_wind(scenario, mps_from_kmh(18.0), 250.0);
  return scenario;
}

Scenario weaker(Scenario scenario, double share) {
  for (RiderSettings& rider : scenario.riders) rider.target_effort *= share;
  return scenario;
}
Scenario windier(Scenario scenario, double share) {
  for (ForecastPoint& point : scenario.wind.forecast) point.speed_mps *= share;
  return scenario;
}

}  // namespace

TEST_CASE("a recording equal to the plan: every part is under half a percent", "[debrief]") {
  const Scenario scenario = GENERATE(loop_ride(), read_scenario(LEEWHEEL_SCENARIOS "/clubhill/scenario.yaml"));
  const Debrief told = debriefed(scenario, scenario, recorded::none(), 1);
  REQUIRE(told.riders.size() == scenario.riders.size());
  for (const RiderDebrief& rider : told.riders)
    for (std::size_t k = 0; k < factors; ++k) {
      INFO(scenario.riders[rider.rider].name << ", " << factor_names[k]);
      CHECK(std::abs(rider.part_s[k]) < 0.005 * rider.planned_s);
    }
}

TEST_CASE("6 % less power and 32 % more wind: each part is that of its own rerun", "[debrief]") {
  const Scenario planned = loop_ride();
  const auto time_s = [](const Scenario& scenario) { return ride_to_end(scenario).riders[0].finish_time_s; };
  const double base_s = time_s(planned), both_s = time_s(weaker(windier(planned, 1.32), 0.94));
  // A factor's own rerun beside the plan, and beside the ride: the part is their mean.
  const double effort_s = 0.5 * (time_s(weaker(planned, 0.94)) - base_s + both_s - time_s(windier(planned, 1.32)));
  const double wind_s = 0.5 * (time_s(windier(planned, 1.32)) - base_s + both_s - time_s(weaker(planned, 0.94)));
  recorded::Noise noise = recorded::usual();
  noise.power_scale_sd = 0.0;
  if (GENERATE(true, false)) noise = recorded::none();
  const Debrief told = debriefed(planned, weaker(windier(planned, 1.32), 0.94), noise, 4);
  const RiderDebrief& rider = told.riders[0];
  CHECK(part_of(rider, Factor::effort) == Approx(effort_s).epsilon(0.15));
  CHECK(part_of(rider, Factor::wind) == Approx(wind_s).epsilon(0.15));
  CHECK(rider.told[static_cast<std::size_t>(Factor::effort)]);
  CHECK_FALSE(rider.told[static_cast<std::size_t>(Factor::company)]);
}

TEST_CASE("parts add up to the difference, in all and by stretch", "[debrief]") {
  const Scenario planned = read_scenario(LEEWHEEL_SCENARIOS "/clubhill/scenario.yaml");
  const Debrief told = debriefed(planned, weaker(planned, 0.93), recorded::usual(), 6);
  for (const RiderDebrief& rider : told.riders) {
    CHECK(std::abs(sum_of(rider.part_s) - (rider.ridden_s - rider.planned_s)) < 0.5);
    for (const DebriefStretch& s : rider.stretches) CHECK(std::abs(sum_of(s.part_s) - (s.ridden_s - s.planned_s)) < 0.5);
    CHECK(rider.stretches.size() == 5);
  }
}

TEST_CASE("standing longer than planned is told as waits and stops", "[debrief]") {
  const Scenario planned = loop_ride();
  Scenario ridden = planned;
  ridden.ride.stops.push_back({9000.0, 240.0, "a puncture"});
  const RiderDebrief rider = debriefed(planned, ridden, recorded::usual(), 7).riders[0];
  REQUIRE(rider.stands.size() == 1);
  CHECK(rider.stands[0].stood_s == Approx(240.0).margin(6.0));
  CHECK(rider.stands[0].at_m == Approx(9000.0).margin(20.0));
  CHECK(part_of(rider, Factor::waits) == Approx(240.0).margin(15.0));
}

TEST_CASE("where no power was recorded the effort is as planned, and what it did is left over", "[debrief]") {
  const Scenario planned = loop_ride();
  std::vector<Recording> recordings = recorded::record(weaker(planned, 0.94), recorded::none(), 4).recordings;
  const double power_until = GENERATE(0.0, 0.5);
  const std::size_t with_power = static_cast<std::size_t>(power_until * static_cast<double>(recordings[0].points.size()));
  for (std::size_t k = with_power; k < recordings[0].points.size(); ++k) recordings[0].points[k].power_W = not_recorded;
  const RiderDebrief rider = debrief(input_of(planned, recordings)).riders[0];
  const double later_s = rider.ridden_s - rider.planned_s;
  CHECK(std::abs(sum_of(rider.part_s) - later_s) < 0.5);
  CHECK(rider.told[static_cast<std::size_t>(Factor::effort)] == (power_until > 0.0));
  CHECK(rider.has_part(Factor::effort) == (power_until > 0.0));
  CHECK(rider.power_share == Approx(power_until).margin(0.05));
  if (power_until == 0.0) {
    CHECK(part_of(rider, Factor::effort) == 0.0);
    CHECK(part_of(rider, Factor::rest) == Approx(later_s).margin(1.0));
  } else {
    CHECK(part_of(rider, Factor::effort) > 0.3 * later_s);
    CHECK(part_of(rider, Factor::rest) > 0.3 * later_s);
  }
}

TEST_CASE("critical power is told only of an effort said to be all-out", "[debrief]") {
  Scenario scenario = loop_ride();
  const double critical_W = scenario.riders[0].critical_power_W, over_s = 1800.0;
  scenario.riders[0].target_effort = 1.0 + scenario.riders[0].w_prime_J / over_s / critical_W;  // half an hour empties W'
  recorded::Noise noise = recorded::usual();
  noise.power_scale_sd = 0.0;
  DebriefInput input = input_of(scenario, recorded::record(scenario, noise, 3).recordings);
  CHECK(debrief(input).riders[0].strength.kind == StrengthTold::Kind::at_least);
  input.all_out.push_back({0, true, 0.0, over_s});
  const StrengthTold told = debrief(input).riders[0].strength;
  REQUIRE(told.kind == StrengthTold::Kind::all_out);
  CHECK(told.critical_power_W == Approx(critical_W).epsilon(0.03));
  CHECK(told.sd_W >= 0.05 * told.critical_power_W);
}

TEST_CASE("who is never alone for four minutes gets no drag area", "[debrief]") {
  const Scenario scenario = read_scenario(LEEWHEEL_SCENARIOS "/larkmoor/scenario.yaml");
  const Debrief told = debriefed(scenario, scenario, recorded::usual(), 2);
  std::size_t refused = 0;
  for (const LearnedNumber& number : told.numbers)
    for (const RiderDebrief& rider : told.riders) {
      if (number.what != Number::drag_area || number.of != rider.rider || rider.alone_s >= 240.0) continue;
      ++refused;
      CHECK(number.sure == HowSure::not_learned);
      CHECK(number.wants == Missing::time_alone);
    }
  CHECK(refused >= 1);
}

TEST_CASE("a mass that is wrong by 8 kg is a contradiction, not a meter that was learned", "[debrief]") {
  const Scenario planned = loop_ride();
  Scenario ridden = planned;
  ridden.riders[0].body_mass_kg += 8.0;
  recorded::Noise noise = recorded::usual();
  noise.power_scale_sd = 0.0;
  const Debrief told = debriefed(planned, ridden, noise, 5);
  CHECK(std::any_of(told.numbers.begin(), told.numbers.end(),
                    [](const LearnedNumber& n) { return n.sure == HowSure::contradiction; }));
}

TEST_CASE("recordings in another order tell the same", "[debrief]") {
  const Scenario scenario = read_scenario(LEEWHEEL_SCENARIOS "/larkmoor/scenario.yaml");
  std::vector<Recording> recordings = recorded::record(scenario, recorded::usual(), 8).recordings;
  const Debrief one = debrief(input_of(scenario, recordings));
  std::reverse(recordings.begin(), recordings.end());
  const Debrief other = debrief(input_of(scenario, recordings));
  for (const RiderDebrief& rider : one.riders) {
    const RiderDebrief& same = other.riders[one.riders.size() - 1 - rider.recording];
    REQUIRE(same.rider == rider.rider);
    CHECK(same.ridden_s == Approx(rider.ridden_s).margin(0.01));
    for (std::size_t k = 0; k < factors; ++k) CHECK(same.part_s[k] == Approx(rider.part_s[k]).margin(0.5));
  }
}

TEST_CASE("a meter that reads high on a rider more slippery than believed is no effort beyond its spread", "[debrief]") {
  const auto [area, reads] = GENERATE(std::pair(0.92, 1.03), std::pair(0.96, 1.03), std::pair(0.97, 1.05));
  const Scenario planned = loop_ride();
  Scenario ridden = planned;
  RiderSettings& rider = ridden.riders[0];
  for (double* area_m2 : {&rider.drag_area_hoods_m2, &rider.drag_area_drops_m2, &rider.drag_area_upright_m2})
    *area_m2 *= area;
  std::vector<Recording> recordings = recorded::record(ridden, recorded::none(), 1).recordings;
  for (RecordedPoint& point : recordings[0].points) point.power_W *= reads;
  const RiderDebrief told = debrief(input_of(planned, recordings)).riders[0];
  const auto k = static_cast<std::size_t>(Factor::effort);
  CHECK(told.part_sd_s[k] > 15.0);  // a meter within 3 % leaves so much of 52 min open
  CHECK(std::abs(told.part_s[k]) < 1.5 * told.part_sd_s[k]);
  CHECK(told.told[k] == (reads > 1.04));  // 5 % is more than meters are expected to be off
}

TEST_CASE("where nothing was learned of a meter the spread of the effort is that of any meter", "[debrief]") {
  const Scenario planned = loop_ride();
  std::vector<Recording> recordings = recorded::record(planned, recorded::none(), 1).recordings;
  for (std::size_t k = 0; k < recordings[0].points.size(); ++k)
    if (k % 10 < 4) recordings[0].points[k].power_W = not_recorded;
  const RiderDebrief told = debrief(input_of(planned, recordings)).riders[0];
  CHECK_FALSE(told.notes.teaches);
  CHECK(told.part_sd_s[static_cast<std::size_t>(Factor::effort)] > 15.0);
}

TEST_CASE("critical power at the least is of power corrected by the scale that is shown", "[debrief]") {
  const Scenario planned = loop_ride();
  std::vector<Recording> recordings = recorded::record(planned, recorded::none(), 1).recordings;
  for (RecordedPoint& point : recordings[0].points) point.power_W *= 1.05;
  const Debrief told = debrief(input_of(planned, recordings));
  const StrengthTold& least = told.riders[0].strength;
  REQUIRE(least.kind == StrengthTold::Kind::at_least);
  const auto scale = std::find_if(told.numbers.begin(), told.numbers.end(),
                                  [](const LearnedNumber& n) { return n.what == Number::power_scale; });
  double best_J = 0.0, sum_J = 0.0;
  const auto& points = recordings[0].points;
  const auto length = static_cast<std::size_t>(least.over_s);
  for (std::size_t k = 0; k < points.size(); ++k) {
    sum_J += points[k].power_W - (k >= length ? points[k - length].power_W : 0.0);
    best_J = std::max(best_J, sum_J);
  }
  const double rule_W = best_J / least.over_s / scale->after - planned.riders[0].w_prime_J / least.over_s;
  CHECK(least.critical_power_W == Approx(rule_W).epsilon(0.002));
}

TEST_CASE("an all-out effort: standing at its end is left out; within it, or beyond the ride, it is none", "[debrief]") {
  const Scenario planned = loop_ride();
  Scenario ridden = planned;
  ridden.ride.stops.push_back({9000.0, 240.0, "a puncture"});
  DebriefInput input = input_of(planned, recorded::record(ridden, recorded::none(), 1).recordings);
  const auto said = [&](double from_m, double to_m) {
    input.all_out = {{0, false, from_m, to_m}};
    return debrief(input).riders[0].strength;
  };
  const StrengthTold before = said(3000.0, 8950.0), at_end = said(3000.0, 9005.0);
  CHECK(at_end.fault == EffortFault::none);
  CHECK(at_end.stood_s > 200.0);
  CHECK(at_end.critical_power_W == Approx(before.critical_power_W).epsilon(0.02));
  CHECK(said(3000.0, 15000.0).fault == EffortFault::stood);
  CHECK(said(3000.0, 4000.0).fault == EffortFault::too_short);
  input.all_out = {{0, true, 720.0, 9.0 * 3600.0}};
  CHECK(debrief(input).riders[0].strength.fault == EffortFault::not_ridden);
}

TEST_CASE("an all-out effort that would lower critical power by many spreads is a contradiction", "[debrief]") {
  Scenario scenario = loop_ride();
  scenario.riders[0].target_effort = 0.75;
  DebriefInput input = input_of(scenario, recorded::record(scenario, recorded::none(), 1).recordings);
  input.all_out = {{0, true, 60.0, 1860.0}};
  const StrengthTold told = debrief(input).riders[0].strength;
  REQUIRE(told.kind == StrengthTold::Kind::all_out);
  CHECK(told.critical_power_W < 0.8 * scenario.riders[0].critical_power_W);
  CHECK(told.sure == HowSure::contradiction);
}

TEST_CASE("numbers that cannot be are withheld with all of their fit, and the parts are of the plan's", "[debrief]") {
  const Scenario planned = loop_ride();
  std::vector<Recording> recordings = recorded::record(planned, recorded::none(), 1).recordings;
  for (RecordedPoint& point : recordings[0].points) point.power_W *= 0.15;
  const Debrief told = debrief(input_of(planned, recordings));
  REQUIRE(!told.numbers.empty());
  for (const LearnedNumber& n : told.numbers) {
    CHECK(n.sure == HowSure::not_learned);
    CHECK((n.wants == Missing::impossible || n.wants == Missing::beside_impossible));
  }
  CHECK(std::abs(part_of(told.riders[0], Factor::numbers)) < 1.0);
}

TEST_CASE("over sixteen seeds with meters drawn the effort is told as well as its spread says", "[.seeds]") {
  const Scenario planned = loop_ride();
  const auto k = static_cast<std::size_t>(Factor::effort);
  for (const double share : {1.0, 0.94}) {
    const Scenario ridden = share < 1.0 ? weaker(windier(planned, 1.32), share) : planned;
    const double exact_s = debriefed(planned, ridden, recorded::none(), 1).riders[0].part_s[k];
    double squares = 0.0, most_s = 0.0, held = 0.0;
    for (std::uint64_t seed = 1; seed <= 16; ++seed) {
      const RiderDebrief rider = debriefed(planned, ridden, recorded::usual(), seed).riders[0];
      const double off_s = std::abs(rider.part_s[k] - exact_s);
      squares += off_s * off_s / 16.0, most_s = std::max(most_s, off_s), held += off_s < rider.part_sd_s[k];
    }
    WARN("effort " << exact_s << " s: off by " << std::sqrt(squares) << " s rms, " << most_s
                   << " s at most, within its spread " << held << " times of 16");
    CHECK(held >= 9.0);
  }
}
