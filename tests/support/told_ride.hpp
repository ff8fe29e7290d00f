#pragma once
/// The result of a ride made up by hand, for what tells of it.

#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace told_ride {

using namespace leewheel;

/// Two kilometres and two riders whose figures are easy to add up by hand.
struct Told {
  Scenario scenario;
  RideResult result;
  std::vector<RideResult> solo;
};

inline RiderResult rider(const std::string& name, double slower) {
  RiderResult r;
  r.name = name;
  r.finished = true;
  r.finish_time_s = 400.0 + slower;
  r.distance_m = 2000.0;
  r.mean_power_W = 200.0;
  r.wbal_end_J = 9000.0;
  r.ledger = {.pedal_J = 80000.0,
              .drivetrain_J = 2000.0,
              .air_J = 40000.0,
              .rolling_J = 8000.0,
              .bearings_J = 0.0,
              .braking_J = 0.0,
              .potential_J = 30000.0,
              .kinetic_J = 0.0,
              .alone_J = 100000.0,
              .saved_J = 20000.0};
  r.landmarks = {{"Gate", 1000.0, 150.0, 210.0, 12000.0, 30000.0, 15000.0, 45000.0, 140.0},
                 {"finish", 2000.0, 400.0 + slower, 190.0, 9000.0, 80000.0, 20000.0, 100000.0, 200.0}};
  return r;
}

inline Told told() {
  RoadProfile profile;
  profile.spacing_m = 1000.0;
  profile.elevation_m = {100.0, 110.0, 170.0};
  profile.heading_rad = profile.rolling = profile.width_m = {1.0, 1.0, 1.0};
  profile.exposure_left = profile.exposure_right = {Exposure::wood, Exposure::wood, Exposure::wood};
  profile.abreast = {2, 2, 2};
  profile.landmarks = {{"Gate", 1000.0}};
  Scenario scenario{"Two", "", "", Road(profile), {}, 0.0, 9.80665, {}, {}, {}, {}, {}, {}, {}};
  scenario.riders.resize(2);
  scenario.riders[0].name = "Jörn, \"tall\"";
  scenario.riders[1].name = "小林";
  RideResult result{
      RideEnd::all_finished, 400.0, {rider(scenario.riders[0].name, 0.0), rider(scenario.riders[1].name, 5.0)}, {}, {},
      {{0, 1, 20000.0}}};
  result.events = {{EventKind::dropped, 300.0, 1500.0, {1}, 1, {Reason::wheel_too_costly, 0, {208.4, 200.0}}}};
  RideResult alone_again = result;
  alone_again.riders.resize(1);
  alone_again.riders[0].finish_time_s = 460.0;
  alone_again.riders[0].landmarks[0].time_s = 180.0;
  alone_again.riders[0].landmarks[1].time_s = 460.0;
  return {scenario, result, {alone_again, alone_again}};
}

}  // namespace told_ride
