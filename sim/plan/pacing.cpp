#include "leewheel/pacing.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/dag_shortest_paths.hpp>
#include <cassert>
#include <cmath>
#include <limits>
#include <numeric>

namespace leewheel {

namespace {

constexpr double block_m = 100.0;          // cuts lie on multiples of this ...
constexpr double landmark_reach_m = 60.0;  // ... or on a landmark this near
constexpr double worth_a_cut =
    0.015;  // spread of log speed (root mean square over the road) that a cut must explain (assumed)
constexpr double wbal_level_J = 20.0;     // W' in the graph is rounded down to multiples of this
constexpr double recovered_share = 0.01;  // of W': less is not called recovery (assumed)
constexpr double unrest_sPW =
    0.03;  // of two plans about as fast, the one with smaller steps: a watt of change is worth this (assumed)
constexpr double heeded_share = 0.2;  // of what may be spent: a bad day is acted upon before less is left (assumed)
constexpr double marked_share =
    0.75;  // a mark of the plan at this share of the time to where one should decide will do (assumed)
constexpr double empty_share = 0.01;  // of W': a rider with less is called empty (assumed)
constexpr int rounds_of_exchange = 12, exchanges_a_round = 12;
constexpr double unlimited_J = 1e12;

/// The rider alone in the mean wind, doing exactly as told.
Scenario rehearsal(const Scenario& scenario, std::size_t rider) {
  Scenario solo = alone(scenario, rider);
  solo.wind.gusts = Gusts::off;
  solo.tactics.effort_wobble = 0.0;
  solo.tactics.wprime_reserve = 0.0;  // the plan keeps the reserve
  solo.orders.clear();
  return solo;
}

Scenario with_marks(Scenario solo, const std::vector<double>& at_m) {
  RoadProfile profile = solo.road.profile();
  profile.landmarks.clear();
  for (const double x : at_m)
    if (x > 0.0 && x < solo.road.length_m()) profile.landmarks.push_back({"", x});
  solo.road = Road(std::move(profile));
  return solo;
}

/// Most power at this W' (Morton 1996, Ergonomics 39:611; as in the ride).
double power_limit_W(const Strength& s, double wbal_J) {
  return s.critical_power_W + (s.peak_power_W - s.critical_power_W) * std::max(0.0, wbal_J) / s.w_prime_J;
}

std::vector<PlanStep> plan_of(const std::vector<double>& cuts_m, const std::vector<double>& powers_W,
                              double critical_power_W) {
  std::vector<PlanStep> plan;
  for (std::size_t k = 0; k < powers_W.size(); ++k)
    if (k == 0 || powers_W[k] != powers_W[k - 1]) plan.push_back({cuts_m[k], powers_W[k] / critical_power_W});
  return plan;
}

/// `solo` has its marks at the cuts.
PacedRide ride_marked(const Scenario& solo, const std::vector<double>& cuts_m, const std::vector<double>& powers_W) {
  Scenario told = solo;
  told.plans = {plan_of(cuts_m, powers_W, told.riders[0].critical_power_W)};
  const RideResult result = ride_to_end(told);
  const RiderResult& rider = result.riders[0];
  PacedRide ride{rider.finish_time_s, rider.wbal_least_J, {0.0}, {0.0}, {told.riders[0].w_prime_J}, rider.finished};
  for (const Passage& passage : rider.landmarks) {
    ride.passed_s.push_back(passage.time_s);
    ride.pedal_J.push_back(passage.pedal_J);
    ride.wbal_J.push_back(passage.wbal_J);
  }
  if (ride.finished) ride.wbal_J.back() = rider.wbal_end_J;
  while (ride.passed_s.size() < cuts_m.size()) {  // not reached within the ride's time limit
    ride.passed_s.push_back(rider.finish_time_s);
    ride.pedal_J.push_back(rider.ledger.pedal_J);
    ride.wbal_J.push_back(rider.wbal_end_J);
  }
  return ride;
}

/// Finished, W' above the reserve, and every power really held: none was more than W' allowed at the section's end.
bool keeps_reserve(const PacedRide& ride, const std::vector<double>& powers_W, const Strength& strength, double reserve_J) {
  if (!ride.finished || ride.wbal_least_J < reserve_J - 1e-6) return false;
  for (std::size_t k = 0; k < powers_W.size(); ++k)
    if (powers_W[k] > strength.critical_power_W && powers_W[k] > power_limit_W(strength, ride.wbal_J[k + 1])) return false;
  return true;
}

// --- sections --------------------------------------------------------------------------------------------------------

std::vector<double> block_ends_m(const Road& road) {
  std::vector<double> ends{0.0};
  for (double x = block_m; x < road.length_m() - 0.5 * block_m; x += block_m) {
    double end = x;
    for (const Landmark& mark : road.landmarks())
      if (std::abs(mark.distance_m - x) < landmark_reach_m && mark.distance_m > ends.back() + 1.0 &&
          mark.distance_m < road.length_m() - 1.0)
        end = mark.distance_m;
    if (end > ends.back() + 1.0) ends.push_back(end);
  }
  ends.push_back(road.length_m());
  return ends;
}

struct Run {  // of neighbouring blocks
  double from_m, to_m, weight, sum, sum2;
  double spread() const { return sum2 - sum * sum / weight; }
};
Run joined(const Run& a, const Run& b) { return {a.from_m, b.to_m, a.weight + b.weight, a.sum + b.sum, a.sum2 + b.sum2}; }

/// Joins neighbours, those that differ least first, until what is left is long enough and differs enough (Ward's rule).
void join_runs(std::vector<Run>& runs, double length_m, const PacingSettings& settings) {
  const auto too_short = [&](const Run& run) { return run.to_m - run.from_m < settings.least_section_m - 1e-6; };
  while (runs.size() > 1) {
    std::size_t best = 0;
    double least = std::numeric_limits<double>::max();
    const bool any_short = std::any_of(runs.begin(), runs.end(), too_short);
    for (std::size_t k = 0; k + 1 < runs.size(); ++k) {
      if (any_short && !too_short(runs[k]) && !too_short(runs[k + 1])) continue;
      const double cost = joined(runs[k], runs[k + 1]).spread() - runs[k].spread() - runs[k + 1].spread();
      if (cost < least) {
        least = cost;
        best = k;
      }
    }
    const bool worth = least > worth_a_cut * worth_a_cut * length_m;
    if (!any_short && worth && runs.size() <= settings.most_sections) return;
    runs[best] = joined(runs[best], runs[best + 1]);
    runs.erase(runs.begin() + static_cast<std::ptrdiff_t>(best) + 1);
  }
}

/// A section in which the calm start ends is parted there, so that what follows is free, if both parts stay well long enough.
void part_after_calm(std::vector<double>& cuts, const std::vector<double>& ends, const PacedRide& ride,
                     const PacingSettings& settings) {
  const double enough_m = 2.0 * settings.least_section_m;
  constexpr double later = 1.05;  // the even power may be there a little sooner than the one this was ridden at
  for (std::size_t e = 0; e < std::min(ends.size(), ride.passed_s.size()); ++e) {
    if (ride.passed_s[e] < later * settings.calm_s) continue;
    const auto next = std::lower_bound(cuts.begin(), cuts.end(), ends[e]);
    if (next == cuts.begin() || next == cuts.end()) return;
    if (ends[e] - *(next - 1) >= enough_m && *next - ends[e] >= enough_m) cuts.insert(next, ends[e]);
    return;
  }
}

std::vector<double> cuts_m(const Scenario& solo, double power_W, const PacingSettings& settings) {
  const std::vector<double> ends = block_ends_m(solo.road);
  const PacedRide ride = ride_marked(with_marks(solo, ends), ends, std::vector<double>(ends.size() - 1, power_W));
  std::vector<Run> runs;
  for (std::size_t k = 0; k + 1 < ride.passed_s.size() && k + 1 < ends.size(); ++k) {
    const double length_m = ends[k + 1] - ends[k];
    const double log_speed = std::log(length_m / std::max(1e-3, ride.passed_s[k + 1] - ride.passed_s[k]));
    runs.push_back({ends[k], ends[k + 1], length_m, length_m * log_speed, length_m * log_speed * log_speed});
  }
  join_runs(runs, solo.road.length_m(), settings);
  std::vector<double> cuts{0.0};
  for (const Run& run : runs) cuts.push_back(run.to_m);
  cuts.back() = solo.road.length_m();
  part_after_calm(cuts, ends, ride, settings);
  return cuts;
}

// --- the graph -------------------------------------------------------------------------------------------------------

/// Time and work in each section at each step of power, from one ride a step. With fatigue a ride's efforts are shares of the
/// critical power left, so that work falls as it would.
struct Costs {
  std::vector<double> power_W;                      // by step
  std::vector<std::vector<double>> time_s, work_J;  // [section][step]
};

Costs costs_of(const Scenario& solo, const std::vector<double>& cuts, double even_W, const PacingSettings& settings) {
  Costs costs;
  const double step = settings.step_W;
  const long lowest = std::max(1L, std::lround(std::ceil((1.0 - settings.most_easier) * even_W / step)));
  const long highest = std::lround(std::floor((1.0 + settings.most_harder) * even_W / step));
  for (long k = lowest; k <= highest; ++k) costs.power_W.push_back(static_cast<double>(k) * step);
  Scenario tireless = solo;
  tireless.riders[0].w_prime_J = unlimited_J;
  std::vector<PacedRide> rides(costs.power_W.size());
  tbb::parallel_for(std::size_t{0}, rides.size(), [&](std::size_t p) {
    rides[p] = ride_marked(tireless, cuts, std::vector<double>(cuts.size() - 1, costs.power_W[p]));
  });
  costs.time_s.assign(cuts.size() - 1, std::vector<double>(rides.size(), std::numeric_limits<double>::infinity()));
  costs.work_J = costs.time_s;
  for (std::size_t k = 0; k + 1 < cuts.size(); ++k)
    for (std::size_t p = 0; p < rides.size(); ++p) {
      if (!rides[p].finished) continue;
      costs.time_s[k][p] = rides[p].passed_s[k + 1] - rides[p].passed_s[k];
      costs.work_J[k][p] = rides[p].pedal_J[k + 1] - rides[p].pedal_J[k];
    }
  return costs;
}

/// What the path must keep to.
struct Bounds {
  std::vector<Strength> strength;  // by section; fades where the ride has fatigue
  RecoveryLaw law;
  double reserve_J;
  double calm_s, calm_W;         // no harder than calm_W in sections begun before calm_s ...
  std::vector<double> begins_s;  // ... by the even ride's times
};

struct Edge {
  float time_s;
  std::uint16_t step;
};

constexpr auto no_step = std::numeric_limits<std::size_t>::max();

/// W' in levels: rounded down, so that the graph never believes in more than there is.
struct Levels {
  double most_J;
  std::size_t count() const { return static_cast<std::size_t>(most_J / wbal_level_J) + 1; }
  std::size_t of(double wbal_J) const {
    return static_cast<std::size_t>(std::clamp(wbal_J, 0.0, most_J) / wbal_level_J + 1e-9);
  }
};

/// From one level through section `k`: the quickest step of power to each level that can be reached.
void quickest_steps(const Costs& costs, const Bounds& bounds, std::size_t k, double wbal_J, double floor_J,
                    const Levels& levels, std::vector<std::size_t>& quickest) {
  const std::vector<double>& time_s = costs.time_s[k];
  const Strength& strength = bounds.strength[k];
  quickest.assign(levels.count(), no_step);
  for (std::size_t p = 0; p < time_s.size(); ++p) {
    if (!std::isfinite(time_s[p])) continue;
    if (bounds.begins_s[k] < bounds.calm_s && costs.power_W[p] > bounds.calm_W) continue;
    const double mean_W = costs.work_J[k][p] / time_s[p];
    const double after_J = std::min(strength.w_prime_J, wbal_after_J(bounds.law, strength, wbal_J, mean_W, time_s[p]));
    if (after_J < floor_J && after_J < wbal_J) continue;
    if (costs.power_W[p] > power_limit_W(strength, after_J)) continue;
    std::size_t& best = quickest[levels.of(after_J)];
    if (best == no_step || time_s[p] < time_s[best]) best = p;
  }
}

/// Nodes are section * levels + level, the last node is the top; edges sorted by where they start.
struct Ways {
  std::vector<std::pair<std::size_t, std::size_t>> ends;
  std::vector<Edge> edges;
  std::size_t source, top;
};

Ways ways_from(const Costs& costs, const Bounds& bounds, std::size_t first, double start_J) {
  const std::size_t sections = costs.time_s.size() - first;
  const Levels levels{bounds.strength.front().w_prime_J};
  const std::size_t count = levels.count();
  Ways ways{{}, {}, levels.of(start_J), (sections + 1) * count};
  std::vector<char> reached(count, 0), next;
  std::vector<std::size_t> quickest;
  reached[ways.source] = 1;
  for (std::size_t k = 0; k < sections; ++k) {
    next.assign(count, 0);
    for (std::size_t level = 0; level < count; ++level) {
      if (!reached[level]) continue;
      const double wbal_J = k == 0 ? start_J : static_cast<double>(level) * wbal_level_J;
      quickest_steps(costs, bounds, first + k, wbal_J, std::min(bounds.reserve_J, start_J), levels, quickest);
      for (std::size_t to = 0; to < count; ++to) {
        if (quickest[to] == no_step) continue;
        ways.ends.emplace_back(k * count + level, (k + 1) * count + to);
        ways.edges.push_back(
            {static_cast<float>(costs.time_s[first + k][quickest[to]]), static_cast<std::uint16_t>(quickest[to])});
        next[to] = 1;
      }
    }
    reached.swap(next);
  }
  for (std::size_t level = 0; level < count; ++level) {
    if (!reached[level]) continue;
    ways.ends.emplace_back(sections * count + level, ways.top);
    ways.edges.push_back({0.0f, 0});
  }
  return ways;
}

/// Steps of power by section from `first` on, quickest with W' from `start_J`; empty if there is no way.
std::vector<std::size_t> fastest_steps(const Costs& costs, const Bounds& bounds, std::size_t first, double start_J) {
  const Ways ways = ways_from(costs, bounds, first, start_J);
  if (ways.ends.empty() || ways.ends.back().second != ways.top) return {};
  using Graph = boost::compressed_sparse_row_graph<boost::directedS, boost::no_property, Edge>;
  const Graph graph(boost::edges_are_sorted, ways.ends.begin(), ways.ends.end(), ways.edges.begin(), ways.top + 1);
  const auto index = boost::get(boost::vertex_index, graph);
  std::vector<double> distance_s(ways.top + 1);
  std::vector<std::size_t> before(ways.top + 1);
  boost::dag_shortest_paths(graph, ways.source,
                            boost::weight_map(boost::get(&Edge::time_s, graph))
                                .distance_map(boost::make_iterator_property_map(distance_s.begin(), index))
                                .predecessor_map(boost::make_iterator_property_map(before.begin(), index))
                                .distance_inf(std::numeric_limits<double>::infinity()));
  std::vector<std::size_t> steps(costs.time_s.size() - first);
  std::size_t node = before[ways.top];
  for (std::size_t k = steps.size(); k-- > 0; node = before[node])
    steps[k] = graph[boost::edge(before[node], node, graph).first].step;
  return steps;
}

// --- from the graph's answer to a plan that a ride confirms ------------------------------------------------------------

struct Course {
  Scenario solo;  // marked at the cuts
  std::vector<double> cuts;
  Costs costs;
  Bounds bounds;
  double slack_J = 0.0;
};

std::vector<double> powers_of(const Costs& costs, const std::vector<std::size_t>& steps) {
  std::vector<double> powers;
  for (const std::size_t step : steps) powers.push_back(costs.power_W[step]);
  return powers;
}

bool calm(const Course& course, const std::vector<double>& powers, std::size_t first) {
  for (std::size_t k = first; k < powers.size(); ++k)
    if (course.bounds.begins_s[k] < course.bounds.calm_s && powers[k] > course.bounds.calm_W) return false;
  return true;
}

/// What the exchanges make small: time, and a little for every watt of change.
double burden_s(const PacedRide& ride, const std::vector<double>& powers) {
  double change_W = 0.0;
  for (std::size_t k = 1; k < powers.size(); ++k) change_W += std::abs(powers[k] - powers[k - 1]);
  return ride.time_s + unrest_sPW * change_W;
}

struct Exchange {
  std::size_t up, down;  // the same: one section alone goes up
  double hoped_s;
};

/// A step more here against one less there, the most promising by the tables first.
std::vector<Exchange> exchanges(const Course& course, const std::vector<double>& powers, std::size_t first) {
  const double step = course.costs.power_W.size() > 1 ? course.costs.power_W[1] - course.costs.power_W[0] : 0.0;
  const auto time_s = [&](std::size_t k, double power) {
    const auto p = static_cast<std::ptrdiff_t>(std::lround((power - course.costs.power_W.front()) / step));
    if (p < 0 || p >= static_cast<std::ptrdiff_t>(course.costs.power_W.size()))
      return std::numeric_limits<double>::infinity();
    return course.costs.time_s[k][static_cast<std::size_t>(p)];
  };
  std::vector<Exchange> list;
  for (std::size_t up = first; up < powers.size(); ++up) {
    const double gained_s = time_s(up, powers[up]) - time_s(up, powers[up] + step);
    for (std::size_t down = first; down < powers.size(); ++down) {
      const double lost_s = up == down ? 0.0 : time_s(down, powers[down] - step) - time_s(down, powers[down]);
      if (std::isfinite(gained_s) && std::isfinite(lost_s)) list.push_back({up, down, gained_s - lost_s});
    }
  }
  std::stable_sort(list.begin(), list.end(), [](const Exchange& a, const Exchange& b) { return a.hoped_s > b.hoped_s; });
  return list;
}

/// True if one of the most promising exchanges made the ride better within the reserve; the best of them is taken.
bool exchange_once(const Course& course, std::vector<double>& powers, PacedRide& ride, std::size_t first, double floor_J) {
  const double step = course.costs.power_W.size() > 1 ? course.costs.power_W[1] - course.costs.power_W[0] : 0.0;
  std::vector<std::vector<double>> tries;
  for (const Exchange& exchange : exchanges(course, powers, first)) {
    if (exchange.hoped_s < -1.0) break;
    std::vector<double> changed = powers;
    changed[exchange.up] += step;
    if (exchange.down != exchange.up) changed[exchange.down] -= step;
    // What a single step up would cost is known well enough not to ride it in vain.
    const double spent_J =
        exchange.up == exchange.down ? step * (ride.passed_s[exchange.up + 1] - ride.passed_s[exchange.up]) : 0.0;
    if (!calm(course, changed, first) || spent_J > 2.0 * (ride.wbal_least_J - floor_J) + step * 60.0) continue;
    tries.push_back(std::move(changed));
    if (tries.size() == exchanges_a_round) break;
  }
  std::vector<PacedRide> rides(tries.size());
  tbb::parallel_for(std::size_t{0}, tries.size(),
                    [&](std::size_t t) { rides[t] = ride_marked(course.solo, course.cuts, tries[t]); });
  bool better = false;
  for (std::size_t t = 0; t < tries.size(); ++t) {
    if (!keeps_reserve(rides[t], tries[t], course.solo.riders[0].strength(), floor_J) ||
        burden_s(rides[t], tries[t]) >= burden_s(ride, powers) - 1e-3)
      continue;
    ride = rides[t];
    powers = tries[t];
    better = true;
  }
  return better;
}

/// The best powers from section `first` on after `begun`, with W' as it stands there. Empty if there is no way.
std::vector<double> solve(const Course& course, std::vector<double> begun, double start_J) {
  const std::size_t first = begun.size();
  const double floor_J = std::min(course.bounds.reserve_J, start_J);
  Bounds bounds = course.bounds;
  std::vector<double> powers;
  PacedRide ride{};
  for (int round = 0; round < 8; ++round) {  // the graph's W' and the ride's differ by little: ask for that much more
    const std::vector<std::size_t> steps = fastest_steps(course.costs, bounds, first, start_J);
    if (steps.empty()) return {};
    powers = begun;
    for (const double power : powers_of(course.costs, steps)) powers.push_back(power);
    ride = ride_marked(course.solo, course.cuts, powers);
    // On a day of other strength the beginning is ridden already, whatever it cost.
    if (first > 0) return powers;
    if (keeps_reserve(ride, powers, course.solo.riders[0].strength(), floor_J)) break;
    bounds.reserve_J += std::max(wbal_level_J, 1.2 * (course.bounds.reserve_J - ride.wbal_least_J));
  }
  for (int round = 0; round < rounds_of_exchange && exchange_once(course, powers, ride, first, floor_J); ++round) {
  }
  return powers;
}

Scenario with_strength(const Scenario& solo, double critical_share) {
  Scenario day = solo;
  day.riders[0].critical_power_W *= critical_share;
  return day;
}

/// The hardest constant power, in whole watts, that keeps the reserve; 0 if none does.
double even_power(const Scenario& solo, const std::vector<double>& cuts, double reserve_J) {
  const Strength s = solo.riders[0].strength();
  const auto keeps = [&](double power) {
    const std::vector<double> powers(cuts.size() - 1, power);
    return keeps_reserve(ride_marked(solo, cuts, powers), powers, s, reserve_J);
  };
  double low = 1.0, high = std::floor(s.peak_power_W);
  if (const double near = std::floor(0.98 * s.critical_power_W); near > low && keeps(near))
    low = near;
  else if (!keeps(low = std::floor(0.5 * s.critical_power_W)))
    return 0.0;
  for (double step = 4.0; low + step < high; step *= 2.0) {
    if (!keeps(low + step)) {
      high = low + step;
      break;
    }
    low += step;
  }
  while (high - low > 1.0) {
    const double middle = std::floor(0.5 * (low + high));
    (keeps(middle) ? low : high) = middle;
  }
  return low;
}

/// Never quite nothing: a rider without W' rides at critical power whatever the plan says.
double reserve_J(const Strength& fresh, const PacingSettings& settings) {
  return std::max(settings.reserve_share, empty_share) * fresh.w_prime_J;
}

Bounds bounds_of(const Scenario& solo, const PacedRide& even, double even_W, const PacingSettings& settings) {
  Bounds bounds;
  const Strength fresh = solo.riders[0].strength();
  for (std::size_t k = 0; k + 1 < even.passed_s.size(); ++k)
    bounds.strength.push_back(solo.ride.fatigue ? tired_strength(fresh, 0.5 * (even.passed_s[k] + even.passed_s[k + 1]))
                                                : fresh);
  bounds.law = solo.ride.recovery_law;
  bounds.reserve_J = reserve_J(fresh, settings);
  bounds.calm_s = settings.calm_s;
  bounds.calm_W = even_W;
  bounds.begins_s = even.passed_s;
  return bounds;
}

Course course_of(const Scenario& solo, const std::vector<double>& cuts, double even_W, const PacingSettings& settings) {
  Course course{with_marks(solo, cuts), cuts, {}, {}};
  const PacedRide even = ride_marked(course.solo, cuts, std::vector<double>(cuts.size() - 1, even_W));
  course.costs = costs_of(course.solo, cuts, even_W, settings);
  course.bounds = bounds_of(solo, even, even_W, settings);
  return course;
}

// --- what else a rider wants to know -----------------------------------------------------------------------------------

std::string name_at(const Road& road, double at_m) {
  if (at_m <= 0.0) return "start";
  for (const Landmark& mark : road.landmarks())
    if (std::abs(mark.distance_m - at_m) < 1.0) return mark.name;
  return "";
}

double mean_headwind_mps(const Wind& wind, double from_m, double to_m, double time_s) {
  double sum = 0.0;
  constexpr int places = 8;
  for (int k = 0; k < places; ++k) sum -= wind.at(from_m + (k + 0.5) / places * (to_m - from_m), time_s).along_mps;
  return sum / places;
}

std::vector<PacedSection> sections_of(const Course& course, const Road& road, const std::vector<double>& powers,
                                      const PacedRide& ride) {
  const Wind wind(course.solo.wind, road);
  std::vector<PacedSection> sections;
  for (std::size_t k = 0; k < powers.size(); ++k) {
    const double from = course.cuts[k], to = course.cuts[k + 1];
    sections.push_back({from, to, name_at(road, from), (road.elevation_m(to) - road.elevation_m(from)) / (to - from),
                        mean_headwind_mps(wind, from, to, 0.5 * (ride.passed_s[k] + ride.passed_s[k + 1])), powers[k],
                        powers[k], powers[k], ride.passed_s[k + 1] - ride.passed_s[k], ride.wbal_J[k + 1]});
  }
  return sections;
}

Easing easing_of(const PacedSection& section, double mean_headwind) {
  if (section.grade < -0.005) return Easing::dip;
  return section.headwind_mps < mean_headwind - 1.0 && section.grade > 0.02 ? Easing::lull : Easing::flat;
}

void find_recoveries(Pacing& pacing, double w_prime_J) {
  double wind_sum = 0.0, before_J = w_prime_J;
  for (const PacedSection& s : pacing.sections) wind_sum += s.headwind_mps * s.time_s;
  for (std::size_t k = 0; k < pacing.sections.size(); ++k) {
    const PacedSection& s = pacing.sections[k];
    const double regained_J = s.wbal_end_J - before_J;
    if (regained_J > recovered_share * w_prime_J)
      pacing.recoveries.push_back({s.from_m, s.to_m, easing_of(s, wind_sum / pacing.time_s), s.time_s, regained_J});
    before_J = s.wbal_end_J;
  }
  pacing.easiest.resize(pacing.sections.size());
  std::iota(pacing.easiest.begin(), pacing.easiest.end(), std::size_t{0});
  std::stable_sort(pacing.easiest.begin(), pacing.easiest.end(),
                   [&](std::size_t a, std::size_t b) { return pacing.sections[a].power_W < pacing.sections[b].power_W; });
  pacing.easiest.resize(std::min<std::size_t>(3, pacing.easiest.size()));
}

/// Where `holds` of clock and W' is first true under a plan; -1: nowhere.
template <class Holds>
double first_place_m(const Scenario& solo, const std::vector<double>& cuts, const std::vector<double>& powers, Holds holds) {
  Scenario told = solo;
  told.plans = {plan_of(cuts, powers, told.riders[0].critical_power_W)};
  Ride ride(told);
  RideSample sample;
  const auto a_second = static_cast<std::uint64_t>(std::max(1.0, std::round(1.0 / told.ride.step_s)));
  while (ride.end() == RideEnd::riding) {
    ride.step();
    if (ride.tick() % a_second != 0) continue;
    ride.sample(sample);
    if (holds(sample.time_s, sample.wbal_J[0])) return sample.distance_m[0];
  }
  return -1.0;
}

/// Where a quarter of the time has passed, or sooner where a bad day leaves little W' to act upon; on a mark of the plan
/// where one lies shortly before, else on a hundred metres.
double place_to_decide_m(const Course& course, const std::vector<double>& powers, const PacedRide& ride,
                         const PacingSettings& settings) {
  const Scenario bad_day = with_strength(course.solo, 1.0 + settings.bad_day_share);
  const double heed_J =
      (settings.reserve_share + heeded_share * (1.0 - settings.reserve_share)) * bad_day.riders[0].w_prime_J;
  double at_s = 0.0;
  const double at_m = first_place_m(bad_day, course.cuts, powers, [&](double now_s, double wbal_J) {
    at_s = now_s;
    return now_s >= 0.25 * ride.time_s || wbal_J < heed_J;
  });
  const double length_m = course.cuts.back();
  if (at_m < 0.0 || at_m >= length_m) return course.cuts[1];
  const auto k =
      static_cast<std::size_t>(std::upper_bound(course.cuts.begin(), course.cuts.end(), at_m) - course.cuts.begin()) - 1;
  const double before_m = course.cuts[k], to_m = course.cuts[k + 1];
  if (k > 0 && ride.passed_s[k] >= marked_share * at_s) return before_m;
  const double place_m = std::max(100.0 * std::floor(at_m / 100.0), before_m + settings.least_section_m);
  return to_m - place_m >= settings.least_section_m || k == 0 ? std::min(place_m, 0.5 * (before_m + to_m)) : before_m;
}

/// The plan on a day of other strength: kept, and changed from section `first` on.
DayOutcome outcome_on(const Course& course, const std::vector<double>& powers, std::size_t first, double critical_share,
                      std::vector<double>& changed) {
  Course day = course;
  day.solo = with_strength(course.solo, critical_share);
  for (Strength& s : day.bounds.strength) s.critical_power_W *= critical_share;
  const PacedRide kept = ride_marked(day.solo, day.cuts, powers);
  DayOutcome outcome{
      day.solo.riders[0].critical_power_W, kept.time_s, kept.wbal_least_J, -1.0, kept.time_s, kept.wbal_least_J, 0.0};
  if (kept.wbal_least_J < empty_share * day.solo.riders[0].w_prime_J)
    outcome.empty_at_m = first_place_m(day.solo, day.cuts, powers, [&](double, double wbal_J) {
      return wbal_J < empty_share * day.solo.riders[0].w_prime_J;
    });
  changed = solve(day, {powers.begin(), powers.begin() + static_cast<std::ptrdiff_t>(first)}, kept.wbal_J[first]);
  if (changed.empty()) changed = powers;
  const PacedRide adjusted = ride_marked(day.solo, day.cuts, changed);
  outcome.adjusted_s = adjusted.time_s;
  outcome.adjusted_least_J = adjusted.wbal_least_J;
  double weight = 0.0;
  for (std::size_t k = first; k < powers.size(); ++k) {
    const double time_s = adjusted.passed_s[k + 1] - adjusted.passed_s[k];
    outcome.change_W += (changed[k] - powers[k]) * time_s;
    weight += time_s;
  }
  if (weight > 0.0) outcome.change_W /= weight;
  return outcome;
}

/// Heart rate in the first minutes at the first power: from the ride, the time constant's band by raising what is left of
/// the rise to another power (exp(-t/T) with T times 1.4 or 0.6).
std::vector<HeartRise> heart_rise(const Course& course, double power_W) {
  Scenario told = course.solo;
  told.plans = {{PlanStep{0.0, power_W / told.riders[0].critical_power_W}}};
  Ride ride(told);
  RideSample sample;
  ride.sample(sample);
  const double start = sample.heart_rate_share[0];
  const std::vector<double> ask_s{30.0, 60.0, 120.0, 180.0, 300.0};
  std::vector<double> seen;
  double settled = start;
  while (ride.end() == RideEnd::riding && ride.time_s() < 600.0) {
    ride.step();
    if (seen.size() < ask_s.size() && ride.time_s() >= ask_s[seen.size()] - 1e-9) {
      ride.sample(sample);
      seen.push_back(sample.heart_rate_share[0]);
    }
  }
  if (ride.end() == RideEnd::riding) {
    ride.sample(sample);
    settled = sample.heart_rate_share[0];
  }
  std::vector<HeartRise> rise;
  for (std::size_t k = 0; k < seen.size() && settled > start + 0.01; ++k) {
    const double left = std::clamp(1.0 - (seen[k] - start) / (settled - start), 0.0, 1.0);
    rise.push_back({ask_s[k], 1.0 - std::pow(left, 1.0 / 1.4), 1.0 - left, 1.0 - std::pow(left, 1.0 / 0.6)});
  }
  return rise;
}

/// Middle 80 % of drawn days, this plan kept and the even one.
void find_range(Pacing& pacing, const Course& course, const std::vector<double>& powers, int days) {
  const std::vector<double> even(powers.size(), pacing.even_power_W);
  std::vector<double> time_s(static_cast<std::size_t>(days)), gain_s(time_s.size());
  tbb::parallel_for(std::size_t{0}, time_s.size(), [&](std::size_t d) {
    const Scenario day = on_day(course.solo, draw_day(course.solo, course.solo.ride.seed, d));
    time_s[d] = ride_marked(day, course.cuts, powers).time_s;
    gain_s[d] = ride_marked(day, course.cuts, even).time_s - time_s[d];
  });
  std::sort(time_s.begin(), time_s.end());
  std::sort(gain_s.begin(), gain_s.end());
  if (time_s.empty()) time_s = {pacing.time_s}, gain_s = {pacing.even_time_s - pacing.time_s};
  const std::size_t low = time_s.size() / 10, high = time_s.size() - 1 - low;
  pacing.time_low_s = time_s[low], pacing.time_high_s = time_s[high];
  pacing.gain_low_s = gain_s[low], pacing.gain_high_s = gain_s[high];
}

/// Neighbours ridden alike become one row, unless a landmark or the place to decide parts them.
void join_alike(Pacing& pacing) {
  std::vector<PacedSection> joined_sections;
  for (const PacedSection& s : pacing.sections) {
    PacedSection* last = joined_sections.empty() ? nullptr : &joined_sections.back();
    const bool alike = last && s.name.empty() && s.from_m != pacing.decide_at_m && s.power_W == last->power_W &&
                       s.good_day_W == last->good_day_W && s.bad_day_W == last->bad_day_W;
    if (!alike) {
      joined_sections.push_back(s);
      continue;
    }
    const double before_m = last->to_m - last->from_m, this_m = s.to_m - s.from_m;
    last->grade = (last->grade * before_m + s.grade * this_m) / (before_m + this_m);
    last->headwind_mps = (last->headwind_mps * last->time_s + s.headwind_mps * s.time_s) / (last->time_s + s.time_s);
    last->time_s += s.time_s;
    last->to_m = s.to_m;
    last->wbal_end_J = s.wbal_end_J;
  }
  pacing.sections = std::move(joined_sections);
}

void fill(Pacing& pacing, const Course& course, const Road& road, const std::vector<double>& powers, const PacedRide& ride,
          const PacingSettings& settings) {
  pacing.sections = sections_of(course, road, powers, ride);
  pacing.time_s = ride.time_s;
  pacing.mean_power_W = ride.pedal_J.back() / ride.time_s;
  pacing.wbal_least_J = ride.wbal_least_J;
  pacing.wbal_end_J = ride.wbal_J.back();
  const auto decide = static_cast<std::size_t>(std::lower_bound(course.cuts.begin(), course.cuts.end(), pacing.decide_at_m) -
                                               course.cuts.begin());
  pacing.decide_at_s = ride.passed_s[decide];
  std::vector<double> good, bad;
  pacing.good_day = outcome_on(course, powers, decide, 1.0 + settings.good_day_share, good);
  pacing.bad_day = outcome_on(course, powers, decide, 1.0 + settings.bad_day_share, bad);
  for (std::size_t k = 0; k < powers.size(); ++k) {
    pacing.sections[k].good_day_W = good[k];
    pacing.sections[k].bad_day_W = bad[k];
  }
  join_alike(pacing);
  find_recoveries(pacing, course.solo.riders[0].w_prime_J);
  pacing.heart = heart_rise(course, powers.front());
  find_range(pacing, course, powers, settings.days);
}

}  // namespace

std::vector<PlanStep> Pacing::steps(double critical_power_W) const {
  std::vector<double> from_m, powers;
  for (const PacedSection& s : sections) from_m.push_back(s.from_m), powers.push_back(s.power_W);
  return plan_of(from_m, powers, critical_power_W);
}

PacedRide ride_paced(const Scenario& scenario, std::size_t rider, const std::vector<double>& cuts,
                     const std::vector<double>& powers_W) {
  assert(cuts.size() == powers_W.size() + 1);
  return ride_marked(with_marks(rehearsal(scenario, rider), cuts), cuts, powers_W);
}

std::vector<double> pacing_cuts_m(const Scenario& scenario, std::size_t rider, double power_W,
                                  const PacingSettings& settings) {
  return cuts_m(rehearsal(scenario, rider), power_W, settings);
}

std::vector<double> best_powers_W(const Scenario& scenario, std::size_t rider, const std::vector<double>& cuts,
                                  double even_power_W, const PacingSettings& settings) {
  const Scenario solo = with_strength(rehearsal(scenario, rider), settings.sustained_share);
  return solve(course_of(solo, cuts, even_power_W, settings), {}, solo.riders[0].w_prime_J);
}

Pacing best_pacing(const Scenario& scenario, std::size_t rider, const PacingSettings& settings) {
  assert(rider < scenario.riders.size() && settings.step_W > 0.0 && settings.least_section_m > 0.0);
  assert(settings.reserve_share >= 0.0 && settings.reserve_share < 1.0);
  const Scenario solo = with_strength(rehearsal(scenario, rider), settings.sustained_share);
  Pacing pacing{};
  pacing.rider = scenario.riders[rider].name;
  pacing.recovery_law = solo.ride.recovery_law;
  pacing.reserve_J = reserve_J(solo.riders[0].strength(), settings);
  const std::vector<double> cuts = cuts_m(solo, std::floor(solo.riders[0].critical_power_W), settings);
  pacing.even_power_W = even_power(with_marks(solo, cuts), cuts, pacing.reserve_J);
  if (pacing.even_power_W <= 0.0) {
    pacing.why_not =
        "no steady power brings the rider to the top with that reserve: too steep for the lowest gear, or over the ride's "
        "time limit";
    return pacing;
  }
  Course course = course_of(solo, cuts, pacing.even_power_W, settings);
  const std::vector<double> even(cuts.size() - 1, pacing.even_power_W);
  pacing.even_time_s = ride_marked(course.solo, cuts, even).time_s;
  std::vector<double> powers = solve(course, {}, solo.riders[0].w_prime_J);
  PacedRide ride = ride_marked(course.solo, cuts, powers.empty() ? even : powers);
  pacing.even_is_best = powers.empty() || ride.time_s >= pacing.even_time_s;
  if (pacing.even_is_best) {
    powers = even;
    ride = ride_marked(course.solo, cuts, even);
  }
  pacing.found = true;
  pacing.decide_at_m = place_to_decide_m(course, powers, ride, settings);
  if (const auto after = std::lower_bound(cuts.begin(), cuts.end(), pacing.decide_at_m);
      after == cuts.end() || *after != pacing.decide_at_m) {
    const auto k =
        after - cuts.begin();  // a section is parted there, ridden alike on both sides unless the day says otherwise
    std::vector<double> parted = cuts;
    parted.insert(parted.begin() + k, pacing.decide_at_m);
    powers.insert(powers.begin() + k, powers[static_cast<std::size_t>(k - 1)]);
    course = course_of(solo, parted, pacing.even_power_W, settings);
    ride = ride_marked(course.solo, parted, powers);
  }
  fill(pacing, course, scenario.road, powers, ride, settings);
  return pacing;
}

}  // namespace leewheel
