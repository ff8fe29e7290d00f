/// The search for a group plan: which plans it tries.

#include "plan/group_search.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "plan/group_plan.hpp"
#include "support/scenes.hpp"

using namespace leewheel;

namespace {

struct Searched {
  std::vector<TriedPlan> tried;
  std::vector<GroupPlan> obvious, finalists;
  PlanLimits limits;
};

/// Two riders over a flat and a climb; one round from every kind of ride for each demand.
Searched searched(LineupAim aim) {
  Scenario s = scenes::scene(scenes::grades({0.01, 0.06}, 400.0),
                             {scenes::plain_rider("Una", 280.0), scenes::plain_rider("Vera", 220.0)});
  s.ride.kind = RideKind::steady;
  LineupSettings settings;
  settings.aim = aim;
  settings.starts = 4;  // every kind of ride
  settings.rounds = 1;
  settings.finalists_a_demand = 2;
  const RidersAlone riders = ride_each_alone(s);
  const std::vector<LeanSection> sections = lean_sections(s, riders.weakest);
  const GroupLevers levers(s, aim, riders, sections);
  const std::function<bool(double)> go_on;
  GroupRides rides(riders, 100.0, go_on);
  const auto planned = [&](const GroupPlan& plan) { return laid_in(s, plan, riders.weakest, sections); };
  GroupSearch search(planned, settings, levers, rides);
  Searched result;
  search.try_obvious_plans();
  search.search();
  result.obvious = levers.obvious_plans();
  result.finalists = search.finalists();
  result.limits = search.limits();
  for (std::size_t k = 0; k < search.tried_plans(); ++k) result.tried.push_back(search.tried(k));
  return result;
}

template <class Value>
std::size_t values_of(const Searched& searched, Value GroupPlan::*lever) {
  std::vector<Value> values;
  for (const TriedPlan& tried : searched.tried)
    if (std::find(values.begin(), values.end(), tried.plan.*lever) == values.end()) values.push_back(tried.plan.*lever);
  return values.size();
}

}  // namespace

TEST_CASE("the search tries every lever, and no plan twice", "[lineup]") {
  const Searched found = searched(LineupAim::fair);
  CHECK(values_of(found, &GroupPlan::kind) == 4);
  CHECK(values_of(found, &GroupPlan::formation) == 3);
  CHECK(values_of(found, &GroupPlan::order) == 3);  // as it stands, and either first
  CHECK(values_of(found, &GroupPlan::hold_margin) == 4);
  CHECK(values_of(found, &GroupPlan::front_effort) == 5);
  CHECK(values_of(found, &GroupPlan::free_climb_fraction) == 4);
  CHECK(values_of(found, &GroupPlan::pace_share) == 4);
  CHECK(values_of(found, &GroupPlan::wprime_reserve) == 3);
  CHECK(values_of(found, &GroupPlan::lean) == 3);
  CHECK(values_of(found, &GroupPlan::weakest_effort) == 3);
  CHECK(values_of(found, &GroupPlan::turn_s) == 4);
  CHECK(values_of(found, &GroupPlan::circulate_s) == 2);
}

TEST_CASE("finalists are the best tried that are no obvious plans, each once, whole and split", "[lineup]") {
  const Searched found = searched(LineupAim::time);
  for (std::size_t a = 0; a < found.finalists.size(); ++a) {
    for (std::size_t b = 0; b < a; ++b) CHECK_FALSE(same_ride(found.finalists[a], found.finalists[b]));
    for (const GroupPlan& obvious : found.obvious) CHECK_FALSE(same_ride(found.finalists[a], obvious));
  }
  const auto is_finalist = [&](const GroupPlan& plan) {
    const auto same = [&](const GroupPlan& other) { return same_ride(plan, other); };
    return std::any_of(found.finalists.begin(), found.finalists.end(), same) ||
           std::any_of(found.obvious.begin(), found.obvious.end(), same);
  };
  PlanLimits asked = found.limits;
  asked.margin = GroupSearch::demands({}).front();
  const TriedPlan* best[] = {nullptr, nullptr};  // whole, split
  for (const TriedPlan& tried : found.tried) {
    const TriedPlan*& one = best[splits(tried.plan)];
    const auto value = [&](const TriedPlan& t) { return search_value(t.score, LineupAim::time, asked); };
    if (!one || value(tried) < value(*one)) one = &tried;
  }
  REQUIRE(best[0]);
  REQUIRE(best[1]);
  CHECK(is_finalist(best[0]->plan));
  CHECK(is_finalist(best[1]->plan));
}
