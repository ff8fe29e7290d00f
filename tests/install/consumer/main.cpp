// Two riders on two kilometres at 4 %: who saves by the other's wheel? Built against an installed copy.
#include <cstdio>

#include "leewheel/ride.hpp"

int main() {
  using namespace leewheel;
  Stretch hill;
  hill.length_m = 2000.0;
  hill.grade = 0.04;
  Scenario scenario{.road = Road(profile_from_stretches({hill}, 100.0))};
  for (const char* name : {"Una", "Vera"}) scenario.riders.emplace_back().name = name;
  const RideResult result = ride_to_end(scenario);
  for (const RiderResult& rider : result.riders) std::printf("%s %.1f s\n", rider.name.c_str(), rider.finish_time_s);
  return result.end == RideEnd::all_finished ? 0 : 1;
}
