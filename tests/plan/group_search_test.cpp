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
  std::vector<std::size_t> obvious, finalists;
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
  GroupRides rides(riders.weakest, 100.0, go_on);
  const auto planned = [&](const GroupPlan& plan) { return laid_in(s, plan, riders.weakest, sections); };
  GroupSearch search(planned, settings, levers, rides);
  Searched result;
  result.obvious = search.try_obvious_plans();
  search.search();
  result.finalists = result.obvious;
  search.choose_finalists(result.finalists);
  for (std::size_t k = 0; k < rides.ridden(); ++k) result.tried.push_back(search.tried(k));
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

TEST_CASE("finalists are the obvious plans and the best tried, each once, whole and split", "[lineup]") {
  const Searched found = searched(LineupAim::time);
  std::vector<std::size_t> once = found.finalists;
  std::sort(once.begin(), once.end());
  CHECK(std::adjacent_find(once.begin(), once.end()) == once.end());
  CHECK(std::equal(found.obvious.begin(), found.obvious.end(), found.finalists.begin()));
  const auto is_finalist = [&](std::size_t k) { return std::binary_search(once.begin(), once.end(), k); };
  std::size_t best = 0, best_split = found.tried.size();
  for (std::size_t k = 0; k < found.tried.size(); ++k) {
    const auto sooner = [&](std::size_t than) { return found.tried[k].score.last_s < found.tried[than].score.last_s; };
    REQUIRE(found.tried[k].score.all_home);
    if (found.tried[k].score.wbal_least_share < 0.05) continue;  // the margin
    if (sooner(best)) best = k;
    if (splits(found.tried[k].plan) && (best_split == found.tried.size() || sooner(best_split))) best_split = k;
  }
  CHECK(is_finalist(best));
  REQUIRE(best_split < found.tried.size());
  CHECK(is_finalist(best_split));
}
