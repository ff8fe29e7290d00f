/// Riders from what clubs know, and the club file.

#include "io/club_file.hpp"

#include <fmt/format.h>

#include <cmath>

#include "io/plan_file.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/climb_power.hpp"
#include "support.hpp"
#include "words/strength_words.hpp"

using namespace leewheel;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

ReadRider rider_of(const std::string& keys) {
  io_test::Folder folder;
  return read_club(folder.write("club.yaml", "riders: [{name: Ada, body_mass_kg: 62" + keys + "}]\n")).front();
}

std::string said_of(const std::string& riders) {
  io_test::Folder folder;
  return io_test::said([&] { read_club(folder.write("club.yaml", "riders:\n" + riders)); });
}

constexpr const char* club_of_four =
    "riders:\n"
    "  - {name: Ada, body_mass_kg: 62, critical_power_W: 220, w_prime_J: 16000}\n"
    "  - {name: Ben, body_mass_kg: 80, power_60min_W: 265}\n"
    "  - {name: Cas, body_mass_kg: 71, as_strong_as: Dot}\n"
    "  - {name: Dot, body_mass_kg: 66, climb: {distance: 8 km, grade_percent: 6, time: '35:00'}, bike_mass_kg: 9}\n";

/// Ridden on the road of every test: 3 km at 5 %.
struct Day {
  io_test::Folder folder;
  Day() {
    folder.write("club.yaml", club_of_four);
    folder.write("road.yaml", "start_elevation_m: 100\nstretches: [{length_m: 3000, grade_percent: 5, heading_deg: 0}]\n");
  }
  std::string file(const std::string& rest) const {
    return folder.write("day.yaml", "title: Day\nroad: {file: road.yaml}\n" + rest);
  }
  Scenario read(const std::string& rest) const { return read_scenario(file(rest)); }
};

}  // namespace

TEST_CASE("an hour's power, twenty minutes, watts a kilogram and a climb land within their spread of critical power",
          "[club]") {
  // Ada of 220 W and 16 kJ, from what she would know of herself. By the law of this program she holds CP + W'/t.
  const RiderSettings ada = rider_of(", critical_power_W: 220, w_prime_J: 16000").settings;
  const auto near = [&](const std::string& keys, double spread) {
    const ReadRider known = rider_of(keys);
    INFO(keys << ": " << known.settings.critical_power_W << " W, spread " << known.settings.critical_power_spread);
    CHECK_THAT(known.settings.critical_power_spread, WithinAbs(spread, 1e-9));
    CHECK_THAT(known.settings.critical_power_W, WithinRel(ada.critical_power_W, spread));
    return known.settings.critical_power_W;
  };
  const double hour_W = 220.0 + 16000.0 / 3600.0, twenty_W = 220.0 + 16000.0 / 1200.0;
  CHECK_THAT(near(fmt::format(", power_60min_W: {}, w_prime_J: 16000", hour_W), 0.06), WithinAbs(220.0, 1e-9));
  CHECK_THAT(near(fmt::format(", power_20min_W: {}, w_prime_J: 16000", twenty_W), 0.06), WithinAbs(220.0, 1e-9));
  near(fmt::format(", power_60min_W: {}", hour_W), 0.06);  // without W', which is 20 kJ then
  near(fmt::format(", power_20min_W: {}", twenty_W), 0.06);
  near(fmt::format(", power_60min_W_per_kg: {:.1f}", hour_W / 62.0), std::hypot(0.06, 0.02));
  near(fmt::format(", critical_power_W_per_kg: {:.1f}", 220.0 / 62.0), 0.02);
  // As measured: critical power 0.977 of the power of twenty minutes (Karsten et al. 2021, Front Physiol 11:613151).
  near(fmt::format(", power_20min_W: {:.0f}", 220.0 / 0.977), 0.06);

  // The climb: ridden all out by the rider with known critical power.
  Scenario climb = Day().read("riders: [{name: Ada, body_mass_kg: 62, critical_power_W: 220, w_prime_J: 16000}]\n");
  Stretch even;
  even.length_m = 8000.0;
  even.grade = 0.06;
  climb.road = Road(profile_from_stretches({even}, 0.0));
  climb.riders[0].target_effort = 1.0 + 16000.0 / 2000.0 / 220.0;  // W' for some 2,000 s
  const double time_s = ride_to_end(climb).riders[0].finish_time_s;
  near(fmt::format(", climb: {{distance: 8 km, grade_percent: 6, time: '{}:{:04.1f}'}}, w_prime_J: 16000",
                   static_cast<int>(time_s) / 60, std::fmod(time_s, 60.0)),
       0.08);
}

TEST_CASE("the power of a climb is that of the steady force on it", "[club]") {
  // By hand, 8 km at 6 % in 35:00: 3.8095 m/s; 73 kg + 3 + 8 on 1.225 kg/m3. Weight 823.8 N: slope 49.34 N, rolling (0.005)
  // about 4.11 N, air 0.6125 (0.37 + 0.0044) 14.51 = 3.33 N, bearings 0.12 N: 56.9 N, 216.8 W at the wheel, 222 W at the cranks.
  RiderSettings rider;
  rider.body_mass_kg = 73.0;
  const std::optional<double> power_W = power_for_climb_W(rider, {8000.0, 0.06, 2100.0});
  REQUIRE(power_W);
  CHECK_THAT(*power_W, WithinRel(222.0, 0.02));
  CHECK(*power_for_climb_W(rider, {8000.0, 0.06, 1800.0}) > *power_W + 30.0);
  CHECK(!power_for_climb_W(rider, {8000.0, 0.06, 300.0}));
}

TEST_CASE("who is as strong as another has the same power a kilogram of rider, kit and bicycle", "[club]") {
  io_test::Folder folder;
  const std::vector<ReadRider> riders = read_club(folder.write("club.yaml", club_of_four));
  const RiderSettings &cas = riders[2].settings, &dot = riders[3].settings;
  CHECK_THAT(cas.critical_power_W / cas.total_mass_kg(), WithinRel(dot.critical_power_W / dot.total_mass_kg(), 1e-12));
  CHECK_THAT(cas.w_prime_J / cas.total_mass_kg(), WithinRel(dot.w_prime_J / dot.total_mass_kg(), 1e-12));
  CHECK_THAT(cas.critical_power_spread, WithinAbs(std::hypot(0.08, 0.05), 1e-12));
  CHECK(rests_on_text(cas, riders[2].basis) == "as strong as Dot");
  CHECK_THAT(rests_on_text(dot, riders[3].basis), Contains("8.0 km at 6.0 % in 35:00, which takes 2"));
}

TEST_CASE("what is not given is taken with a wide spread and told", "[club]") {
  const Scenario s =
      Day().read("riders: [{name: Ada}, {name: Ben, critical_power_W: 240}, {name: Cas, power_60min_W: 265}]\n");
  CHECK(s.riders[0].critical_power_spread == 0.20);
  CHECK(s.riders[0].w_prime_spread == 0.25);
  CHECK(s.riders[1].critical_power_spread == 0.0);
  CHECK(s.riders[1].w_prime_J == 20000.0);
  CHECK(strength_remarks(s) ==
        std::vector<std::string>{"no strength given for Ada: a critical power of 250 W assumed, ±20 %",
                                 "W' not given for Ada, Ben and Cas: 20 kJ assumed, ±25 %",
                                 "Cas: critical power 259 W ±6 %, from 265 W held for an hour"});
  const Scenario known = Day().read("riders: [{name: Ada, critical_power_W: 240, w_prime_J: 18000}]\n");
  CHECK(strength_remarks(known).empty());
  const Scenario own =
      Day().read("riders: [{name: Ada, power_60min_W: 240, critical_power_spread: 0.02, w_prime_spread: 0.1}]\n");
  CHECK(own.riders[0].critical_power_spread == 0.02);
  CHECK(own.riders[0].w_prime_spread == 0.1);
}

TEST_CASE("a wider spread reaches the days that are drawn", "[club]") {
  const auto spread_of = [](const Scenario& s, auto value) {
    double sum = 0.0, squares = 0.0;
    constexpr int days = 2000;
    for (int day = 0; day < days; ++day) {
      const double x = value(on_day(s, draw_day(s, 1, static_cast<std::uint64_t>(day))).riders[0]);
      sum += x, squares += x * x;
    }
    return std::sqrt(squares / days - sum / days * sum / days) / (sum / days);
  };
  const auto power = [](const RiderSettings& r) { return r.critical_power_W; };
  const auto store = [](const RiderSettings& r) { return r.w_prime_J; };
  const Scenario given = Day().read("riders: [{name: Ada, critical_power_W: 240, w_prime_J: 18000}]\n");
  const Scenario hour = Day().read("riders: [{name: Ada, power_60min_W: 240}]\n");
  CHECK_THAT(spread_of(given, power), WithinRel(0.03, 0.05));
  CHECK_THAT(spread_of(hour, power), WithinRel(std::hypot(0.03, 0.06), 0.05));
  CHECK_THAT(spread_of(given, store), WithinRel(0.12, 0.05));
  CHECK_THAT(spread_of(hour, store), WithinRel(std::hypot(0.12, 0.25), 0.05));
}

TEST_CASE("those who come are taken from the club file, with other numbers for the day, and guests", "[club]") {
  const Day day;
  const Scenario s = day.read(
      "club: club.yaml\ncoming: [Cas, Ada]\n"
      "riders:\n  - {name: Ada, bike_mass_kg: 11, plan: [{from: start, power_W: 198}]}\n"
      "  - {name: Guest, as_strong_as: Ben, body_mass_kg: 80}\n");
  REQUIRE(s.riders.size() == 3);
  CHECK(s.riders[0].name == "Cas");
  CHECK(s.riders[1].bike_mass_kg == 11.0);
  CHECK(s.riders[1].critical_power_W == 220.0);
  CHECK(s.riders[1].w_prime_spread == 0.0);
  CHECK(s.plans[1].front().effort == 0.9);
  CHECK(s.riders[2].name == "Guest");
  CHECK_THAT(s.riders[2].critical_power_W, WithinAbs(265.0 - 20000.0 / 3600.0, 1e-9));
  CHECK(s.rests_on.size() == 3);
  CHECK(day.read("club: club.yaml\n").riders.size() == 4);
  const Scenario heavier = day.read("club: club.yaml\ncoming: [Cas]\nriders: [{name: Dot, bike_mass_kg: 12}]\n");
  CHECK(heavier.riders[1].critical_power_W == day.read("club: club.yaml\n").riders[3].critical_power_W);
  CHECK(heavier.riders[1].critical_power_spread == 0.08);
  const Scenario tired = day.read("club: club.yaml\nriders: [{name: Ada, critical_power_W: 200}]\n");
  CHECK(tired.riders.size() == 4);
  CHECK(tired.riders[0].critical_power_W == 200.0);
}

TEST_CASE("a plan laid into a scenario with a club reads back, and the club file is found from there", "[club]") {
  const Day day;
  const std::string path = day.file("club: club.yaml\ncoming: [Cas, Ada]\nriders: [{name: Ada, bike_mass_kg: 11}]\n");
  Scenario planned = read_scenario(path);
  planned.plans[0] = {{0.0, 0.8}};
  planned.plans[1] = {{0.0, 0.7}};
  std::filesystem::create_directory(day.folder / "out");
  const std::string out = (day.folder / "out" / "planned.yaml").string();
  std::ofstream(out) << scenario_with_plan_yaml(path, planned, out, "planned");
  const Scenario again = read_scenario(out);
  CHECK(again.riders[0].name == "Cas");
  CHECK(again.plans[0].front().effort == 0.8);
  CHECK(again.plans[1].front().effort == 0.7);
  CHECK(again.riders[1].bike_mass_kg == 11.0);
}

TEST_CASE("without a club, coming names those of the list who ride; the others may still be what somebody is as strong as",
          "[club]") {
  const Day day;
  const Scenario s = day.read(
      "coming: [Cas, Ada]\nriders: [{name: Ada, critical_power_W: 220}, {name: Ben, critical_power_W: 250}, {name: Cas, "
      "as_strong_as: Ben}]\n");
  REQUIRE(s.riders.size() == 2);
  CHECK(s.riders[0].name == "Ada");
  CHECK(s.riders[1].name == "Cas");
  CHECK(s.riders[1].critical_power_W > 200.0);
  CHECK(s.plans.size() == 2);
  CHECK(s.rests_on.size() == 2);
}

TEST_CASE("faults of a club name file, line and field", "[club]") {
  CHECK_THAT(said_of("  - {name: Ada, power_60min_W: 265, critical_power_W: 250}\n"),
             Contains("club.yaml:2:32: riders[0].power_60min_W: found beside riders[0].critical_power_W, expected one way"));
  CHECK_THAT(said_of("  - {name: Ada, as_strong_as: Bem}\n  - {name: Ben}\n"),
             Contains("club.yaml:2:31: riders[0].as_strong_as: found 'Bem', expected 'Ben'"));
  CHECK_THAT(said_of("  - {name: Ada, as_strong_as: Ben}\n  - {name: Ben, as_strong_as: Ada}\n"),
             Contains("riders[0].as_strong_as: found 'Ben', expected a rider whose strength is known"));
  CHECK_THAT(said_of("  - {name: Ada, climb: {distance: 80, grade_percent: 40, time: soon}}\n"),
             Contains("climb.distance: found 80, expected a distance from 500 m to 100 km") &&
                 Contains("climb.grade_percent: found 40, expected a number in [1, 25]") &&
                 Contains("climb.time: found 'soon', expected a time from 2:00 to 6:00:00"));
  CHECK_THAT(said_of("  - {name: Ada, climb: {distance: 8 km, grade_percent: 6, time: '5:00'}}\n"),
             Contains("climb: found a climb that takes less than 20 W or more than 900 W"));
  CHECK_THAT(said_of("  - {name: Ada, threshold_power_W: 250}\n"),
             Contains("riders[0].threshold_power_W: unknown key, expected power_60min_W, the power held for an hour, or"));
  CHECK_THAT(said_of("  - {name: Ada}\n  - {name: Ada}\n"),
             Contains("club.yaml:3:12: riders[1].name: found 'Ada', expected a name that"));
  const Day day;
  CHECK_THAT(
      io_test::said([&] { day.read("club: club.yaml\ncoming: [Ada, Adda, Ada]\n"); }),
      Contains("coming[1]: found 'Adda', expected 'Ada'") && Contains("coming[2]: found 'Ada', expected each rider once"));
  CHECK_THAT(io_test::said([&] { day.read("coming: [Adda]\nriders: [{name: Ada}]\n"); }),
             Contains("coming[0]: found 'Adda', expected 'Ada'"));
  CHECK(said_of("  - {name: Ada}\nroad: {file: r.yaml}\nride: {}\ntitle: T\n").find('\n') == std::string::npos);
  CHECK_THAT(said_of("  - {name: Ada}\nroad: {file: r.yaml}\nride: {}\n"),
             Contains("club.yaml:1:1: found a scenario, expected a club file"));
  CHECK_THAT(said_of("  - {name: Ada, power_60min_W_per_kg: 240}\n"),
             Contains("power_60min_W_per_kg: found 240, expected a number in") && Contains(" W/kg"));
  CHECK_THAT(io_test::said([&] { day.read("club: clup.yaml\n"); }), Contains("club: found 'clup.yaml', expected a file"));
}
