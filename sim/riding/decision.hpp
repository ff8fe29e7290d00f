#pragma once
/// What riders keep in memory, propose and tell. Plain values; only `Decide` writes them.

#include <array>
#include <cstdint>
#include <vector>

#include "leewheel/tactics.hpp"
#include "model/riders.hpp"

namespace leewheel::riding {

/// Reasons that must last before a rider acts; each has a clock in the rider's memory.
enum class Clock : std::uint8_t { cannot_hold, in_gutter, wheel_lost_its_own, faster, far_faster, stuck };
inline constexpr std::size_t clock_count = 6;
inline constexpr double stopped = -1.0;  ///< of a clock: the reason does not hold

constexpr std::array<double, clock_count> all_stopped() {
  std::array<double, clock_count> clocks{};
  clocks.fill(stopped);
  return clocks;
}

inline constexpr double own_plan = -1.0;  ///< of the power in front: that of the rider's own plan

/// What a rider keeps from second to second.
struct Memory {
  Role role = Role::alone;
  double role_since_s = 0.0;
  std::array<double, clock_count> since_s = all_stopped();  ///< when each reason began to hold
  RiderIndex wheel = nobody;                                ///< whose wheel is held or chased
  int side = 0;                   ///< aside of the line, to pass or to drift back: +1 left, -1 right
  double asked_W = 0.0;           ///< what the wheel has cost lately
  RiderIndex let_go_of = nobody;  ///< whose wheel was let go
  double no_chase_until_s = 0.0;
  double no_wait_until_s = 0.0;     ///< does not ease for a group behind until then
  double no_follow_until_s = 0.0;   ///< leads a second echelon until then
  double lets_by_until_s = 0.0;     ///< keeps to the edge for someone faster, from the second after being asked
  double falls_back_until_s = 0.0;  ///< on a wheel, leaves more room to it until then
  bool eases_for_group = false;     ///< rides easier until the group behind is there
  bool keeps_whole = false;         ///< in front, eases for someone who was dropped
  double turn_s = 0.0;              ///< length of the next turn in front
  bool takes_over = false;          ///< in front, and still taking the wind over
  int skipped_turns = 0;            ///< in a row, for want of strength
  double front_W = own_plan;        ///< as the first of a line: power to give
  double front_mps2 = 0.0;          ///< and the acceleration that it gives
  int turns_rung = 0;               ///< of the search for that power, where it begins in the next second
  std::size_t next_regroup = 0;     ///< regroup points passed
  int instruction = -1;             ///< index of the imposed choice that is in force here; < 0: none
  bool carried_out = false;         ///< it has been; the rider judges again
  bool keeps_off = false;           ///< takes no wheel and leads no line, as instructed
  bool eases = false;               ///< rides below the rider's own target, as instructed
  RiderIndex waits_for = nobody;    ///< as instructed: the first of the group behind
  Because why;                      ///< told with events; never read to decide
};

/// What riders behind see of a rider's proposal in the same second: those ahead move out first, and nothing else of this
/// second is known to anyone.
struct Ahead {
  Role role = Role::alone;
  int side = 0;
};

/// Something to be told: it becomes an event.
struct Notice {
  EventKind kind;
  RiderIndex rider, about;  ///< `about`: nobody when it is about nobody else
  Because because;
  std::vector<RiderIndex> with{};  ///< others who do the same
};

/// What a rider will do, worked out from the state at the second's start and from what those ahead have just proposed.
struct Proposal {
  Memory& next;
  RiderIndex rider;
  double time_s;
  std::vector<Notice>& notices;
  bool begins_echelon = false;  ///< riders behind wait to see how it falls out before they judge the gutter again

  void become(Role role, const Because& because);
  void tell(EventKind kind, RiderIndex about = nobody) { notices.push_back({kind, rider, about, next.why, {}}); }
};

/// A new role begins with stopped clocks, beside nobody, and without what belonged to the old one.
void become(Memory& next, Role role, const Because& because, double time_s);

/// Who rides in which line, by rider.
struct Lines {
  std::vector<RiderIndex> front_of;  ///< first rider of the line that the rider is in
  std::vector<std::uint32_t> size;   ///< of the line that the rider leads
};

/// What a rider does until the next second: an entry a rider of the columns `Commands`.
struct Command {
  double free_W, most_W, pace_mps, y_target_m, wish_gap_m, most_mps2;
};

}  // namespace leewheel::riding
