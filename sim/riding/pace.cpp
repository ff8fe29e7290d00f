#include "riding/pace.hpp"

#include <algorithm>
#include <cmath>

#include "riding/outlook.hpp"

namespace leewheel::riding {

double pull_shares(const Settling& s, std::span<const RiderIndex> riders, double speed_mps) {
  double sum = 0.0;
  for (const RiderIndex i : riders) sum += pull_share(s.now, i, s.next[i].role, speed_mps);
  return sum;
}

double shared_pace_mps(Settling& s, RiderIndex front, bool rotates) {
  constexpr int rounds = 8;  // to a five-hundredth of the range
  const TacticsSettings& t = s.now.settings;
  std::vector<double>& hold_mps = s.speeds_mps;
  hold_mps.clear();
  for (const RiderIndex i : s.line) hold_mps.push_back(s.now.outlook[i].hold_speed_mps);
  std::sort(hold_mps.begin(), hold_mps.end());
  const double share = s.now.kind == RideKind::together ? t.pace_share_together : t.pace_share_steady;
  const auto suits = static_cast<std::size_t>(std::floor((1.0 - share) * (static_cast<double>(s.line.size()) - 1.0)));
  double high = hold_mps[suits], low = t.least_pace_share * high;
  s.pullers.clear();
  if (rotates)
    for (const RiderIndex i : s.line) s.pullers.push_back(puller(s.now, i, s.next[i].role));
  else
    s.pullers.push_back(puller(s.now, front, s.next[front].role));
  const auto holds = [&](double speed_mps) {
    double sum = 0.0;
    for (const Puller& one : s.pullers) sum += pull_share(one, speed_mps);
    return sum >= 1.0;
  };
  if (holds(high)) return high;
  for (int round = 0; round < rounds; ++round) {
    const double middle = 0.5 * (low + high);
    (holds(middle) ? low : high) = middle;
  }
  return low;
}

namespace {
/// An echelon that keeps up by itself is nobody dropped.
bool is_echelon(const Settling& s, RiderIndex j, RiderIndex front) {
  return s.now.time_s < s.next[s.lines.front_of[j]].no_follow_until_s &&
         s.now.gap_m(j, front) < s.now.settings.chase_reach_m;
}
}  // namespace

void ease_for_dropped(Settling& s, RiderIndex front) {
  const TacticsSettings& t = s.now.settings;
  Memory& own = s.next[front];
  RiderIndex behind = nobody;
  for (std::size_t place = s.now.rank_of[s.line.back()] + 1; place < s.now.order.size(); ++place) {
    const RiderIndex j = s.now.order[place];
    const double bearable_mps = s.now.outlook[j].own_speed_mps * t.dropped_pace_share;
    if (s.lines.front_of[j] == front || is_echelon(s, j, front) || bearable_mps > own.line_pace_mps) continue;
    own.line_pace_mps = bearable_mps;
    behind = j;
  }
  if (behind != nobody && !own.keeps_whole) {
    own.keeps_whole = true;
    own.why = {Reason::keeps_group_whole, behind};
    if (s.now.time_s - s.eased_at_s > t.easing_retold_s) s.tell(EventKind::eases, front, behind);
    s.eased_at_s = s.now.time_s;
  } else if (behind == nobody && own.keeps_whole) {
    own.keeps_whole = false;
    own.why = {Reason::turn_begins, nobody, {own.turn_s}};
  }
}

}  // namespace leewheel::riding
