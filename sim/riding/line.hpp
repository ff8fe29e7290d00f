#pragma once
/// Who belongs to a line, and what concerns several riders of it. Settled between proposing and applying: nothing else
/// writes what a rider of a line has proposed.

#include <optional>

#include "riding/outlook.hpp"
#include "riding/snapshot.hpp"

namespace leewheel::riding {

/// What settling works on: everyone's proposal, the lines that follow from them, and what is told.
struct Settling {
  const Snapshot& now;
  std::span<Memory> next;
  Lines& lines;
  std::vector<Notice>& notices;
  double& eased_at_s;               ///< when a front last told that it eases for someone
  std::vector<RiderIndex>& line;    ///< riders of the line at hand, those drifting back beside it included
  std::vector<RiderIndex>& file;    ///< scratch: of these, who ride in file
  std::vector<double>& speeds_mps;  ///< scratch
  std::vector<Puller>& pullers;     ///< scratch
  std::vector<double>& shares;      ///< by place in `line`: of the time in front, at the power chosen

  void become(RiderIndex i, Role role, const Because& because) { riding::become(next[i], role, because, now.time_s); }
  void tell(EventKind kind, RiderIndex i, RiderIndex about) { notices.push_back({kind, i, about, next[i].why, {}}); }
};

/// Everyone of one line from the front, those drifting back beside it included.
template <class Visit>
void for_line(const Snapshot& now, const Lines& lines, RiderIndex front, Visit visit) {
  constexpr std::size_t beside = 8;  // riders who may be aside, ahead of the front
  const std::size_t from = now.rank_of[front];
  for (std::size_t place = from > beside ? from - beside : 0; place < now.order.size(); ++place) {
    const RiderIndex j = now.order[place];
    if (now.riders.x_m[front] - now.riders.x_m[j] > now.settings.longest_line_m) break;
    if (lines.front_of[j] == front) visit(j);
  }
}

/// Works out the lines from the wheels held.
void form_lines(Settling& settling);

/// The pace and the turns of the line that `front` leads.
void settle_line(Settling& settling, RiderIndex front);

std::span<const NumberField<TacticsSettings>> line_fields();

}  // namespace leewheel::riding
