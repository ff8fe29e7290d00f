#include "leewheel/club_split.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numeric>

#include "leewheel/from_here.hpp"
#include "leewheel/ride_facts.hpp"
#include "leewheel/ride_report.hpp"
#include "plan/group_score.hpp"

namespace leewheel {

namespace {

/// Sum of squared differences from the mean of times from `begin` to before `end`.
double unlikeness(const std::vector<double>& times_s, std::size_t begin, std::size_t end) {
  const auto count = static_cast<double>(end - begin);
  const auto first = times_s.begin() + static_cast<std::ptrdiff_t>(begin),
             last = times_s.begin() + static_cast<std::ptrdiff_t>(end);
  const double mean_s = std::accumulate(first, last, 0.0) / count;
  return std::accumulate(first, last, 0.0, [&](double sum, double t) { return sum + (t - mean_s) * (t - mean_s); });
}

std::vector<std::uint32_t> quickest_first(const std::vector<double>& alone_s) {
  std::vector<std::uint32_t> order(alone_s.size());
  std::iota(order.begin(), order.end(), 0u);
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return alone_s[a] < alone_s[b]; });
  return order;
}

double widest(const std::vector<std::vector<std::uint32_t>>& groups, const std::vector<double>& alone_s) {
  double share = 0.0;
  for (const auto& group : groups) share = std::max(share, alone_s[group.back()] / alone_s[group.front()] - 1.0);
  return share;
}

std::vector<std::vector<std::uint32_t>> groups_asked(const std::vector<double>& alone_s, const SplitSettings& settings) {
  if (settings.groups > 0) return by_strength(alone_s, settings.groups);
  std::vector<std::vector<std::uint32_t>> groups;
  for (std::size_t n = 1; n <= most_groups && n * least_in_group <= alone_s.size(); ++n) {
    groups = by_strength(alone_s, n);
    if (widest(groups, alone_s) <= settings.spread_share) break;
  }
  return groups;
}

Scenario of_group(const Scenario& scenario, const std::vector<std::uint32_t>& riders) {
  Scenario s = scenario;
  s.riders.clear(), s.plans.clear(), s.rests_on.clear(), s.instructions.clear();
  for (const std::uint32_t i : riders) {
    s.riders.push_back(scenario.riders[i]);
    s.plans.push_back(i < scenario.plans.size() ? scenario.plans[i] : std::vector<PlanStep>{});
    if (i < scenario.rests_on.size()) s.rests_on.push_back(scenario.rests_on[i]);
  }
  const auto rides = [&](const std::string& name) {
    return std::any_of(s.riders.begin(), s.riders.end(), [&](const RiderSettings& r) { return r.name == name; });
  };
  std::erase_if(s.ride.start_order, [&](const std::string& name) { return !rides(name); });
  std::erase_if(s.ride.on_the_way, [&](const OnTheWay& rider) { return !rides(rider.rider); });
  return s;
}

/// When the last of a group is at the meeting place, in one ride.
double all_there_s(const Scenario& scenario, double meet_at_m) {
  RideOptions options{.notes_debts = false, .notes_laws = false};
  if (meet_at_m >= 0.0) options.timing_points_m = {meet_at_m};
  double last_s = 0.0;
  for (const RiderResult& rider : ride_to_end(scenario, options).riders)
    last_s = std::max(last_s, meet_at_m >= 0.0 && !rider.timing.empty() ? rider.timing.front().time_s : rider.finish_time_s);
  return last_s;
}

/// Starts from which all are at the meeting place at the same time. Wind and sun go by the clock, so that a ride's length
/// depends on its start.
void set_starts(ClubSplit& split, double meet_at_m) {
  constexpr int rounds = 4;  // each is some tens of times as near as the one before where the wind changes within the hour
  for (int round = 0; round < rounds; ++round) {
    double slowest_s = 0.0;
    for (const ClubGroup& group : split.groups) slowest_s = std::max(slowest_s, group.ride_s);
    for (ClubGroup& group : split.groups) {
      const double start_s = slowest_s - group.ride_s;
      group.scenario = starting_later(std::move(group.scenario), start_s - group.start_s);
      group.start_s = start_s;
      group.ride_s = all_there_s(group.scenario, meet_at_m);
    }
  }
}

std::vector<OnTheBorder> border_of(const std::vector<ClubGroup>& groups, const std::vector<double>& alone_s,
                                   double border_share) {
  std::vector<OnTheBorder> border;
  for (std::size_t g = 0; g + 1 < groups.size(); ++g) {
    const std::vector<std::uint32_t>&quick = groups[g].riders, &slow = groups[g + 1].riders;
    const auto look = [&](std::uint32_t rider, std::size_t own, std::size_t other, std::uint32_t nearest) {
      const double apart_s = std::abs(alone_s[rider] - alone_s[nearest]);
      if (apart_s <= border_share * alone_s[rider]) border.push_back({rider, own, other, apart_s});
    };
    for (const std::uint32_t rider : quick) look(rider, g, g + 1, slow.front());
    for (const std::uint32_t rider : slow) look(rider, g + 1, g, quick.back());
  }
  return border;
}

}  // namespace

std::vector<std::vector<std::uint32_t>> by_strength(const std::vector<double>& alone_s, std::size_t groups) {
  const std::vector<std::uint32_t> order = quickest_first(alone_s);
  const std::size_t n = order.size();
  assert(groups >= 1 && groups * least_in_group <= n);
  std::vector<double> times_s;
  for (const std::uint32_t i : order) times_s.push_back(alone_s[i]);
  constexpr double never = std::numeric_limits<double>::infinity();
  // least[g][k]: the first k riders in g groups; from[g][k]: where the last of these groups begins.
  std::vector<std::vector<double>> least(groups + 1, std::vector<double>(n + 1, never));
  std::vector<std::vector<std::size_t>> from(groups + 1, std::vector<std::size_t>(n + 1, 0));
  least[0][0] = 0.0;
  for (std::size_t g = 1; g <= groups; ++g)
    for (std::size_t end = g * least_in_group; end <= n; ++end)
      for (std::size_t begin = (g - 1) * least_in_group; begin + least_in_group <= end; ++begin) {
        const double sum = least[g - 1][begin] + unlikeness(times_s, begin, end);
        if (sum < least[g][end]) least[g][end] = sum, from[g][end] = begin;
      }
  std::vector<std::vector<std::uint32_t>> split(groups);
  std::size_t end = n;
  for (std::size_t g = groups; g > 0; end = from[g][end], --g)
    split[g - 1].assign(order.begin() + static_cast<std::ptrdiff_t>(from[g][end]),
                        order.begin() + static_cast<std::ptrdiff_t>(end));
  return split;
}

ClubSplit split_club(const Scenario& asked, const SplitSettings& settings, const LineupSettings& plans,
                     const std::function<bool(double)>& go_on) {
  assert(asked.riders.size() >= least_in_club);
  const Scenario scenario = surveyed(asked);
  ClubSplit split;
  split.alone_s = ride_each_alone(scenario).time_s;
  const auto groups = groups_asked(split.alone_s, settings);
  split.found = true;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    ClubGroup group{groups[g], of_group(scenario, groups[g]), {}};
    group.start_s = split.alone_s[groups.back().back()] - split.alone_s[groups[g].back()];  // about
    group.scenario = starting_later(std::move(group.scenario), group.start_s);
    LineupSettings own = plans;
    own.days = settings.days;
    group.lineup = best_lineup(group.scenario, own, [&](double share) {
      return !go_on || go_on((static_cast<double>(g) + share) / static_cast<double>(groups.size()));
    });
    split.stopped = group.lineup.stopped;
    if (split.stopped) return split;
    split.found = split.found && group.lineup.found;
    if (group.lineup.found) group.scenario = with_plan(group.scenario, group.lineup.best().plan, group.lineup.weakest);
    group.ride_s = all_there_s(group.scenario, settings.meet_at_m);
    split.groups.push_back(std::move(group));
  }
  set_starts(split, settings.meet_at_m);
  for (ClubGroup& group : split.groups)
    if (settings.meet_at_m < 0.0) group.meet_s = finish_ranges(group.scenario, settings.days).last_home_s;
  split.border = border_of(split.groups, split.alone_s, settings.border_share);
  return split;
}

}  // namespace leewheel
