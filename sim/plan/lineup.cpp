#include "leewheel/lineup.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <atomic>
#include <cassert>
#include <cmath>
#include <map>
#include <mutex>
#include <numeric>

#include "leewheel/motion.hpp"
#include "leewheel/pacing.hpp"

namespace leewheel {

namespace {

constexpr double steep_from_grade = 0.03;  // and steeper than the road's mean: where a plan may lean (assumed)
constexpr double regroup_from_grade = 0.04, regroup_to_grade = 0.02;  // tops of steep pieces are places to wait (assumed)
constexpr double little_lee_share = 0.08;    // where a line saves less than this the file may open to two abreast (assumed)
constexpr double two_abreast_width_m = 5.0;  // (assumed; local rules decide)
constexpr double own_pace_below =
    0.5;  // share of time in a line below which a stretch is ridden each at the own pace (assumed)
constexpr double equal_turn_s = 60.0;
constexpr double forbidden = 1e6;  // added to the value of a plan that may not be

// --- a plan laid into a scenario -----------------------------------------------------------------------------------------

double& pace_share_of(TacticsSettings& tactics, RideKind kind) {
  return kind == RideKind::together ? tactics.pace_share_together : tactics.pace_share_steady;
}

struct LeanSection {
  double from_m, to_m, grade;
  bool steep;
};

std::vector<LeanSection> lean_sections(const Scenario& scenario, std::size_t rider) {
  const std::vector<double> cuts = pacing_cuts_m(scenario, rider, scenario.riders[rider].critical_power_W, {});
  const double mean = scenario.road.facts().mean_grade;
  std::vector<LeanSection> sections;
  for (std::size_t k = 0; k + 1 < cuts.size(); ++k) {
    const double grade =
        (scenario.road.elevation_m(cuts[k + 1]) - scenario.road.elevation_m(cuts[k])) / (cuts[k + 1] - cuts[k]);
    const bool steep = grade > std::max(mean, steep_from_grade);
    if (!sections.empty() && sections.back().steep == steep) {
      LeanSection& last = sections.back();
      last.grade = (last.grade * (last.to_m - last.from_m) + grade * (cuts[k + 1] - cuts[k])) / (cuts[k + 1] - last.from_m);
      last.to_m = cuts[k + 1];
    } else {
      sections.push_back({cuts[k], cuts[k + 1], grade, steep});
    }
  }
  return sections;
}

std::vector<PlanStep> own_plan(const Scenario& scenario, std::size_t rider) {
  if (rider < scenario.plans.size() && !scenario.plans[rider].empty()) return scenario.plans[rider];
  return {{0.0, scenario.riders[rider].target_effort}};
}

/// Factors on the effort, steep and elsewhere, that leave the mean effort over time about as it was.
std::pair<double, double> lean_factors(const Scenario& scenario, const RiderSettings& rider,
                                       const std::vector<LeanSection>& sections, double lean) {
  double steep_s = 0.0, other_s = 0.0;
  RoadLoad load;
  load.mass_kg = rider.total_mass_kg();
  load.drag_area_m2 = rider.drag_area_hoods_m2;
  load.gravity_mps2 = scenario.gravity_mps2;
  for (const LeanSection& s : sections) {
    load.grade = s.grade;
    const double time_s =
        (s.to_m - s.from_m) / std::max(0.5, steady_speed_mps(load, rider.target_effort * rider.critical_power_W));
    (s.steep ? steep_s : other_s) += time_s;
  }
  if (steep_s <= 0.0 || other_s <= 0.0) return {1.0, 1.0};
  const double most = std::min(lean, lean * other_s / steep_s * 1.5);  // little flat cannot pay for much climb
  return {1.0 + most, 1.0 - most * steep_s / other_s};
}

std::vector<PlanStep> leaning(const std::vector<PlanStep>& plan, const std::vector<LeanSection>& sections, double on_steep,
                              double elsewhere) {
  std::vector<double> starts{0.0};
  for (const PlanStep& step : plan) starts.push_back(step.from_m);
  for (const LeanSection& s : sections) starts.push_back(s.from_m);
  std::sort(starts.begin(), starts.end());
  starts.erase(std::unique(starts.begin(), starts.end()), starts.end());
  std::vector<PlanStep> result;
  for (const double x : starts) {
    double effort = plan.front().effort, factor = 1.0;
    for (const PlanStep& step : plan)
      if (x >= step.from_m) effort = step.effort;
    for (const LeanSection& s : sections)
      if (x >= s.from_m && x < s.to_m) factor = s.steep ? on_steep : elsewhere;
    result.push_back({x, effort * factor});
  }
  return result;
}

Scenario laid_in(const Scenario& scenario, const GroupPlan& plan, std::size_t weakest,
                 const std::vector<LeanSection>& sections) {
  Scenario s = scenario;
  s.ride.kind = plan.kind;
  s.ride.formation = plan.formation;
  s.ride.order = plan.order;
  s.ride.regroup_at_m = plan.regroup_at_m;
  s.tactics.turn_s = plan.turn_s;
  s.tactics.circulate_s = plan.circulate_s;
  pace_share_of(s.tactics, plan.kind) = plan.pace_share;
  s.tactics.hold_margin = plan.hold_margin;
  s.tactics.front_push = plan.front_push;
  s.tactics.free_climb_fraction = plan.free_climb_fraction;
  s.tactics.wprime_reserve = plan.wprime_reserve;
  s.plans.resize(s.riders.size());
  for (std::size_t i = 0; i < s.riders.size(); ++i) {
    const double ease = i == weakest ? plan.weakest_effort : 1.0;
    if (plan.lean == 0.0 && ease == 1.0) continue;
    const auto [on_steep, elsewhere] = lean_factors(s, s.riders[i], sections, plan.lean);
    s.plans[i] =
        leaning(own_plan(scenario, i), plan.lean == 0.0 ? std::vector<LeanSection>{} : sections, on_steep, elsewhere);
    for (PlanStep& step : s.plans[i]) step.effort = std::round(step.effort * ease * 1e4) / 1e4;
  }
  return s;
}

// --- judging a ride --------------------------------------------------------------------------------------------------------

PlanScore score_of(const Scenario& scenario, const RideResult& result, std::size_t weakest) {
  PlanScore score;
  score.all_home = true;
  double hardest = 0.0, easiest = 1e9;
  score.wbal_least_share = 1e9;
  for (std::size_t i = 0; i < result.riders.size(); ++i) {
    const RiderResult& r = result.riders[i];
    const RiderSettings& s = scenario.riders[i];
    score.all_home = score.all_home && r.finished;
    score.last_s = std::max(score.last_s, r.finish_time_s);
    score.mean_s += r.finish_time_s / static_cast<double>(result.riders.size());
    score.longest_wait_s = std::max(score.longest_wait_s, r.waited_s);
    const double effort = r.ledger.pedal_J / std::max(1.0, r.finish_time_s - r.waited_s) / s.critical_power_W;
    const double wbal_share = r.wbal_least_J / s.w_prime_J;
    score.effort.push_back(effort);
    score.wbal_share.push_back(wbal_share);
    score.finish_s.push_back(r.finish_time_s);
    hardest = std::max(hardest, effort);
    easiest = std::min(easiest, effort);
    if (wbal_share < score.wbal_least_share) {
      score.wbal_least_share = wbal_share;
      score.wbal_least_rider = static_cast<std::uint32_t>(i);
    }
    if (i != weakest) continue;
    score.weakest_effort = effort;
    score.weakest_wbal_share = wbal_share;
  }
  score.unfairness = hardest - easiest;
  return score;
}

double aim_value(const PlanScore& score, LineupAim aim) {
  switch (aim) {
    case LineupAim::time: return score.last_s;
    case LineupAim::weakest: return score.weakest_effort;
    case LineupAim::fair: return score.unfairness;
  }
  return 0.0;
}

/// `margin`: least share of W' left by anyone.
bool within(const PlanScore& score, double margin, double limit_s) {
  return score.all_home && score.wbal_least_share >= margin && (limit_s <= 0.0 || score.last_s <= limit_s);
}

/// What the search makes small: the aim, with a price on what may not be that shows the way back.
double search_value(const PlanScore& score, LineupAim aim, double margin, double limit_s) {
  if (within(score, margin, limit_s)) return aim_value(score, aim);
  const double wbal_missing = std::max(0.0, margin - score.wbal_least_share);
  const double late_s = limit_s > 0.0 ? std::max(0.0, score.last_s - limit_s) : 0.0;
  return forbidden * (score.all_home ? 1.0 : 2.0) + late_s + 1000.0 * wbal_missing;
}

// --- the search --------------------------------------------------------------------------------------------------------------

class Search {
 public:
  Search(const Scenario& scenario, const LineupSettings& settings, const std::function<bool(double)>& go_on)
      : scenario_(scenario), settings_(settings), go_on_(go_on) {}

  Lineup run();

 private:
  struct Tried {
    GroupPlan plan;
    PlanScore score;
  };

  const Scenario& scenario_;
  const LineupSettings& settings_;
  const std::function<bool(double)>& go_on_;
  std::size_t weakest_ = 0;
  std::vector<LeanSection> sections_;
  std::vector<std::pair<std::string, std::vector<std::string>>> orders_;
  std::vector<std::vector<double>> regroups_;
  std::vector<Tried> tried_;
  std::map<std::string, std::size_t> place_of_;
  double limit_s_ = 0.0;
  std::size_t rides_ = 0;
  double done_share_ = 0.0, share_a_ride_ = 0.0;
  std::mutex telling_;
  std::atomic<bool> stopped_{false};

  void look_at_riders();
  void find_regroups();
  GroupPlan plan_from_scenario(const std::string& name) const;
  std::vector<GroupPlan> obvious_plans() const;
  std::vector<GroupPlan> other_starts() const;
  std::vector<GroupPlan> neighbours(const GroupPlan& plan) const;
  std::vector<PlanScore> ride_all(const std::vector<Scenario>& rides);
  void try_all(const std::vector<GroupPlan>& plans);
  /// On the expected day, with more and more W' asked for: a plan that just holds there fails on a bad day.
  std::vector<double> demands() const;
  double value(std::size_t tried, double demand) const {
    return search_value(tried_[tried].score, settings_.aim, demand, limit_s_);
  }
  std::vector<std::size_t> ranking(double demand) const;
  std::vector<std::size_t> different_starts(double demand) const;
  void descend(double demand);
  void choose_finalists(std::vector<std::size_t>& chosen) const;
  std::vector<std::pair<std::string, Draw>> days() const;
  std::vector<PlanResult> over_days(const std::vector<std::size_t>& plans, std::vector<std::string>& names);
  void judge(std::vector<PlanResult>& results, std::size_t obvious, Lineup& lineup) const;
  void tell_split(const std::vector<PlanResult>& results, Lineup& lineup) const;
};

std::string key_of(const GroupPlan& plan) {
  std::string key;
  const auto add = [&](double value) { key += std::to_string(std::llround(value * 1e4)) + ";"; };
  for (const double value :
       {static_cast<double>(plan.kind), static_cast<double>(plan.formation), plan.turn_s, plan.circulate_s, plan.pace_share,
        plan.hold_margin, plan.front_push, plan.free_climb_fraction, plan.wprime_reserve, plan.lean, plan.weakest_effort})
    add(value);
  for (const double at_m : plan.regroup_at_m) add(at_m);
  for (const std::string& name : plan.order) key += name + "|";
  return key;
}

/// The weakest is the slowest alone; orders from there.
void Search::look_at_riders() {
  const std::size_t n = scenario_.riders.size();
  std::vector<double> alone_s(n);
  tbb::parallel_for(std::size_t{0}, n, [&](std::size_t i) {
    const RideResult result = ride_to_end(alone(scenario_, i));
    alone_s[i] = result.riders[0].finished ? result.riders[0].finish_time_s : 1e9 - result.riders[0].distance_m;
  });
  rides_ += n;
  const auto order_by = [&](auto less) {
    std::vector<std::size_t> index(n);
    std::iota(index.begin(), index.end(), std::size_t{0});
    std::sort(index.begin(), index.end(), [&](std::size_t a, std::size_t b) {
      if (less(a, b) != less(b, a)) return less(a, b);
      return scenario_.riders[a].name < scenario_.riders[b].name;
    });
    std::vector<std::string> names;
    for (const std::size_t i : index) names.push_back(scenario_.riders[i].name);
    return names;
  };
  const auto& r = scenario_.riders;
  const auto strongest =
      order_by([&](std::size_t a, std::size_t b) { return r[a].critical_power_W > r[b].critical_power_W; });
  for (std::size_t i = 0; i < n; ++i)
    if (alone_s[i] > alone_s[weakest_] || (alone_s[i] == alone_s[weakest_] && r[i].name < r[weakest_].name)) weakest_ = i;
  std::vector<std::string> behind_first = strongest;  // the weakest in the best shelter, second wheel
  const auto at = std::find(behind_first.begin(), behind_first.end(), r[weakest_].name);
  behind_first.erase(at);
  behind_first.insert(behind_first.begin() + 1, r[weakest_].name);
  std::vector<std::string> middle = behind_first;
  middle.erase(middle.begin() + 1);
  middle.insert(middle.begin() + static_cast<std::ptrdiff_t>((middle.size() + 1) / 2), r[weakest_].name);
  orders_ = {{"as the scenario says", scenario_.ride.order},
             {"most power first", strongest},
             {"slowest alone first", order_by([&](std::size_t a, std::size_t b) { return alone_s[a] > alone_s[b]; })},
             {"largest in the wind first",
              order_by([&](std::size_t a, std::size_t b) { return r[a].drag_area_hoods_m2 > r[b].drag_area_hoods_m2; })},
             {"most power first, the weakest on the second wheel", behind_first},
             {"most power first, the weakest in the middle", middle}};
}

/// None, the scenario's, and the tops of steep pieces, where everyone has climbed as it suits and the lee is worth something again.
void Search::find_regroups() {
  regroups_ = {{}, scenario_.ride.regroup_at_m};
  std::vector<double> tops;
  for (std::size_t k = 0; k + 1 < sections_.size(); ++k)
    if (sections_[k].grade > regroup_from_grade &&
        sections_[k + 1].grade < std::max(regroup_to_grade, 0.5 * sections_[k].grade))
      tops.push_back(sections_[k].to_m);
  if (tops.empty()) return;
  regroups_.push_back(tops);
  if (tops.size() > 1)
    for (const double top : tops) regroups_.push_back({top});
}

GroupPlan Search::plan_from_scenario(const std::string& name) const {
  const TacticsSettings& t = scenario_.tactics;
  TacticsSettings copy = t;
  return {name,
          scenario_.ride.kind,
          scenario_.ride.formation,
          orders_[0].first,
          orders_[0].second,
          scenario_.ride.regroup_at_m,
          t.turn_s,
          t.circulate_s,
          pace_share_of(copy, scenario_.ride.kind),
          t.hold_margin,
          t.front_push,
          t.free_climb_fraction,
          t.wprime_reserve};
}

std::vector<GroupPlan> Search::obvious_plans() const {
  std::vector<GroupPlan> plans(4, plan_from_scenario("as the scenario stands"));
  plans[1].name = "strongest in front all day";
  plans[1].kind = RideKind::steady;
  plans[1].pace_share = scenario_.tactics.pace_share_steady;
  plans[1].formation = Formation::one_in_front;
  plans[1].order_rule = orders_[1].first, plans[1].order = orders_[1].second;
  plans[2] = plans[1];
  plans[2].name = "equal turns";
  plans[2].formation = Formation::circulating;
  plans[2].circulate_s = equal_turn_s;
  plans[3].name = "no plan: everyone for the top";
  plans[3].kind = RideKind::race;
  plans[3].regroup_at_m.clear();
  return plans;
}

std::vector<GroupPlan> Search::other_starts() const {
  std::vector<GroupPlan> plans;
  for (const RideKind kind : {RideKind::steady, RideKind::together, RideKind::by_strength})
    for (const Formation formation : {Formation::turns, Formation::circulating, Formation::one_in_front})
      for (const bool regroup : {true, false}) {
        GroupPlan plan = plan_from_scenario("found");
        TacticsSettings tactics = scenario_.tactics;
        plan.kind = kind;
        plan.formation = formation;
        plan.pace_share = pace_share_of(tactics, kind);
        plan.order_rule = orders_[1].first, plan.order = orders_[1].second;
        if (!regroup) plan.regroup_at_m.clear();
        plans.push_back(plan);
      }
  return plans;
}

/// Every plan that differs in one lever.
std::vector<GroupPlan> Search::neighbours(const GroupPlan& plan) const {
  std::vector<GroupPlan> plans;
  const auto vary = [&](double GroupPlan::*lever, std::initializer_list<double> values) {
    for (const double value : values) {
      plans.push_back(plan);
      plans.back().*lever = value;
    }
  };
  for (const auto& [rule, order] : orders_) {
    plans.push_back(plan);
    plans.back().order_rule = rule, plans.back().order = order;
  }
  for (const std::vector<double>& regroup : regroups_) {
    plans.push_back(plan);
    plans.back().regroup_at_m = regroup;
  }
  if (plan.formation == Formation::turns) vary(&GroupPlan::turn_s, {20.0, 45.0, 90.0, 180.0});
  if (plan.formation == Formation::circulating) vary(&GroupPlan::circulate_s, {8.0, 20.0, 60.0});
  if (plan.kind != RideKind::race) vary(&GroupPlan::pace_share, {0.5, 0.7, 0.85, 1.0});
  if (plan.kind != RideKind::race) vary(&GroupPlan::free_climb_fraction, {0.90, 0.94, 0.97, 1.01});
  vary(&GroupPlan::hold_margin, {1.0, 1.05, 1.1, 1.2});
  vary(&GroupPlan::front_push, {1.0, 1.1, 1.25, 1.4});
  vary(&GroupPlan::lean, {0.0, 0.05, 0.1});
  vary(&GroupPlan::wprime_reserve, {scenario_.tactics.wprime_reserve, 0.25, 0.35});
  if (settings_.aim != LineupAim::time) vary(&GroupPlan::weakest_effort, {1.0, 0.97, 0.94});
  for (GroupPlan& neighbour : plans) neighbour.name = "found";
  return plans;
}

std::vector<PlanScore> Search::ride_all(const std::vector<Scenario>& rides) {
  std::vector<PlanScore> scores(rides.size());
  tbb::parallel_for(std::size_t{0}, rides.size(), [&](std::size_t k) {
    if (stopped_) return;
    scores[k] = score_of(rides[k], ride_to_end(rides[k]), weakest_);
    const std::lock_guard lock(telling_);
    done_share_ = std::min(1.0, done_share_ + share_a_ride_);
    if (go_on_ && !go_on_(done_share_)) stopped_ = true;
  });
  rides_ += rides.size();
  return scores;
}

void Search::try_all(const std::vector<GroupPlan>& plans) {
  std::vector<Scenario> rides;
  const std::size_t first = tried_.size();
  for (const GroupPlan& plan : plans) {
    if (!place_of_.emplace(key_of(plan), tried_.size()).second) continue;
    tried_.push_back({plan, {}});
    rides.push_back(laid_in(scenario_, plan, weakest_, sections_));
  }
  const std::vector<PlanScore> scores = ride_all(rides);
  for (std::size_t k = 0; k < scores.size(); ++k) tried_[first + k].score = scores[k];
}

std::vector<double> Search::demands() const {
  const double margin = settings_.wbal_margin_share;
  return {margin, margin + 0.25 * (1.0 - margin), margin + 0.5 * (1.0 - margin)};
}

std::vector<std::size_t> Search::ranking(double demand) const {
  std::vector<std::size_t> rank(tried_.size());
  std::iota(rank.begin(), rank.end(), std::size_t{0});
  std::stable_sort(rank.begin(), rank.end(),
                   [&](std::size_t a, std::size_t b) { return value(a, demand) < value(b, demand); });
  return rank;
}

/// The best of each kind of ride first, so that the search does not put all into one.
std::vector<std::size_t> Search::different_starts(double demand) const {
  std::vector<std::size_t> starts;
  const auto rank = ranking(demand);
  for (const std::size_t k : rank)
    if (std::none_of(starts.begin(), starts.end(),
                     [&](std::size_t s) { return tried_[s].plan.kind == tried_[k].plan.kind; }))
      starts.push_back(k);
  if (starts.size() > settings_.starts) starts.resize(settings_.starts);
  return starts;
}

/// One lever after the other, from the best of each kind of ride, for as long as that helps.
void Search::descend(double demand) {
  std::vector<std::size_t> starts = different_starts(demand);
  for (std::size_t round = 0; round < settings_.rounds && !stopped_; ++round)
    for (std::size_t& start : starts) {
      const std::vector<GroupPlan> around = neighbours(tried_[start].plan);
      try_all(around);
      for (const GroupPlan& plan : around)
        if (const std::size_t k = place_of_.at(key_of(plan)); value(k, demand) < value(start, demand)) start = k;
    }
}

bool splits(const GroupPlan& plan) { return plan.kind == RideKind::by_strength; }

/// As many of each demand, and at least one of them whole and one split.
void Search::choose_finalists(std::vector<std::size_t>& chosen) const {
  const auto is_chosen = [&](std::size_t k) { return std::find(chosen.begin(), chosen.end(), k) != chosen.end(); };
  for (const double demand : demands()) {
    std::size_t left = settings_.finalists_a_demand;
    for (const std::size_t k : ranking(demand)) {
      if (left == 0) break;
      if (is_chosen(k)) continue;
      chosen.push_back(k);
      --left;
    }
    for (const bool split : {false, true})
      for (const std::size_t k : ranking(demand)) {
        if (splits(tried_[k].plan) != split) continue;
        if (!is_chosen(k)) chosen.push_back(k);
        break;
      }
  }
}

/// Days that differ in one thing each, by one standard deviation of the scenario's uncertainty (fitness by one and a half).
std::vector<std::pair<std::string, Draw>> Search::days() const {
  Draw usual;
  usual.own.resize(scenario_.riders.size());
  std::vector<std::pair<std::string, Draw>> days{{"as expected", usual}};
  const auto shared = [&](const char* name, Input input, double z) {
    days.emplace_back(name, usual);
    days.back().second.shared[static_cast<std::size_t>(input)] = z;
  };
  shared("more wind", Input::wind_speed, 1.0);
  shared("less wind", Input::wind_speed, -1.0);
  shared("wind veered", Input::wind_direction, 1.0);
  shared("wind backed", Input::wind_direction, -1.0);
  constexpr std::size_t cp = static_cast<std::size_t>(Input::critical_power) - shared_inputs;
  days.emplace_back("weakest on a bad day", usual);
  days.back().second.own[weakest_][cp] = -1.5;
  days.emplace_back("others on a bad day", usual);
  for (std::size_t i = 0; i < scenario_.riders.size(); ++i)
    if (i != weakest_) days.back().second.own[i][cp] = -1.5;
  return days;
}

std::vector<PlanResult> Search::over_days(const std::vector<std::size_t>& plans, std::vector<std::string>& names) {
  const auto all = days();
  for (const auto& [name, draw] : all) names.push_back(name);
  std::vector<Scenario> rides;
  for (const std::size_t k : plans)
    for (const auto& [name, draw] : all)
      if (name != names.front()) rides.push_back(on_day(laid_in(scenario_, tried_[k].plan, weakest_, sections_), draw));
  const std::vector<PlanScore> scores = ride_all(rides);
  std::vector<PlanResult> results;
  for (std::size_t p = 0; p < plans.size(); ++p) {
    PlanResult result{tried_[plans[p]].plan, tried_[plans[p]].score, {tried_[plans[p]].score}};
    for (std::size_t d = 1; d < all.size(); ++d) result.days.push_back(scores[p * (all.size() - 1) + d - 1]);
    double sum = 0.0;
    result.value_low = 1e12, result.value_high = -1e12;
    for (const PlanScore& day : result.days) {
      const double v = aim_value(day, settings_.aim);
      sum += v;
      result.value_low = std::min(result.value_low, v);
      result.value_high = std::max(result.value_high, v);
    }
    result.value = sum / static_cast<double>(result.days.size());
    results.push_back(std::move(result));
  }
  return results;
}

/// The first `obvious` results are the obvious plans, which set the limit of time over the days and may win themselves.
void Search::judge(std::vector<PlanResult>& results, std::size_t obvious, Lineup& lineup) const {
  const auto mean_last_s = [](const PlanResult& r) {
    double sum = 0.0;
    for (const PlanScore& day : r.days) sum += day.last_s;
    return sum / static_cast<double>(r.days.size());
  };
  double quickest_s = 1e12;
  for (std::size_t k = 0; k < obvious; ++k)
    if (within(results[k].expected, settings_.wbal_margin_share, 0.0))
      quickest_s = std::min(quickest_s, mean_last_s(results[k]));
  const bool limited = settings_.aim != LineupAim::time && quickest_s < 1e12;
  lineup.time_limit_s = limited ? (1.0 + settings_.time_limit_share) * quickest_s : 0.0;
  const PlanResult* best = nullptr;
  for (PlanResult& r : results) {
    const bool holds = std::all_of(r.days.begin(), r.days.end(),
                                   [&](const PlanScore& day) { return within(day, settings_.wbal_margin_share, 0.0); });
    r.allowed = holds && (!limited || mean_last_s(r) <= lineup.time_limit_s);
    if (r.allowed && (!best || r.value < best->value)) best = &r;
  }
  lineup.found = best != nullptr;
  if (best) lineup.best = *best;
  lineup.obvious.assign(results.begin(), results.begin() + static_cast<std::ptrdiff_t>(obvious));
}

/// Who starts in which group, seen in the first sample.
std::vector<std::vector<std::uint32_t>> groups_at_start(const Scenario& scenario) {
  Ride ride(scenario);
  RideSample sample;
  ride.sample(sample);
  std::vector<std::uint32_t> order(scenario.riders.size());
  std::iota(order.begin(), order.end(), 0u);
  std::sort(order.begin(), order.end(), [&](auto a, auto b) { return sample.distance_m[a] > sample.distance_m[b]; });
  std::vector<std::vector<std::uint32_t>> groups{{order.front()}};
  for (std::size_t k = 1; k < order.size(); ++k) {
    const double gap_m = sample.distance_m[order[k - 1]] - sample.distance_m[order[k]];
    if (scenario.ride.kind == RideKind::by_strength && gap_m > 0.5 * scenario.tactics.second_group_gap_m)
      groups.emplace_back();
    groups.back().push_back(order[k]);
  }
  return groups;
}

/// The best of each that is allowed, over the days.
void Search::tell_split(const std::vector<PlanResult>& results, Lineup& lineup) const {
  const PlanResult* split = nullptr;
  const PlanResult* whole = nullptr;
  for (const PlanResult& r : results) {
    const PlanResult*& best = splits(r.plan) ? split : whole;
    if (r.allowed && (!best || r.value < best->value)) best = &r;
  }
  if (whole) lineup.best_whole = whole->value;
  if (!split) return;
  lineup.best_split = split->value;
  lineup.split_groups = groups_at_start(laid_in(scenario_, split->plan, weakest_, sections_));
}

// --- the plan in words, from the ride under it ---------------------------------------------------------------------------------

struct StretchSums {
  double seconds = 0.0, front_speed = 0.0, front_power = 0.0, headwind = 0.0, crosswind = 0.0, rider_s = 0.0,
         in_line_s = 0.0, alone_J = 0.0, given_J = 0.0;
  std::vector<double> front_s;
};

bool in_line(Role role) { return role == Role::front || role == Role::following || role == Role::drifting_back; }

/// Index of the rider furthest up the road in the largest group (the first rider when all are alone).
std::size_t leader(const RideSample& now, double length_m) {
  std::map<int, int> sizes;
  std::size_t first = now.distance_m.size();
  int largest_id = no_group, largest = 1;
  for (std::size_t i = 0; i < now.group_id.size(); ++i) {
    if (now.distance_m[i] >= length_m) continue;
    if (first == now.distance_m.size() || now.distance_m[i] > now.distance_m[first]) first = i;
    const int id = static_cast<int>(now.group_id[i]);
    if (id != no_group && ++sizes[id] > largest) largest = sizes[id], largest_id = id;
  }
  std::size_t front = first;
  bool any = false;
  for (std::size_t i = 0; i < now.group_id.size(); ++i)
    if (largest_id != no_group && static_cast<int>(now.group_id[i]) == largest_id && now.distance_m[i] < length_m &&
        (!any || now.distance_m[i] > now.distance_m[front]))
      front = i, any = true;
  return front;
}

LineupStretch::Form form_on(const Scenario& scenario, const LineupStretch& s) {
  using Form = LineupStretch::Form;
  const double middle_m = 0.5 * (s.where.from_m + s.where.to_m);
  const bool room = scenario.road.abreast(middle_m) >= 2 && scenario.road.width_m(middle_m) >= two_abreast_width_m;
  if (s.in_line_share < own_pace_below) return Form::own_pace;
  if (std::abs(s.crosswind_mps) > scenario.tactics.echelon_cross_mps) return Form::echelon;
  if (scenario.ride.formation == Formation::circulating && room) return Form::circulating;
  return room && s.saved_share < little_lee_share && s.grade > 0.0 ? Form::two_abreast : Form::single_file;
}

class Describer {
 public:
  explicit Describer(const Scenario& scenario)
      : scenario_(scenario), stretches_(stretches_of(scenario.road)), sums_(stretches_.size()) {
    for (StretchSums& s : sums_) s.front_s.assign(scenario.riders.size(), 0.0);
    waited_s_.assign(scenario.ride.regroup_at_m.size(), std::vector<double>(scenario.riders.size(), 0.0));
  }

  void describe(Lineup& lineup) {
    Ride ride(scenario_);
    RideSample now;
    const auto every = static_cast<std::uint64_t>(std::max(1.0, std::round(1.0 / scenario_.ride.step_s)));
    while (ride.end() == RideEnd::riding) {
      ride.step();
      if (ride.tick() % every != 0) continue;
      ride.sample(now);
      look(now);
    }
    tell(lineup, ride.result());
  }

 private:
  const Scenario& scenario_;
  std::vector<RoadStretch> stretches_;
  std::vector<StretchSums> sums_;
  std::vector<std::vector<double>> waited_s_;

  StretchSums& sums_at(double distance_m) {
    std::size_t k = 0;
    while (k + 1 < stretches_.size() && distance_m >= stretches_[k].to_m) ++k;
    return sums_[k];
  }

  void look(const RideSample& now) {
    const double length_m = scenario_.road.length_m();
    for (std::size_t i = 0; i < now.role.size(); ++i) {
      const Role role = static_cast<Role>(static_cast<int>(now.role[i]));
      if (role == Role::finished) continue;
      if (role == Role::waiting) {
        for (std::size_t p = 0; p < waited_s_.size(); ++p)
          if (std::abs(now.distance_m[i] - scenario_.ride.regroup_at_m[p]) < 40.0) waited_s_[p][i] += 1.0;
        continue;
      }
      StretchSums& s = sums_at(now.distance_m[i]);
      s.rider_s += 1.0;
      s.in_line_s += in_line(role);
      if (role == Role::front) s.front_s[i] += 1.0;
      if (!in_line(role)) continue;
      s.alone_J += now.alone_power_W[i];
      s.given_J += now.power_W[i];
    }
    const std::size_t front = leader(now, length_m);
    if (front == now.role.size() || static_cast<Role>(static_cast<int>(now.role[front])) == Role::waiting) return;
    StretchSums& s = sums_at(now.distance_m[front]);
    s.seconds += 1.0;
    s.front_speed += now.speed_mps[front];
    s.front_power += now.power_W[front];
    s.headwind -= now.wind_along_mps[front];
    s.crosswind += now.wind_cross_mps[front];
  }

  void tell(Lineup& lineup, const RideResult& result) {
    for (std::size_t k = 0; k < stretches_.size(); ++k) {
      const RoadStretch& w = stretches_[k];
      const StretchSums& s = sums_[k];
      const double seconds = std::max(1.0, s.seconds);
      LineupStretch stretch{
          w,
          (scenario_.road.elevation_m(w.to_m) - scenario_.road.elevation_m(w.from_m)) / (w.to_m - w.from_m),
          s.headwind / seconds,
          s.crosswind / seconds,
          s.front_speed / seconds,
          s.front_power / seconds,
          s.in_line_s / std::max(1.0, s.rider_s),
          1.0 - s.given_J / std::max(1.0, s.alone_J),
          s.front_s,
          LineupStretch::Form::single_file};
      stretch.form = form_on(scenario_, stretch);
      lineup.stretches.push_back(std::move(stretch));
    }
    for (std::size_t p = 0; p < waited_s_.size(); ++p) lineup.waits.push_back(wait_at(p));
    for (std::uint32_t i = 0; i < scenario_.riders.size(); ++i) lineup.pulls.push_back({i, 0, 0.0});
    for (const StretchSums& s : sums_)
      for (std::size_t i = 0; i < s.front_s.size(); ++i) lineup.pulls[i].in_front_s += s.front_s[i];
    for (const Event& event : result.events)
      if (event.kind == EventKind::ends_turn) ++lineup.pulls[event.riders.front()].turns;
  }

  RegroupWait wait_at(std::size_t p) const {
    const double at_m = scenario_.ride.regroup_at_m[p];
    const auto& waited = waited_s_[p];
    const auto first = std::max_element(waited.begin(), waited.end()), last = std::min_element(waited.begin(), waited.end());
    std::string name;
    for (const Landmark& mark : scenario_.road.landmarks())
      if (std::abs(mark.distance_m - at_m) < 50.0) name = mark.name;
    return {at_m, name, static_cast<std::uint32_t>(first - waited.begin()),
            static_cast<std::uint32_t>(last - waited.begin()), *first};
  }
};

Lineup Search::run() {
  Lineup lineup{};
  lineup.aim = settings_.aim;
  look_at_riders();
  sections_ = lean_sections(scenario_, weakest_);
  find_regroups();
  lineup.weakest = static_cast<std::uint32_t>(weakest_);
  share_a_ride_ = 1.0 / (22.0 + 60.0 * static_cast<double>(settings_.starts * settings_.rounds) +
                         6.0 * static_cast<double>(3 * settings_.finalists_a_demand + 4));

  const std::vector<GroupPlan> plain = obvious_plans();
  try_all(plain);
  std::vector<std::size_t> chosen;
  for (const GroupPlan& plan : plain)
    if (const std::size_t k = place_of_.at(key_of(plan)); std::find(chosen.begin(), chosen.end(), k) == chosen.end())
      chosen.push_back(k);
  const std::size_t obvious = chosen.size();
  double quickest_s = 1e12;
  for (const std::size_t k : chosen)
    if (within(tried_[k].score, settings_.wbal_margin_share, 0.0)) quickest_s = std::min(quickest_s, tried_[k].score.last_s);
  if (settings_.aim != LineupAim::time && quickest_s < 1e12) limit_s_ = (1.0 + settings_.time_limit_share) * quickest_s;

  try_all(other_starts());
  for (const double demand : demands()) descend(demand);
  choose_finalists(chosen);
  std::vector<PlanResult> results = over_days(chosen, lineup.day_names);
  lineup.stopped = stopped_;
  lineup.rides = rides_;
  if (stopped_) return lineup;
  judge(results, obvious, lineup);
  tell_split(results, lineup);
  if (!lineup.found) return lineup;
  const Scenario planned = laid_in(scenario_, lineup.best.plan, weakest_, sections_);
  lineup.groups = groups_at_start(planned);
  Describer(planned).describe(lineup);
  return lineup;
}

}  // namespace

Scenario with_plan(const Scenario& scenario, const GroupPlan& plan, std::size_t weakest) {
  return laid_in(scenario, plan, weakest, lean_sections(scenario, weakest));
}

Lineup best_lineup(const Scenario& scenario, const LineupSettings& settings, const std::function<bool(double)>& go_on) {
  assert(scenario.riders.size() >= 2);
  return Search(scenario, settings, go_on).run();
}

}  // namespace leewheel
