#include <catch2/catch.hpp>
#include <functional>
#include <set>
#include <string>
#include <vector>

#include "leewheel/ensemble.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

/// A scenario in which nothing is empty.
Scenario full_scenario() {
  Scenario s = scenes::scene(scenes::with_landmarks(scenes::grades({0.01, 0.05}, 300.0), {300.0}), scenes::club(2));
  RoadProfile profile = s.road.profile();
  profile.closed.assign(profile.elevation_m.size(), 0);
  s.road = Road(std::move(profile));
  s.wind.forecast = {{0.0, 3.0, 0.1}, {600.0, 4.0, 0.2, 6.0, 15.0, 1e5, 0.5}};
  s.wind.stations = {{"low", 0.0, 0.0, s.wind.forecast}, {"high", 100.0, 50.0, s.wind.forecast}};
  s.wind.windbreaks = {Windbreak{10.0, 50.0}};
  s.wind.hills = {RoadHill{}};
  s.plans = {{{0.0, 0.8}}, {}};
  s.ride.start_order = {s.riders[1].name};
  s.ride.regroup_at_m = {200.0};
  s.ride.stops = {{400.0, 300.0, "water"}};
  s.instructions = {{0, 10.0, 20.0, Choice::alone}};
  return s;
}

using Change = std::function<void(Scenario&)>;

bool seen(const Change& change) {
  static const Scenario before = full_scenario();
  Scenario after = before;
  change(after);
  return scenario_digest(after) != scenario_digest(before);
}

/// Every number of a table, changed by itself.
template <class Settings, class In>
void check_table(std::span<const NumberField<Settings>> fields, In in) {
  for (const auto& field : fields) {
    INFO(field.name);
    CHECK(seen([&](Scenario& s) { in(s).*field.member += 0.015625; }));
  }
}

template <class Settings>
bool covers(std::span<const NumberField<Settings>> fields, std::size_t other_bytes = 0) {
  return sizeof(Settings) == fields.size() * sizeof(double) + other_bytes;
}

void change_road(Scenario& s, const std::function<void(RoadProfile&)>& change) {
  RoadProfile profile = s.road.profile();
  change(profile);
  s.road = Road(std::move(profile));
}

}  // namespace

TEST_CASE("tables that the digest walks hold every member of their struct", "[digest]") {
  CHECK(covers(rider_fields(), sizeof(RiderSettings::name)));
  CHECK(covers(tactics_fields()));
  CHECK(covers(group_fields()));
  CHECK(covers(SuperposedWakes::fields()));
  CHECK(covers(uncertainty_fields()));
}

TEST_CASE("the digest sees every number of every table of settings", "[digest]") {
  check_table(rider_fields(), [](Scenario& s) -> RiderSettings& { return s.riders[1]; });
  check_table(ride_fields(), [](Scenario& s) -> RideSettings& { return s.ride; });
  check_table(tactics_fields(), [](Scenario& s) -> TacticsSettings& { return s.tactics; });
  check_table(group_fields(), [](Scenario& s) -> GroupSettings& { return s.groups; });
  check_table(SuperposedWakes::fields(), [](Scenario& s) -> SuperposedWakes& { return std::get<SuperposedWakes>(s.wake); });
  check_table(wind_fields(), [](Scenario& s) -> WindSettings& { return s.wind; });
  check_table(uncertainty_fields(), [](Scenario& s) -> Uncertainty& { return s.uncertainty; });
}

TEST_CASE("the digest sees what stands in no table: ride, riders, plans and orders", "[digest]") {
  const std::vector<Change> changes{[](Scenario& s) { s.riders[0].name += "x"; },
                                    [](Scenario& s) { std::swap(s.riders[0], s.riders[1]); },
                                    [](Scenario& s) { s.plans[0][0].from_m = 5.0; },
                                    [](Scenario& s) { s.plans[0][0].effort = 0.9; },
                                    [](Scenario& s) { std::swap(s.plans[0], s.plans[1]); },
                                    [](Scenario& s) { s.ride.kind = RideKind::race; },
                                    [](Scenario& s) { s.ride.formation = Formation::circulating; },
                                    [](Scenario& s) { s.ride.start_abreast = 2; },
                                    [](Scenario& s) { s.ride.start_order = {s.riders[0].name}; },
                                    [](Scenario& s) { s.ride.regroup_at_m.clear(); },
                                    [](Scenario& s) { s.ride.stops.clear(); },
                                    [](Scenario& s) { s.ride.stops[0].at_m += 1.0; },
                                    [](Scenario& s) { s.ride.stops[0].stop_s += 1.0; },
                                    [](Scenario& s) { s.ride.keep_right = !s.ride.keep_right; },
                                    [](Scenario& s) { s.ride.closed_road = !s.ride.closed_road; },
                                    [](Scenario& s) { s.ride.fatigue = !s.ride.fatigue; },
                                    [](Scenario& s) { s.ride.recovery_law = RecoveryLaw::steeper; },
                                    [](Scenario& s) { ++s.ride.seed; },
                                    [](Scenario& s) { s.wake = WheelGapWake{}; },
                                    [](Scenario& s) { s.instructions[0].rider = 1; },
                                    [](Scenario& s) { s.instructions[0].from_m = 11.0; },
                                    [](Scenario& s) { s.instructions[0].to_m = 21.0; },
                                    [](Scenario& s) { s.instructions[0].choice = Choice::sits_in; },
                                    [](Scenario& s) { s.air.temperature_C += 1.0; },
                                    [](Scenario& s) { s.air.pressure_Pa += 1.0; },
                                    [](Scenario& s) { s.air.humidity_fraction += 0.1; },
                                    [](Scenario& s) { s.air_station_altitude_m += 1.0; },
                                    [](Scenario& s) { s.gravity_mps2 += 0.01; }};
  for (std::size_t k = 0; k < changes.size(); ++k) {
    INFO("change " << k);
    CHECK(seen(changes[k]));
  }
}

TEST_CASE("the digest sees every value of the road and of the wind", "[digest]") {
  const std::vector<std::function<void(RoadProfile&)>> road{[](RoadProfile& r) { r.spacing_m *= 2.0; },
                                                            [](RoadProfile& r) { r.elevation_m[7] += 0.1; },
                                                            [](RoadProfile& r) { r.heading_rad[7] += 0.1; },
                                                            [](RoadProfile& r) { r.rolling[7] += 0.001; },
                                                            [](RoadProfile& r) { r.width_m[7] += 0.1; },
                                                            [](RoadProfile& r) { r.exposure_left[7] = Exposure::wood; },
                                                            [](RoadProfile& r) { r.exposure_right[7] = Exposure::wood; },
                                                            [](RoadProfile& r) { r.abreast[7] += 1; },
                                                            [](RoadProfile& r) { r.closed[7] = 1; },
                                                            [](RoadProfile& r) { r.closed.clear(); },
                                                            [](RoadProfile& r) { r.landmarks[0].distance_m += 1.0; },
                                                            [](RoadProfile& r) { r.landmarks[0].name += "x"; },
                                                            [](RoadProfile& r) { r.landmarks.clear(); },
                                                            [](RoadProfile& r) { r.latitude_rad += 0.1; },
                                                            [](RoadProfile& r) { r.longitude_rad += 0.1; },
                                                            [](RoadProfile& r) { r.has_position = !r.has_position; }};
  for (std::size_t k = 0; k < road.size(); ++k) {
    INFO("road " << k);
    CHECK(seen([&](Scenario& s) { change_road(s, road[k]); }));
  }
  const std::vector<std::function<void(WindSettings&)>> wind{
      [](WindSettings& w) { w.forecast[1].time_s += 1.0; },
      [](WindSettings& w) { w.forecast[1].speed_mps += 1.0; },
      [](WindSettings& w) { w.forecast[1].from_rad += 0.1; },
      [](WindSettings& w) { w.forecast[1].gust_mps.reset(); },
      [](WindSettings& w) { *w.forecast[1].gust_mps += 1.0; },
      [](WindSettings& w) { w.forecast[1].temperature_C.reset(); },
      [](WindSettings& w) { *w.forecast[1].pressure_Pa += 1.0; },
      [](WindSettings& w) { *w.forecast[1].humidity_fraction += 0.1; },
      [](WindSettings& w) { w.forecast.pop_back(); },
      [](WindSettings& w) { w.stations[1].name += "x"; },
      [](WindSettings& w) { w.stations[1].east_m += 1.0; },
      [](WindSettings& w) { w.stations[1].north_m += 1.0; },
      [](WindSettings& w) { w.stations[1].forecast[0].speed_mps += 1.0; },
      [](WindSettings& w) { w.windbreaks[0].from_m += 1.0; },
      [](WindSettings& w) { w.windbreaks[0].to_m += 1.0; },
      [](WindSettings& w) { w.windbreaks[0].side = ShelterSide::left; },
      [](WindSettings& w) { w.windbreaks[0].kind = ShelterKind::wall; },
      [](WindSettings& w) { w.windbreaks[0].height_m += 1.0; },
      [](WindSettings& w) { w.windbreaks[0].distance_m += 1.0; },
      [](WindSettings& w) { w.hills[0].crest_m += 1.0; },
      [](WindSettings& w) { w.hills[0].height_before_m += 1.0; },
      [](WindSettings& w) { w.hills[0].length_before_m += 1.0; },
      [](WindSettings& w) { w.hills[0].height_behind_m += 1.0; },
      [](WindSettings& w) { w.hills[0].length_behind_m += 1.0; },
      [](WindSettings& w) { w.hills[0].across_rad += 0.1; },
      [](WindSettings& w) { w.hills[0].from_m += 1.0; },
      [](WindSettings& w) { w.hills[0].to_m += 1.0; },
      [](WindSettings& w) { w.hills[0].cliff = true; },
      [](WindSettings& w) { w.hills_from_road = !w.hills_from_road; },
      [](WindSettings& w) { w.gusts = Gusts::on; },
      [](WindSettings& w) { w.yaw_drag = !w.yaw_drag; }};
  for (std::size_t k = 0; k < wind.size(); ++k) {
    INFO("wind " << k);
    CHECK(seen([&](Scenario& s) { wind[k](s.wind); }));
  }
}

TEST_CASE("words of the scenario are no part of the digest", "[digest]") {
  CHECK_FALSE(seen([](Scenario& s) { s.title = s.question = s.finding = "another"; }));
  CHECK_FALSE(seen([](Scenario&) {}));
}
