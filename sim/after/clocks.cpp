#include "after/clocks.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace leewheel {

namespace {

constexpr double place_step_m = 10.0;
constexpr double least_near_s = 60.0;  // for clocks to be compared (assumed)
constexpr double clearly_more = 1.5;   // time near each other with a shift over that without it, to believe it (assumed)
// Riders who drift apart have some shift, too, with which they are near each other for a while: on a descent that takes both as
// long. A shift has to explain a share of the time ridden by both, a larger one where they set off together as their clocks stand.
constexpr double least_share = 0.05, least_share_together = 0.25, set_off_m = 300.0;  // (assumed)
constexpr double kernel_s = 1.5;  // riders of one group pass a place within so much (assumed)
constexpr double standing_mps = 1.0;

/// Differences of passing times, each weighted by the time spent on its piece of road.
struct Difference {
  double apart_s, weight_s;
};

struct Differences {
  std::vector<Difference> sorted;
  double riding_s = 0.0;
  bool together_at_first = false;  ///< as the clocks stand
};

Differences differences(const RiddenWay& a, const RiddenWay& b) {
  Differences out;
  std::vector<Difference>& all = out.sorted;
  const double from_m = std::max(a.distance_m.front(), b.distance_m.front());
  const double to_m = std::min(a.distance_m.back(), b.distance_m.back());
  double last_a = not_recorded, last_b = not_recorded;
  for (double at_m = from_m + place_step_m; at_m < to_m - place_step_m; at_m += place_step_m) {
    const double t_a = a.arrival_s(at_m), t_b = b.arrival_s(at_m);
    const double ride_a = t_a - last_a, ride_b = t_b - last_b;
    last_a = t_a, last_b = t_b;
    const auto known = [](const RiddenWay& way, double t) {
      return way.known[std::min(static_cast<std::size_t>(std::max(0.0, t - way.begin_s)), way.size() - 1)];
    };
    const bool riding = ride_a < place_step_m / standing_mps && ride_b < place_step_m / standing_mps;
    if (!riding || !known(a, t_a) || !known(b, t_b)) continue;
    all.push_back({t_b - t_a, std::min(ride_a, ride_b)});
    out.riding_s += all.back().weight_s;
  }
  const auto at_first =
      static_cast<std::ptrdiff_t>(std::min(all.size(), static_cast<std::size_t>(set_off_m / place_step_m)));
  const auto close = std::count_if(all.begin(), all.begin() + at_first,
                                   [](const Difference& d) { return std::abs(d.apart_s) <= told_shift_s + kernel_s; });
  out.together_at_first = at_first > 0 && 2 * close > at_first;
  std::sort(all.begin(), all.end(), [](const Difference& x, const Difference& y) { return x.apart_s < y.apart_s; });
  return out;
}

/// Time near each other were the second's clock shifted so.
double near_s(const std::vector<Difference>& all, double shift_s) {
  const auto less = [](const Difference& d, double s) { return d.apart_s < s; };
  double sum_s = 0.0;
  for (auto it = std::lower_bound(all.begin(), all.end(), shift_s - kernel_s, less);
       it != all.end() && it->apart_s <= shift_s + kernel_s; ++it)
    sum_s += it->weight_s;
  return sum_s;
}

}  // namespace

std::optional<ClockPair> compare_clocks(const RiddenWay& first, const RiddenWay& second) {
  const Differences found = differences(first, second);
  const std::vector<Difference>& all = found.sorted;
  ClockPair best;
  for (const Difference& d : all)
    if (const double near = near_s(all, d.apart_s); near > best.near_s) best = {d.apart_s, near, 0.0};
  double weight_s = 0.0, mean_s = 0.0;
  for (const Difference& d : all)
    if (std::abs(d.apart_s - best.shift_s) <= 2.0 * kernel_s) weight_s += d.weight_s, mean_s += d.weight_s * d.apart_s;
  if (weight_s > 0.0) best.shift_s = mean_s / weight_s;
  for (double shift_s = -told_shift_s; shift_s <= told_shift_s; shift_s += 1.0)
    best.as_is_s = std::max(best.as_is_s, near_s(all, shift_s));
  const double share = found.together_at_first ? least_share_together : least_share;
  const bool explains = best.near_s >= std::max({least_near_s, share * found.riding_s, clearly_more * best.as_is_s});
  if (explains) return best;
  if (best.as_is_s < least_near_s && !found.together_at_first) return std::nullopt;
  best.shift_s = 0.0, best.near_s = best.as_is_s;
  return best;
}

namespace {

/// Most of a company agree on its zero.
void count_from_majority(const std::vector<std::size_t>& company, std::size_t which, std::vector<ClockCheck>& checks) {
  std::map<long, std::size_t> votes;
  const auto vote = [](const ClockCheck& check) { return std::lround(check.shift_s / told_shift_s); };
  for (std::size_t j = 0; j < checks.size(); ++j)
    if (company[j] == which) ++votes[vote(checks[j])];
  std::size_t most = 0;
  double zero_s = 0.0;
  for (std::size_t j = 0; j < checks.size(); ++j)
    if (company[j] == which && votes[vote(checks[j])] > most) most = votes[vote(checks[j])], zero_s = checks[j].shift_s;
  for (std::size_t j = 0; j < checks.size(); ++j)
    if (company[j] == which) checks[j].shift_s -= zero_s;
}

}  // namespace

std::vector<ClockCheck> check_clocks(std::span<const RiddenWay> ways) {
  const std::size_t n = ways.size();
  struct Link {
    std::size_t a, b;
    ClockPair pair;
  };
  std::vector<Link> links;
  for (std::size_t a = 0; a < n; ++a)
    for (std::size_t b = a + 1; b < n; ++b)
      if (const auto pair = compare_clocks(ways[a], ways[b])) links.push_back({a, b, *pair});
  std::stable_sort(links.begin(), links.end(), [](const Link& x, const Link& y) { return x.pair.near_s > y.pair.near_s; });
  // The links that rest on most time set each clock against the first of its company.
  std::vector<std::size_t> company(n);
  std::vector<ClockCheck> checks(n);
  for (std::size_t k = 0; k < n; ++k) company[k] = k;
  for (const Link& link : links) {
    for (const std::size_t k : {link.a, link.b})
      checks[k].compared = true, checks[k].near_s = std::max(checks[k].near_s, link.pair.near_s);
    if (company[link.a] == company[link.b]) continue;
    const double move_s = checks[link.a].shift_s + link.pair.shift_s - checks[link.b].shift_s;
    const std::size_t joins = company[link.b];
    for (std::size_t k = 0; k < n; ++k)
      if (company[k] == joins) company[k] = company[link.a], checks[k].shift_s += move_s;
  }
  for (std::size_t k = 0; k < n; ++k) count_from_majority(company, k, checks);
  for (ClockCheck& check : checks)
    if (std::abs(check.shift_s) <= told_shift_s) check.shift_s = 0.0;
  return checks;
}

}  // namespace leewheel
