#pragma once
/// Everything a ride needs, as plain values.

#include <chrono>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "leewheel/air.hpp"
#include "leewheel/groups.hpp"
#include "leewheel/heat.hpp"
#include "leewheel/rider.hpp"
#include "leewheel/road.hpp"
#include "leewheel/strength.hpp"
#include "leewheel/tactics.hpp"
#include "leewheel/uncertainty.hpp"
#include "leewheel/wake.hpp"
#include "leewheel/wind.hpp"

namespace leewheel {

/// A place where everyone stops for a while: water, a café.
struct PlannedStop {
  double at_m;
  double stop_s;       ///< the group goes on when the last to come has stood so long; 0: a mere regroup point
  std::string what{};  ///< for what; may be empty
};

/// A rider who is on the road when the ride begins.
struct OnTheWay {
  std::string rider;
  double at_m = 0.0;        ///< >= 0
  double wbal_share = 1.0;  ///< of W' left, 0 to 1
};

/// How the ride is ridden.
struct RideSettings {
  RideKind kind = RideKind::steady;
  Formation formation = Formation::turns;
  double step_s = 0.1;  ///< 0.02 to 1
  double wake_interval_s =
      0.5;  ///< interval at which drag factor, wind, air density and rolling resistance are updated (at least every step)
  double record_interval_s = 1.0;
  double time_limit_s = 6 * 3600.0;
  double start_speed_mps = 3.0;
  double start_gap_m = 1.0;  ///< wheel gap of the start line
  int start_abreast = 1;
  std::vector<std::string> start_order;  ///< names from the front; riders not named follow by name
  std::vector<double> regroup_at_m;      ///< distances where the first riders wait for the last, sorted
  std::vector<PlannedStop> stops{};      ///< sorted by distance
  std::vector<OnTheWay> on_the_way{};    ///< who does not begin at the start with all of W'
  bool keep_right = true;                ///< the side of the road the group keeps
  bool closed_road = false;              ///< closed to traffic: the whole width may be used
  bool fatigue = false;                  ///< critical power and W' fade over long heavy riding (Clark et al. 2019)
  RecoveryLaw recovery_law = RecoveryLaw::differential;
  std::uint64_t seed = 1;
};

std::span<const NumberField<RideSettings>> ride_fields();  ///< its numbers of type double

struct Survey;  ///< of road, air and land (model/survey.hpp)

/// Everything a ride needs.
struct Scenario {
  std::string title, question, finding;
  Road road;
  AirState air;
  double air_station_altitude_m = 0.0;
  double gravity_mps2 = 9.80665;
  WindSettings wind;
  std::vector<RiderSettings> riders;         ///< names unique
  std::vector<std::vector<PlanStep>> plans;  ///< by rider, sorted by distance; empty = target_effort throughout
  RideSettings ride;
  TacticsSettings tactics;
  GroupSettings groups;
  WakeLaw wake;
  Uncertainty uncertainty{};                ///< standard deviation of each input
  std::vector<Instruction> instructions{};  ///< choices imposed on riders; usually none
  std::vector<StrengthBasis> rests_on{};    ///< by rider: what its strength was given as; may be empty
  HeatSettings heat{};
  std::optional<std::chrono::local_seconds> start{};  ///< by the clock where the ride is; knows no time zone, moves no rider
  std::shared_ptr<const Survey> survey{};             ///< of this road, kept for many rides; moves no rider, see `surveyed`
};

/// The scenario with its road, air and land surveyed. Copies share the survey, so that many rides of them begin sooner. Whoever
/// changes a copy need not think of it: a ride that the survey does not fit makes its own.
Scenario surveyed(Scenario scenario);

/// Where the ride waits or stops, in the order of the road: its stops, and its regroup points but those beside a stop.
std::vector<PlannedStop> waiting_places(const RideSettings& ride);

/// The scenario with a landmark, "km 6.5", at every such place that lies beside none, so that every wait has a name.
Scenario with_named_waits(Scenario scenario);

/// Whether the whole width may be used; not on the last metres of a closed stretch, where riders return to their side.
bool closed_to_traffic(const Scenario& scenario, double distance_m);

/// Where on the road riders may be (m from its middle, > 0 left).
struct Lane {
  double low_m, high_m;
};
Lane lane_at(const Scenario& scenario, double distance_m);

/// Whether two may ride side by side, by rule and width of lane; without it nobody swings off.
bool room_for_two(const Scenario& scenario, double distance_m);

/// The scenario with one rider alone: same road, wind, air and power plan, nobody else's wake, no waits and no stops.
Scenario alone(const Scenario& scenario, std::size_t rider);

}  // namespace leewheel
