/// learned.yaml files of several rides: what is kept, what fades, what is refused.

#include <unistd.h>

#include <fmt/format.h>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "io/learned_file.hpp"

using namespace leewheel;
using Catch::Matchers::Contains;

namespace {

/// A folder that goes away with the test.
class Rides {
 public:
  Rides() : folder_(std::filesystem::temp_directory_path() / fmt::format("leewheel-weeks-{}", ::getpid())) {
    std::filesystem::create_directory(folder_);
  }
  ~Rides() { std::filesystem::remove_all(folder_); }
  std::string file(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name) << text;
    return (folder_ / name).string();
  }
  /// A drag area of 0.30 +- 0.01 that was believed to be 0.34 +- 0.05.
  std::string ride(const std::string& name, const std::string& date, double value = 0.30) const {
    return file(name, fmt::format("ride: {{title: Loop, date: \"{}\"}}\nriders: []\nnumbers:\n  - {{rider: Ada, number: "
                                  "drag_area_hoods_m2, value: {}, sd: 0.01, before: 0.34, before_sd: 0.05, how_sure: "
                                  "learned, recording: \"ada.gpx\"}}\n",
                                  date, value));
  }

 private:
  std::filesystem::path folder_;
};

std::string refused(const std::vector<std::string>& paths) {
  try {
    learned_over_weeks(paths, "2027-06-01");
  } catch (const InputFault& fault) {
    return fault.faults().front().text();
  }
  return "was not refused";
}

}  // namespace

TEST_CASE("a lone ride fades to the day asked for, and that day is kept", "[weeks]") {
  const Rides rides;
  const std::string path = rides.ride("a.yaml", "2027-02-01");  // 120 days before
  const LearnedWeeks fresh = learned_over_weeks({path}, "2027-02-01"), faded = learned_over_weeks({path}, "2027-06-01");
  CHECK(fresh.numbers.at(0).sd == Approx(0.01));
  const double own = 1.0 / (0.01 * 0.01) - 1.0 / (0.05 * 0.05), believed = 1.0 / (0.05 * 0.05);
  CHECK(faded.numbers.at(0).sd == Approx(1.0 / std::sqrt(0.5 * own + believed)));
  CHECK(faded.date == "2027-06-01");
  CHECK(learned_over_weeks({path}, "2026-01-01").date == "2027-02-01");  // a day before the ride is none
}

TEST_CASE("a number that has faded to what was believed is not learned any more", "[weeks]") {
  const Rides rides;
  const std::string path = rides.ride("a.yaml", "2024-05-17");
  CHECK(learned_over_weeks({path}, "2024-05-17").numbers.at(0).how_sure == "learned");
  const LearnedWeeks later = learned_over_weeks({path}, "2027-06-01");
  CHECK(later.numbers.at(0).how_sure == "not learned");
  CHECK(learned_over_weeks({rides.file("kept.yaml", kept_yaml(later, {}))}, "2027-06-01").numbers.at(0).rests_on ==
        "2024-05-17 Loop");
}

TEST_CASE("what was kept is read again, with its rides, and fades as they would have", "[weeks]") {
  const Rides rides;
  const std::string may = rides.ride("may.yaml", "2027-05-01", 0.31), june = rides.ride("june.yaml", "2027-06-01", 0.30);
  const LearnedWeeks both = learned_over_weeks({may, june}, "2027-09-01");
  const LearnedWeeks first = learned_over_weeks({may}, "2027-06-01");
  const std::string kept = rides.file("kept.yaml", kept_yaml(first, {}));
  const LearnedWeeks later = learned_over_weeks({kept, june}, "2027-09-01");
  CHECK(later.numbers.at(0).value == Approx(both.numbers.at(0).value).epsilon(1e-4));
  CHECK(later.numbers.at(0).sd == Approx(both.numbers.at(0).sd).epsilon(1e-3));
  CHECK(later.numbers.at(0).rests_on == "2027-05-01 Loop; 2027-06-01 Loop");
}

TEST_CASE("the same ride twice is refused, by itself or within what was kept", "[weeks]") {
  const Rides rides;
  const std::string may = rides.ride("may.yaml", "2027-05-01"), copy = rides.ride("copy.yaml", "2027-05-01");
  CHECK_THAT(refused({may, copy}),
             Contains("copy.yaml: ride: found 2027-05-01 Loop a second time, expected each ride once"));
  const std::string kept =
      rides.file("kept.yaml", kept_yaml(learned_over_weeks({may, rides.ride("b.yaml", "2027-05-09")}, "2027-06-01"), {}));
  CHECK_THAT(refused({kept, may}), Contains("found 2027-05-01 Loop a second time"));
}

TEST_CASE("a club file is no ride", "[weeks]") {
  const Rides rides;
  CHECK_THAT(refused({rides.file("club.yaml", "riders:\n  - {name: Ada, body_mass_kg: 60}\n")}),
             Contains("ride: missing, expected a learned.yaml of leewheel debrief"));
}

TEST_CASE("critical power of an all-out effort counts by itself and never within 5 %", "[weeks]") {
  const Rides rides;
  const auto effort = [&](const std::string& name, const std::string& date) {
    return rides.file(name,
                      fmt::format("ride: {{title: Climb, date: \"{}\"}}\nriders: []\nnumbers:\n  - {{rider: Ada, number: "
                                  "critical_power_W, value: 250, sd: 12.5, before: 240, before_sd: 7, how_sure: learned, "
                                  "recording: \"ada.gpx\"}}\n",
                                  date));
  };
  const LearnedWeeks all =
      learned_over_weeks({effort("a.yaml", "2027-05-30"), effort("b.yaml", "2027-06-01")}, "2027-06-01");
  CHECK(all.numbers.at(0).value == Approx(250.0));
  CHECK(all.numbers.at(0).sd == Approx(12.5));
  CHECK(all.numbers.at(0).how_sure == "learned");
  CHECK(all.numbers.at(0).rests_on == "2027-05-30 Climb; 2027-06-01 Climb");
}
