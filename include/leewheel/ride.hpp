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
  double sheltered_share = 0.0;  ///< of riding time with a drag factor below 0.95
  double wbal_end_J = 0.0, wbal_least_J = 0.0;
  std::array<double, recovery_law_names.size()> wbal_end_by_law_J{};  ///< the same powers under each published law
  double waited_s = 0.0;                                              ///< standing at regroup points
  double in_group_s = 0.0;                                            ///< with others
  double overlap_s = 0.0;  ///< time during which a wheel overlaps another's (`wheels_overlap`): a hazard
  double largest_side_force_N = 0.0;
  EnergyLedger ledger;
  std::vector<Passage> landmarks;  ///< those passed, the finish last
  std::vector<Passage> timing;     ///< the same at `RideOptions::timing_points_m`, without names
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
  std::vector<TowDebt> debts;
};

/// What a ride records in addition; these options do not change the ride.
struct RideOptions {
  bool notes_debts = true;                ///< record who towed whom; off for rides that need only times
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
