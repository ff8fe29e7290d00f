#pragma once
/// The ride at one moment, as plain values: what every panel draws. Knows no pixels and cannot step a ride.

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "leewheel/saved_along.hpp"
#include "leewheel/tactics.hpp"
#include "viz/view/replay.hpp"
#include "viz/view/text.hpp"

namespace leewheel::view {

struct RiderView {
  std::string name;
  int place = 1;                                        ///< 1 is first on the road (or first home)
  double distance_m = 0, lateral_m = 0, speed_mps = 0;  ///< front wheel; > 0 left of the road's middle
  double power_W = 0, alone_W = 0, saved_W = 0;         ///< at the cranks; alone: same motion without the others' wakes
  double saved_J = 0, saved_share = 0, pedal_J = 0;     ///< since the start; share of the work alone
  double wbal_J = 0, wbal_share = 0, critical_power_W = 0;
  double sheltered_share = 0, waited_s = 0;  ///< so far; share of riding time
  double drag_factor = 1, drag_area_m2 = 0.34;
  double gap_s = 0;        ///< behind the first rider at this place
  double gap_m = 0;        ///< behind the first rider along the road
  double wheel_gap_m = 0;  ///< to the wheel followed; only if `wheel_of`
  std::optional<std::uint32_t> wheel_of;
  std::int32_t group = no_group;
  Role role = Role::alone;
  bool finished = false;
  double wind_along_mps = 0, wind_cross_mps = 0;  ///< over the ground: > 0 pushes on, > 0 towards the left
  double gravity_W = 0, air_W = 0, rolling_W = 0, kinetic_W = 0;
  double grade = 0;
};

/// Who takes the front next, as it was recorded.
struct NextTurn {
  std::uint32_t rider;
  double in_s;
};
inline constexpr double turns_foreseen_s = 300.0;  ///< a turn further off is no news

/// Riders in contact, or one rider alone.
struct GroupView {
  std::int32_t id = no_group;
  std::vector<std::uint32_t> riders;  ///< from the front
  double first_m = 0, last_m = 0, speed_mps = 0;
  double gap_s = 0;                   ///< of its first rider behind the first of the ride
  double saved_W = 0;                 ///< mean of its riders
  std::optional<NextTurn> next_turn;  ///< nothing if no event tells of one soon
};

struct View {
  double time_s = 0;
  std::vector<RiderView> riders;     ///< in the order of the scenario
  std::vector<std::uint32_t> order;  ///< from the first to the last
  std::vector<GroupView> groups;     ///< from the first to the last; riders who finished are in none
  std::vector<std::pair<std::uint32_t, std::uint32_t>> overlaps;  ///< a wheel beside another's: the one ahead first
};

View view_at(Replay& replay, double time_s);

std::string group_name(const GroupView& group, const View& view);  ///< "group 3", or the rider's name
const char* role_words(Role role);

/// Columns of the tallies.
enum class Column { place, rider, group, gap, power, alone, saved, saved_energy, saved_share, wbal, sheltered, waited };
struct ColumnText {
  Column column;
  const char* title;
  const char* unit;
  const char* meaning;
  float least_px;      ///< breadth it needs, in design pixels
  bool falling_first;  ///< the first click puts the largest on top
};
const std::vector<ColumnText>& tally_columns();
/// The columns that fit, those a coach misses least left out first.
std::vector<ColumnText> columns_for(float breadth_px);
std::string cell_text(const RiderView& rider, Column column);
std::vector<std::uint32_t> sorted_rows(const View& view, Column column, bool falling);

/// Whole watts as people add them up: now + saved = alone.
inline WholeWatts whole_watts(const RiderView& rider) { return leewheel::whole_watts(rider.power_W, rider.alone_W); }

/// Power of one rider split as the road asks for it. Sums to `power_W`.
struct PowerSplit {
  double gravity_W, air_W, rolling_W, speed_W, losses_W;  ///< losses: drivetrain, brakes, and what the rest leaves
  double saved_W;  ///< what the air would cost more without the others' wakes; < 0: what company costs
};
PowerSplit power_split(const RiderView& rider);

/// The parts of a power as one bar from 0 W to the power now. What a descent or slowing down gives is taken off the others
/// in proportion, so that the bar is never longer than the power.
struct BarPiece {
  std::size_t part;  ///< climbing, air, rolling, gaining speed, losses
  double from_W, to_W;
};
std::vector<BarPiece> power_bar(const RiderView& rider);
std::string why_words(const RiderView& rider, const View& view, Units units);  ///< a sentence or two for a person

}  // namespace leewheel::view
