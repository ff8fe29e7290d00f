#include "model/survey.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"
#include "leewheel/uncertainty.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// Hills, a bend, trees, gusts, a windbreak and two stations: something for every part of a survey.
Scenario varied() {
  Scenario s = scenes::scene(scenes::smooth_hills(2000.0), scenes::club(4));
  s.tactics = TacticsSettings{};
  s.wind.gusts = Gusts::on;
  s.wind.hills_from_road = true;
  s.wind.windbreaks = {Windbreak{.from_m = 50.0, .to_m = 150.0}};
  s.wind.stations = {{"here", 0.0, 0.0, {{0.0, 5.0, 4.0}}}, {"there", 0.0, 2000.0, {{0.0, 7.0, 3.0}}}};
  return s;
}

/// The state after a minute.
std::uint64_t ridden(const Scenario& s) {
  Ride ride(s);
  while (ride.time_s() < 60.0 && ride.end() == RideEnd::riding) ride.step();
  RideSample sample;
  ride.sample(sample);
  return scenes::hash_of(sample);
}

/// A value of the field's range that is not far from the one that stands.
template <class Settings>
void move(const NumberField<Settings>& field, Settings& settings) {
  double& value = settings.*field.member;
  const double by = 0.02 * (std::min(field.highest, 100.0) - field.lowest);
  value += value + by <= field.highest ? by : -by;
}

using Change = std::function<void(Scenario&)>;

/// Every number of the settings, moved a little, and what has no number.
std::vector<std::pair<std::string, Change>> changes() {
  std::vector<std::pair<std::string, Change>> all{
      {"road", [](Scenario& s) { s.road = scenes::constant_grade(2000.0, 0.04); }},
      {"landmark", [](Scenario& s) { s.road = scenes::with_landmarks(s.road, {100.0}); }},
      {"air", [](Scenario& s) { s.air.temperature_C += 5.0; }},
      {"altitude", [](Scenario& s) { s.air_station_altitude_m += 500.0; }},
      {"gravity", [](Scenario& s) { s.gravity_mps2 += 0.05; }},
      {"closed road", [](Scenario& s) { s.ride.closed_road = true; }},
      {"side of the road", [](Scenario& s) { s.ride.keep_right = false; }},
      {"no windbreak", [](Scenario& s) { s.wind.windbreaks.clear(); }},
      {"windbreak", [](Scenario& s) { s.wind.windbreaks.front().height_m = 15.0; }},
      {"no hills", [](Scenario& s) { s.wind.hills_from_road = false; }},
      {"no gusts", [](Scenario& s) { s.wind.gusts = Gusts::off; }},
      {"one station", [](Scenario& s) { s.wind.stations.pop_back(); }},
      {"station elsewhere", [](Scenario& s) { s.wind.stations.back().east_m = 500.0; }},
      {"forecast", [](Scenario& s) { s.wind.stations.back().forecast.front().from_rad = 1.0; }},
      {"seed", [](Scenario& s) { s.ride.seed = 7; }},
      {"another day", [](Scenario& s) { s = on_day(s, draw_day(s, 3, 5)); }},
      {"alone", [](Scenario& s) { s = alone(s, 2); }}};
  for (const auto& field : wind_fields()) all.emplace_back(field.name, [field](Scenario& s) { move(field, s.wind); });
  for (const auto& field : tactics_fields()) all.emplace_back(field.name, [field](Scenario& s) { move(field, s.tactics); });
  return all;
}

bool shares(const Scenario& s, const Scenario& with) { return survey_of(s) == with.survey; }

}  // namespace

TEST_CASE("a ride with a survey made before a change is the ride without one", "[survey]") {
  const Scenario kept = surveyed(varied());
  REQUIRE(ridden(kept) == ridden(varied()));
  for (const auto& [name, change] : changes()) {
    CAPTURE(name);
    Scenario with = kept, without = varied();
    change(with);
    change(without);
    CHECK(ridden(with) == ridden(without));
  }
}

TEST_CASE("days, riders alone and calm days share one survey, another road or air does not", "[survey]") {
  const Scenario kept = surveyed(varied());
  CHECK(surveyed(kept).survey == kept.survey);
  CHECK(shares(on_day(kept, draw_day(kept, 3, 5)), kept));
  CHECK(shares(alone(kept, 1), kept));
  Scenario calm = kept;
  calm.wind.gusts = Gusts::off;
  CHECK(shares(calm, kept));
  calm.survey.reset();
  CHECK_FALSE(shares(kept, surveyed(calm)));
  Scenario thin = kept;
  thin.air.pressure_Pa = 80000.0;
  CHECK_FALSE(shares(thin, kept));
  Scenario same_road = kept;
  same_road.road = scenes::smooth_hills(2000.0);
  CHECK(shares(same_road, kept));
}

TEST_CASE("a copy of a road shares what it was sampled to", "[road][survey]") {
  const Road road = scenes::smooth_hills(500.0), copy = road;
  CHECK(&road.profile() == &copy.profile());
  CHECK(road == copy);
  CHECK(road == scenes::smooth_hills(500.0));
  CHECK_FALSE(road == scenes::with_landmarks(road, {100.0}));
}
