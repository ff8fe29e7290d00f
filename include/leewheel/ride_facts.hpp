#pragma once
/// Values derived from the result of a ride: its stretches, savings by stretch, and riders who finished together.

#include <limits>
#include <string>
#include <vector>

#include "leewheel/descent.hpp"
#include "leewheel/ride.hpp"

namespace leewheel {

/// Marks a figure that has no value; files leave it empty, people read a dash.
inline constexpr double no_value = std::numeric_limits<double>::quiet_NaN();

/// The way from one landmark to the next, for one rider: from going on at the one to arriving at the other.
struct StretchRidden {
  std::string from, to;
  double from_m = 0.0, to_m = 0.0;
  double arrive_s = 0.0, go_on_s = 0.0;  ///< at its end
  double waited_s = 0.0;                 ///< at its end, and at places on the way that have no landmark
  double riding_s = 0.0;                 ///< without waits
  double arrive_power_W = 0.0;
  double pedal_J = 0.0, saved_J = 0.0, alone_J = 0.0, sheltered_s = 0.0;
  double wbal_J = 0.0, wbal_go_on_J = 0.0;  ///< at its end
  double front_s = 0.0;                     ///< in front of others; 0 where the stretch is not ridden in a line
  double follow_s = 0.0;                    ///< behind in a line, or on the way back in it
  std::size_t turns = 0;                    ///< begun in front, or taken over from a stretch not ridden in a line
  double solo_riding_s = no_value;          ///< alone with the same plan
  double power_W() const { return riding_s > 0.0 ? pedal_J / riding_s : 0.0; }
  double saved_W() const { return riding_s > 0.0 ? saved_J / riding_s : 0.0; }
  double sheltered_share() const { return riding_s > 0.0 ? sheltered_s / riding_s : 0.0; }
};

/// The same stretch, over all who rode it.
struct StretchOfRide : RoadStretch {
  double grade = 0.0;
  double speed_mps = 0.0;    ///< mean over riders and riding time
  double saved_W = 0.0;      ///< the same
  double saved_share = 0.0;  ///< of all riders' work without others' wakes
  std::size_t most = 0;      ///< rider who saved most
  double most_W = 0.0;
  double line_share = 0.0;     ///< of riding time, all riders: in a line of two or more
  bool climbs_freely = false;  ///< see below
  /// Else everyone rides at the own pace (one half is assumed).
  bool in_a_line() const { return line_share >= 0.5 && !climbs_freely; }
  bool descent() const { return is_descent(grade, speed_mps); }
  /// Wheels and turns are told there: never on a descent, though a line may come down it.
  bool wheels_advised() const { return in_a_line() && !descent(); }
};

/// One rider over the whole ride.
struct RiderFacts {
  std::vector<StretchRidden> stretches;  ///< in the order of the road, as far as the rider came
  double front_s = 0.0;                  ///< sum over the stretches
  std::size_t turns = 0;                 ///< the same
};

/// A rider's rerun alone; nullptr when there is none. `solo`: one result a rider, in the order of the scenario.
const RiderResult* solo_of(const std::vector<RideResult>& solo, std::size_t rider);

/// What every output tells of a ride is worked out here, once.
struct RideFacts {
  std::vector<StretchOfRide> stretches;  ///< those that somebody rode to their end
  std::vector<RiderFacts> riders;        ///< in the order of the scenario
};
RideFacts facts_of(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo = {});

/// Whether everyone climbs freely where a line saves this share of power alone: whoever is first leads nobody who gains by it.
bool climbs_freely(const Scenario& scenario, double saved_share);

/// Where and how long riders waited.
struct WaitOfRide {
  PlannedStop place;
  std::string name;  ///< its landmark; empty where there is none
  struct Rider {
    std::uint32_t rider;
    double arrive_s, go_on_s;  ///< go_on_s < 0: still there at the end
    double waited_s(double end_s) const { return (go_on_s < 0.0 ? end_s : go_on_s) - arrive_s; }
  };
  std::vector<Rider> waited;  ///< as they arrived
  /// The wait was given up: who left, after how long, and who came how long after.
  struct GivenUp {
    double left_s, waited_s;
    std::vector<std::uint32_t> left;
    struct Late {
      std::uint32_t rider;
      double later_s;  ///< no_value: never came
    };
    std::vector<Late> late;
  };
  std::vector<GivenUp> given_up;
};
/// Every waiting place of the ride, in the order of the road.
std::vector<WaitOfRide> waits_of(const Scenario& scenario, const RideResult& result);

/// A rider lost the group that meant to stay together; who rides at the own pace because everyone climbs freely did not.
bool comes_off(const Event& event);

/// 100 part / whole; no_value when there is no whole.
double percent(double part, double whole);

/// Riding time alone less riding time in company (s), > 0 sooner; waits and stops do not count.
double time_saved_s(const RiderResult& rider, const RiderResult* alone_again);
/// Door to door alone less door to door in company (s): waits and stops count. Alone there are none.
double door_to_door_saved_s(const RiderResult& rider, const RiderResult* alone_again);

/// The rider with the largest ledger error.
std::size_t worst_ledger(const RideResult& result);

/// Riders who finished together, by time, then name: a gap of a second or more to the rider ahead begins a new group.
std::vector<std::vector<std::uint32_t>> finish_groups(const RideResult& result);

/// Air density at the start of the road (kg/m3).
double start_density_kgpm3(const Scenario& scenario);

std::vector<std::string> names_of(const Scenario& scenario, const std::vector<std::uint32_t>& riders);

}  // namespace leewheel
