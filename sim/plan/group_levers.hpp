#pragma once
/// What a group plan can change: orders of riders, places to wait, and the numbers of the riders' behaviour.

#include <string>
#include <utility>
#include <vector>

#include "plan/group_plan.hpp"
#include "plan/group_score.hpp"

namespace leewheel {

class GroupLevers {
 public:
  GroupLevers(const Scenario& scenario, LineupAim aim, const RidersAlone& riders, const std::vector<LeanSection>& sections);

  /// What a group would do without looking for a plan: the scenario's own first, then the plan clubs ride.
  std::vector<GroupPlan> obvious_plans() const;
  /// Kinds of ride and formations with and without waiting, where the search begins beside the obvious plans.
  std::vector<GroupPlan> other_starts() const;
  /// Every plan that differs from this one in one lever.
  std::vector<GroupPlan> neighbours(const GroupPlan& plan) const;

  static constexpr std::size_t clubs = 1;  ///< place of the plan clubs ride among the obvious plans

 private:
  struct StartOrder {
    std::string rule;  ///< in words
    std::vector<std::string> names;
  };
  void find_orders(const RidersAlone& riders);
  void find_regroups(const std::vector<LeanSection>& sections);
  GroupPlan plan_from_scenario(const std::string& name) const;
  GroupPlan clubs_plan() const;
  static void start_in(GroupPlan& plan, const StartOrder& order);

  const Scenario& scenario_;
  LineupAim aim_;
  std::vector<StartOrder> orders_;             ///< the scenario's first, then by power
  std::vector<std::vector<double>> regroups_;  ///< distances (m): none first, then where the plan clubs ride waits
};

}  // namespace leewheel
