#include "plan/group_search.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "plan/group_choice.hpp"
#include "plan/group_score.hpp"

namespace leewheel {

namespace {

/// The same for plans that ride the same.
std::string key_of(const GroupPlan& plan) {
  std::string key;
  const auto add = [&](double value) { key += std::to_string(std::llround(value * 1e4)) + ";"; };
  for (const double value :
       {static_cast<double>(plan.kind), static_cast<double>(plan.formation), plan.turn_s, plan.circulate_s, plan.pace_share,
        plan.hold_margin, plan.front_effort, plan.free_climb_fraction, plan.wprime_reserve, plan.lean, plan.weakest_effort})
    add(value);
  for (const double at_m : plan.regroup_at_m) add(at_m);
  for (const std::string& name : plan.order) key += name + "|";
  return key;
}

}  // namespace

bool splits(const GroupPlan& plan) { return plan.kind == RideKind::by_strength; }

bool same_ride(const GroupPlan& a, const GroupPlan& b) { return key_of(a) == key_of(b); }

std::vector<double> GroupSearch::demands(const LineupSettings& settings) {
  const double margin = settings.wbal_margin_share;
  return {margin + 0.25 * (1.0 - margin), margin + 0.5 * (1.0 - margin)};
}

double GroupSearch::value(std::size_t tried, double demand) const {
  PlanLimits asked = limits_;
  asked.margin = demand;
  return search_value(tried_[tried].score, settings_.aim, asked);
}

void GroupSearch::try_all(const std::vector<GroupPlan>& plans) {
  const std::size_t first = tried_.size();
  for (const GroupPlan& plan : plans)
    if (place_of_.emplace(key_of(plan), tried_.size()).second) tried_.push_back({plan, {}});
  const std::vector<PlanScore> scores =
      rides_.ride_all(tried_.size() - first, [&](std::size_t k) { return planned_(tried_[first + k].plan); });
  for (std::size_t k = 0; k < scores.size(); ++k) tried_[first + k].score = scores[k];
}

std::vector<std::size_t> GroupSearch::ranking(double demand) const {
  std::vector<std::size_t> rank(tried_.size());
  std::iota(rank.begin(), rank.end(), std::size_t{0});
  std::stable_sort(rank.begin(), rank.end(),
                   [&](std::size_t a, std::size_t b) { return value(a, demand) < value(b, demand); });
  return rank;
}

/// The best of each kind of ride first, so that the search does not put all into one.
std::vector<std::size_t> GroupSearch::different_starts(double demand) const {
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
void GroupSearch::descend(double demand) {
  std::vector<std::size_t> starts = different_starts(demand);
  for (std::size_t round = 0; round < settings_.rounds && !rides_.stopped(); ++round)
    for (std::size_t& start : starts) {
      const std::vector<GroupPlan> around = levers_.neighbours(tried_[start].plan);
      try_all(around);
      for (const GroupPlan& plan : around)
        if (const std::size_t k = place_of_.at(key_of(plan)); value(k, demand) < value(start, demand)) start = k;
    }
}

void GroupSearch::try_obvious_plans() {
  const std::vector<GroupPlan> plans = levers_.obvious_plans();
  try_all(plans);
  for (const GroupPlan& plan : plans) obvious_.push_back(place_of_.at(key_of(plan)));
  std::vector<const PlanScore*> scores;
  for (const std::size_t k : obvious_) scores.push_back(&tried_[k].score);
  limits_ = limits_of(scores, settings_);
}

void GroupSearch::search() {
  try_all(levers_.other_starts());
  for (const double demand : demands(settings_)) descend(demand);
}

std::vector<GroupPlan> GroupSearch::finalists() const {
  std::vector<std::size_t> chosen;
  const auto is_in = [](const std::vector<std::size_t>& places, std::size_t k) {
    return std::find(places.begin(), places.end(), k) != places.end();
  };
  for (const double demand : demands(settings_)) {
    std::size_t left = settings_.finalists_a_demand;
    for (const std::size_t k : ranking(demand)) {
      if (left == 0) break;
      if (is_in(chosen, k) || is_in(obvious_, k)) continue;
      chosen.push_back(k);
      --left;
    }
    for (const bool split : {false, true})
      for (const std::size_t k : ranking(demand)) {
        if (splits(tried_[k].plan) != split) continue;
        if (!is_in(chosen, k) && !is_in(obvious_, k)) chosen.push_back(k);
        break;
      }
  }
  std::vector<GroupPlan> plans;
  for (const std::size_t k : chosen) plans.push_back(tried_[k].plan);
  return plans;
}

}  // namespace leewheel
