#include "plan/weigh_judge.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "leewheel/chance.hpp"
#include "leewheel/percentile.hpp"

namespace leewheel {

namespace {

using Values = std::vector<double>;

double mean_of(const Values& values) {
  return values.empty() ? 0.0 : std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

DayRange range_of(const Values& values) {
  if (values.empty()) return {0.0, 0.0, 0.0};
  const Middle80 range = middle_80(values);
  return {range.low, mean_of(values), range.high};
}

double spread_of(const Values& values) {
  const double mean = mean_of(values);
  double squares = 0.0;
  for (const double value : values) squares += (value - mean) * (value - mean);
  return std::sqrt(squares / static_cast<double>(values.size() - 1));
}

/// Standard error of the ends of the range, the larger of the two, from days drawn again from these days (bootstrap; Efron
/// 1979, Ann. Stat. 7:1).
double end_error(const Values& values) {
  constexpr std::size_t draws = 200;
  Values lows, highs, drawn(values.size());
  if (values.size() < 2) return std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < draws; ++k) {
    for (std::size_t n = 0; n < drawn.size(); ++n) drawn[n] = values[chance_bits(k, 0, n, Purpose::draw) % values.size()];
    const Middle80 range = middle_80(drawn);
    lows.push_back(range.low);
    highs.push_back(range.high);
  }
  return std::max(spread_of(lows), spread_of(highs));
}

/// The days on which this way and riding alone were both ridden to the end of the stretch.
std::vector<const WaysOfDay*> comparable(const std::vector<WaysOfDay>& days, std::size_t way) {
  std::vector<const WaysOfDay*> found;
  for (const WaysOfDay& day : days)
    if (day[way].reached && day[by_oneself].reached) found.push_back(&day);
  return found;
}

template <class Value>
Values values_of(const std::vector<const WaysOfDay*>& days, std::size_t way, Value value) {
  Values values;
  for (const WaysOfDay* day : days) values.push_back(value((*day)[way]));
  return values;
}

void sum_up(const std::vector<const WaysOfDay*>& days, WayWeighed& result) {
  const auto range = [&](auto value) { return range_of(values_of(days, result.way, value)); };
  result.time_s = range([](const WayRidden& r) { return r.time_s; });
  result.power_W = range([](const WayRidden& r) { return r.power_W; });
  result.alone_time_s = range([](const WayRidden& r) { return r.alone_time_s; });
  result.alone_power_W = range([](const WayRidden& r) { return r.alone_power_W; });
  const auto gain_s = values_of(days, result.way, [](const WayRidden& r) { return r.alone_time_s - r.time_s; });
  result.gain_s = range_of(gain_s);
  result.gain_end_s = end_error(gain_s);
  result.saved_W = range([](const WayRidden& r) { return r.alone_power_W - r.power_W; });
  result.behind_share = mean_of(values_of(days, result.way, [](const WayRidden& r) { return r.behind_s / r.time_s; }));
  result.chase_s = mean_of(values_of(days, result.way, [](const WayRidden& r) { return r.chased_s; }));
  if (result.chase_s > 0.0)
    result.chase_W = mean_of(values_of(days, result.way, [](const WayRidden& r) { return r.chased_J; })) / result.chase_s;
}

WayWeighed weigh_way(const std::vector<WaysOfDay>& days, std::size_t way) {
  constexpr double nearly_spent = 0.1, most_of_it = 0.5;  // (assumed)
  WayWeighed result;
  result.way = way;
  const std::vector<const WaysOfDay*> compared = comparable(days, way);
  result.days = compared.size();
  sum_up(compared, result);
  Values later_s;
  for (const WaysOfDay* day : compared) {
    const WayRidden &ridden = (*day)[way], &planned = (*day)[as_planned];
    result.reach_days += ridden.behind_s >= most_of_it * ridden.time_s;
    result.spent_days += ridden.wbal_share < nearly_spent;
    result.same_as_planned += ridden.time_s == planned.time_s && ridden.power_W == planned.power_W;
    if (ridden.finish_time_s > 0.0 && planned.finish_time_s > 0.0)
      later_s.push_back(ridden.finish_time_s - planned.finish_time_s);
  }
  if (way != by_oneself) result.end_later_s = range_of(later_s);
  if (!compared.empty()) result.same_as_planned /= static_cast<double>(compared.size());
  return result;
}

/// Waiting where nobody comes, or letting go where nobody is held, is no choice.
bool can_be_chosen(const WayWeighed& way) {
  const bool needs_others = way.way == way_of(Choice::waits_behind) || way.way == way_of(Choice::lets_go);
  return way.way != as_planned && way.days > 0 && !(needs_others && way.same_as_planned >= 0.5);
}

/// The way of greatest mean gain, `without` left out. Of ways that no rider can tell apart the plainer one, unless riding
/// alone comes out first; turns before sitting in, since not everyone can sit in at once.
std::size_t best_of(const std::vector<WayWeighed>& ways, std::size_t without, double felt_s) {
  std::size_t best = by_oneself;
  double most_s = -std::numeric_limits<double>::infinity();
  for (const WayWeighed& way : ways) {
    if (!can_be_chosen(way) || way.way == without || way.gain_s.mean <= most_s) continue;
    most_s = way.gain_s.mean;
    best = way.way;
  }
  if (best == by_oneself) return best;
  for (const Choice plainer : {Choice::takes_turns, Choice::sits_in, Choice::waits_behind}) {
    const WayWeighed& way = ways[way_of(plainer)];
    if (can_be_chosen(way) && way.gain_s.mean > most_s - felt_s) return way.way;
  }
  return best;
}

Verdict verdict_on(const Weighing& w) {
  const DayRange& gain_s = w.in_company().gain_s;
  const bool differs = std::abs(gain_s.mean) >= w.felt_s, either_way = gain_s.low <= 0.0 && gain_s.high >= 0.0;
  if (2 * std::max(w.reach_days, w.in_company().reach_days) < w.days) return Verdict::nobody_there;
  if (differs && !either_way) return Verdict::pays;
  return differs ? Verdict::uncertain : Verdict::no_difference;
}

}  // namespace

double felt_difference_s(double stretch_s) {
  constexpr double felt_share = 0.01, felt_at_least_s = 3.0;
  return std::max(felt_at_least_s, felt_share * stretch_s);
}

Weighing judged(const std::vector<WaysOfDay>& days) {
  Weighing w;
  w.days = days.size();
  for (std::size_t way = 0; way < ways_to_ride; ++way) w.ways.push_back(weigh_way(days, way));
  w.felt_s = felt_difference_s(w.ways[by_oneself].time_s.mean);
  w.reach_days = w.ways[way_of(Choice::sits_in)].reach_days;
  w.best = best_of(w.ways, as_planned, w.felt_s);
  w.company = w.best == by_oneself ? best_of(w.ways, by_oneself, w.felt_s) : w.best;
  for (const WayWeighed& way : w.ways)
    if (way.way != w.best && can_be_chosen(way) && std::abs(w.ways[w.best].gain_s.mean - way.gain_s.mean) < w.felt_s)
      w.as_good.push_back(way.way);
  w.verdict = verdict_on(w);
  return w;
}

}  // namespace leewheel
