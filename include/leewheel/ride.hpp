#pragma once
/// The ride: takes values, moves everyone up the road in fixed steps, hands out values. Knows no file, screen or thread.

#include <array>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "leewheel/air.hpp"
#include "leewheel/bunch.hpp"
#include "leewheel/ledger.hpp"
#include "leewheel/rider.hpp"
#include "leewheel/road.hpp"
#include "leewheel/strength.hpp"
#include "leewheel/tactics.hpp"
#include "leewheel/trace.hpp"
#include "leewheel/uncertainty.hpp"
#include "leewheel/wake.hpp"
#include "leewheel/wind.hpp"

namespace leewheel {

/// How the ride is ridden.
struct RideSettings {
  RideKind kind = RideKind::steady;
  Formation formation = Formation::turns;
  double step_s = 0.1;  ///< 0.02 to 1
  double lee_interval_s =
      0.5;  ///< lee, wind, air density and rolling at a rider are looked up this often (at least every step)
  double record_interval_s = 1.0;
  double time_limit_s = 6 * 3600.0;
  double start_speed_mps = 3.0;
  double start_gap_m = 1.0;  ///< wheel gap of the start line
  int start_abreast = 1;
  std::vector<std::string> order;    ///< names from the front; riders not named follow by name
  std::vector<double> regroup_at_m;  ///< distances where the first wait for the last, sorted
  bool keep_right = true;            ///< the side of the road the group keeps
  bool closed_road = false;          ///< closed to traffic: the whole width may be used
  bool fatigue = false;              ///< critical power and W' fade over long heavy riding (Clark et al. 2019)
  RecoveryLaw recovery_law = RecoveryLaw::differential;
  std::uint64_t seed = 1;
};

std::span<const NumberField<RideSettings>> ride_fields();  ///< its numbers of type double

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
  BunchSettings bunch;
  WakeLaw lee;
  Uncertainty uncertainty{};    ///< how far each input may lie from the value here
  std::vector<Order> orders{};  ///< choices laid upon riders; usually none
};

/// Whether the whole width may be used; not on the last metres, where riders are back on their side before traffic comes.
bool closed_to_traffic(const Scenario& scenario, double distance_m);

/// Where on the road riders may be (m from its middle, > 0 left).
struct Lane {
  double low_m, high_m;
};
Lane lane_at(const Scenario& scenario, double distance_m);

/// Two side by side, by the rules of the stretch and the width of the lane: without it nobody swings off the front.
bool room_for_two(const Scenario& scenario, double distance_m);

/// A rider passing a landmark (the finish is the last); sums since the start.
struct Passage {
  std::string name;
  double distance_m, time_s;
  double power_W;  ///< at that moment
  double wbal_J, pedal_J, saved_J, alone_J, sheltered_s;
};

enum class RideEnd : std::uint8_t { riding, all_finished, time_limit, rider_stalled };
inline constexpr const char* ride_end_names[] = {"riding", "all_finished", "time_limit", "rider_stalled"};

struct RiderResult {
  std::string name;
  bool finished = false;
  double finish_time_s = 0.0;  ///< or the time the ride ended
  double distance_m = 0.0;
  double mean_power_W = 0.0;
  double sheltered_share = 0.0;  ///< of riding time with a lee factor below 0.95
  double wbal_end_J = 0.0, wbal_least_J = 0.0;
  std::array<double, recovery_law_names.size()> wbal_end_by_law_J{};  ///< the same powers under each published law
  double waited_s = 0.0;                                              ///< standing at regroup points
  double in_group_s = 0.0;                                            ///< with others
  double overlap_s = 0.0;  ///< time with a wheel beside another's within 0.5 m: a hazard, counted
  double largest_side_force_N = 0.0;
  EnergyLedger ledger;
  std::vector<Passage> landmarks;
  double given_J = 0.0, received_J = 0.0;
};

struct GroupSpan {  ///< one group's life
  std::int32_t id;
  double from_s, to_s;
  std::uint32_t largest;
  std::vector<std::uint32_t> riders;  ///< everyone who was ever in it
};

struct RideResult {
  RideEnd end;
  double time_s;
  std::vector<RiderResult> riders;  ///< in the order of the scenario
  std::vector<GroupSpan> groups;
  std::vector<Event> events;
  std::vector<LeeDebt> debts;
};

class Ride {
 public:
  /// @param notes_debts  keeps the books of who towed whom; many rides that ask only for times go without
  explicit Ride(const Scenario& scenario, bool notes_debts = true);
  ~Ride();
  Ride(Ride&&) noexcept;

  void step();
  RideEnd end() const;  ///< `riding` until it is over
  double time_s() const;
  std::uint64_t tick() const;
  double first_distance_m() const;  ///< of the first rider on the road, for progress
  void sample(RideSample& into) const;
  RideResult result() const;

  struct State;  ///< the inside, known to the sources of the model only

 private:
  std::unique_ptr<State> state_;
};

/// Rides to the end without recording.
RideResult ride_to_end(const Scenario& scenario);

/// The scenario with one rider alone: same road, wind, air and power plan, no lee.
Scenario alone(const Scenario& scenario, std::size_t rider);

}  // namespace leewheel
