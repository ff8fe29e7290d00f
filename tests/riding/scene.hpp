#pragma once
/// A moment of a ride as decisions see it, made of plain values: no road, no file, no motion. A test sets what matters and
/// leaves the rest: riders of one strength at 10 m/s in file, on a flat and windless road with room for two, nobody yet
/// with anybody, everything that a rule waits for long past.

#include <functional>
#include <optional>
#include <ostream>
#include <utility>
#include <vector>

#include <catch2/catch.hpp>

#include "riding/decide.hpp"
#include "riding/rules.hpp"

namespace leewheel {
std::ostream& operator<<(std::ostream& out, const Because& because);
}

namespace leewheel::riding::scenes {

inline constexpr double start_s = 1000.0;  ///< time of a new scene

class Scene {
 public:
  /// Rider 0 is the first on the road; the others ride `gap_m` behind one another.
  explicit Scene(std::size_t riders, double gap_m = 0.5);

  // ---- setting the scene; riders are named by their index

  /// The wheel gap of rider `i` to rider `i - 1`; everyone behind moves along.
  Scene& gap_m(RiderIndex i, double gap_m);
  /// What a speed costs the rider, in front of everybody and on a wheel, at a drag factor of `unknown_wheel_factor` there.
  /// At other speeds the air's part grows with the cube and the rest in proportion, but for the bearings.
  Scene& costs(RiderIndex i, double front_W, double wheel_W, double at_mps = 10.0);
  /// The rider's own plan, with neither wobble nor debt.
  Scene& plans(RiderIndex i, double power_W);
  /// A plan that holds this speed alone.
  Scene& alone_mps(RiderIndex i, double speed_mps);
  Scene& holds_wheel(RiderIndex i, RiderIndex wheel);
  /// From `first` to `last` one line: the first leads at 250 W, what 10 m/s costs, everyone else holds the wheel ahead.
  Scene& in_line(RiderIndex first, RiderIndex last);
  Scene& in_line() { return in_line(0, static_cast<RiderIndex>(riders.count - 1)); }
  Scene& has_role(RiderIndex i, Role role, double for_s = 100.0);
  Scene& is_told(RiderIndex i, Choice choice);

  // ---- what comes of it

  const Snapshot& now();
  Answer ask(Answer (*question)(const View&), RiderIndex i);
  /// One rider does something; `next` and `told` hold what comes of it.
  void let(RiderIndex i, const std::function<void(const View&, Proposal&)>& act);
  /// What several riders settle, after proposals that are their memories; `next`, `lines_next` and `told` hold the outcome.
  Settling& settling();
  /// A whole second of decisions by everyone; `told` holds its events. Nobody moves.
  void second();
  void seconds(int count) {
    for (int k = 0; k < count; ++k) second();
  }
  /// Moves everyone a second along the road and as far across it as wanted.
  void move();
  /// How many times something was told of a rider in all seconds so far.
  int count_told(EventKind what, RiderIndex i) const;

  Riders riders;
  TacticsSettings settings;
  std::vector<Memory> memory;
  std::vector<Ahead> ahead;  ///< what those ahead propose; empty: what their memories say
  std::vector<Outlook> outlook;
  std::vector<RoadHere> road;
  Lines lines;
  std::vector<std::int32_t> group_of;
  std::vector<Instruction> instructions;
  std::vector<double> regroup_at_m;
  double stop_s = 0.0;  ///< at each of them
  double time_s = start_s, road_length_m = 100000.0;
  RideKind kind = RideKind::steady;
  Formation formation = Formation::turns;
  bool keep_right = true;
  double eased_at_s = -1e9;

  std::vector<Memory> next;
  Lines lines_next;
  std::vector<Notice> told, told_before;

 private:
  std::vector<PlannedStop> waiting_places_;
  std::vector<RiderIndex> order_, rank_of_, line_, file_;
  std::vector<double> speeds_mps_;
  std::vector<Puller> pullers_;
  std::vector<double> shares_;
  std::vector<Ahead> ahead_;
  std::optional<Snapshot> now_;
  std::optional<Settling> settling_;
};

/// A reason with its riders and values, these to a billionth.
class Is : public Catch::MatcherBase<Because> {
 public:
  Is(Reason reason, RiderIndex other = nobody, std::array<double, 3> values = {}) : expected_{reason, other, values} {}
  bool match(const Because& because) const override;
  std::string describe() const override;

 private:
  Because expected_;
};

/// Exactly this was told, in this order: kind, rider, whom it is about.
struct Told {
  EventKind kind;
  RiderIndex rider, about = nobody;
  bool operator==(const Told&) const = default;
};
std::ostream& operator<<(std::ostream& out, const Told& told);
std::vector<Told> told_in(const std::vector<Notice>& notices);

}  // namespace leewheel::riding::scenes
