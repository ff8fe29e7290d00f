#pragma once
/// Groups of riders. Riders in contact form a graph; its connected components are the groups. A group keeps its
/// identity while most of it stays together, so that a split and a later merger can be followed.

#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "leewheel/event.hpp"
#include "leewheel/field.hpp"

namespace leewheel {

/// Thresholds of contact with hysteresis in gap, speed and time (assumed; docs/groups.md).
struct GroupSettings {
  double join_gap_m = 2.0;  ///< contact begins below max(join_gap_m, join_headway_s * v) ...
  double join_headway_s = 0.5;
  double join_for_s = 3.0;                 ///< ... held for this long ...
  double join_speed_difference_mps = 1.0;  ///< ... at less than this difference of speed
  double leave_gap_m = 6.0;                ///< and ends above max(leave_gap_m, leave_headway_s * v) ...
  double leave_headway_s = 1.0;
  double leave_for_s = 5.0;  ///< ... held for this long
  double rest_s = 15.0;      ///< a rider who has just come off a group makes no new contact for this long
};

std::span<const NumberField<GroupSettings>> group_fields();

/// One rider as the groups see it.
struct GroupRider {
  double distance_m, speed_mps;
  bool riding;  ///< false once finished
};

class Groups {
 public:
  Groups(const GroupSettings& settings, std::size_t riders);
  ~Groups();
  Groups(Groups&&) noexcept;

  /// What a rider is doing and why; called only for the subject of an event.
  using Cause = std::function<Because(std::uint32_t rider)>;

  /// Brings groups up to date, `interval_s` after the last time. `order`: rider indices from the first on the road to the
  /// last. Appends to `events`.
  /// @return whether any rider's group has changed
  bool update(double time_s, double interval_s, std::span<const GroupRider> riders, std::span<const std::uint32_t> order,
              const Cause& cause, std::vector<Event>& events);

  std::span<const std::int32_t> group_of() const;  ///< by rider; no_group when alone

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace leewheel
