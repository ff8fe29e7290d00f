#pragma once
/// The ride: moves all riders up the road in fixed steps. Takes and returns values; uses no file, screen or thread.

#include <array>
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "leewheel/ledger.hpp"
#include "leewheel/scenario.hpp"
#include "leewheel/trace.hpp"

namespace leewheel {

/// A rider at a landmark (the finish is the last), on arrival; sums since the start. Where riders wait, a rider arrives by
/// coming to a stop (slower than `standing_mps`) in the file of those who wait, before or behind the landmark, and goes on
/// when the wait is over; everywhere else both are the moment in which the front wheel passes.
struct Passage {
  std::string name;
  double distance_m, time_s;  ///< time_s: arrives
  double power_W;             ///< at that moment
  double wbal_J, pedal_J, saved_J, alone_J, sheltered_s;
  double waited_s = 0.0;             ///< from arriving to going on
  double regained_J = 0.0;           ///< of W', meanwhile
  double sheltered_waiting_s = 0.0;  ///< of the wait, with a drag factor below 0.95
  double front_s = 0.0;              ///< as the first of a line of two or more, in whole seconds
  double follow_s = 0.0;             ///< behind in a line, or on the way back in it
  std::size_t turns = 0;             ///< spells in front of `least_turn_s` or more
  bool leads_on = false;             ///< in the middle of such a spell
  double go_on_s() const { return time_s + waited_s; }
  double wbal_go_on_J() const { return wbal_J + regained_J; }
};
inline constexpr double least_turn_s = 10.0;  ///< a shorter spell in front is no turn (assumed)

/// A wait at a regroup point or stop.
struct Wait {
  double at_m;  ///< of the place, as in `waiting_places`
  double arrive_s;
  double go_on_s;  ///< < 0: still there when the ride ended
};

enum class RideEnd : std::uint8_t { riding, all_finished, time_limit, rider_stalled };
inline constexpr const char* ride_end_names[] = {"riding", "all_finished", "time_limit", "rider_stalled"};

struct RiderResult {
  std::string name;
  bool finished = false;
  double finish_time_s = 0.0;  ///< or the time the ride ended
  double distance_m = 0.0;
  double mean_power_W = 0.0;     ///< while riding: waits do not count
  double sheltered_share = 0.0;  ///< of riding time with a drag factor below 0.95
  double sheltered_s = 0.0;      ///< of all the time, waits included
  double wbal_end_J = 0.0, wbal_least_J = 0.0;
  /// The same powers under each published law; not a number for laws that `RideOptions::notes_laws` leaves out.
  std::array<double, recovery_law_names.size()> wbal_end_by_law_J{};
  double waited_s = 0.0;    ///< from arriving to going on, all waits
  double in_group_s = 0.0;  ///< with others
  double overlap_s = 0.0;   ///< time during which a wheel overlaps another's (`wheels_overlap`): a hazard
  double largest_side_force_N = 0.0;
  EnergyLedger ledger;
  std::vector<Passage> landmarks;  ///< those passed, the finish last
  std::vector<Passage> timing;     ///< the front wheel at `RideOptions::timing_points_m`, without names and waits
  std::vector<Wait> waits;
  double given_J = 0.0, received_J = 0.0;
  double riding_s() const { return finish_time_s - waited_s; }
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
  std::vector<TowDebt> debts;
};

/// What a ride records in addition; these options do not change the ride.
struct RideOptions {
  bool notes_debts = true;                ///< record who towed whom; off for rides that need only times
  bool notes_laws = true;                 ///< record what W' would be by the other laws of recovery
  std::vector<double> timing_points_m{};  ///< rising; every rider is timed at each
};

class Ride {
 public:
  explicit Ride(const Scenario& scenario, RideOptions options = {});
  ~Ride();
  Ride(Ride&&) noexcept;

  void step();
  RideEnd end() const;  ///< `riding` until it is over
  double time_s() const;
  double step_s() const;
  std::uint64_t tick() const;
  double first_distance_m() const;  ///< of the first rider on the road, for progress
  void sample(RideSample& into) const;
  RideResult result() const;

  struct State;  ///< implementation

 private:
  std::unique_ptr<State> state_;
};

/// Rides to the end without an observer.
RideResult ride_to_end(const Scenario& scenario, RideOptions options = {});

}  // namespace leewheel
