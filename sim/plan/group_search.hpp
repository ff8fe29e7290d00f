#pragma once
/// The search for a group plan on the expected day: one lever after the other from several starts (coordinate descent).

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "plan/group_levers.hpp"
#include "plan/group_plan.hpp"
#include "plan/group_rides.hpp"

namespace leewheel {

struct TriedPlan {
  GroupPlan plan;
  PlanScore score;  ///< on the expected day, at the step of the search
};

/// Two groups.
bool splits(const GroupPlan& plan);

/// Whether two plans ride the same.
bool same_ride(const GroupPlan& a, const GroupPlan& b);

class GroupSearch {
 public:
  /// @param planned  lays a plan into the scenario, at the step of the search
  GroupSearch(const std::function<Scenario(const GroupPlan&)>& planned, const LineupSettings& settings,
              const GroupLevers& levers, GroupRides& rides)
      : planned_(planned), settings_(settings), levers_(levers), rides_(rides) {}

  /// Tries the obvious plans, of which the quickest that keeps to the limits sets the limit of time.
  void try_obvious_plans();
  /// Tries further plans around the best, for each demand.
  void search();
  /// The best of each demand that are no obvious plans, and at least one of them whole and one split.
  std::vector<GroupPlan> finalists() const;

  const PlanLimits& limits() const { return limits_; }
  std::size_t tried_plans() const { return tried_.size(); }

  const TriedPlan& tried(std::size_t place) const { return tried_[place]; }

  /// Shares of W' asked to be left on the expected day, more and more: a plan that just holds there fails on a bad day.
  static std::vector<double> demands(const LineupSettings& settings);

 private:
  void try_all(const std::vector<GroupPlan>& plans);
  double value(std::size_t tried, double demand) const;
  std::vector<std::size_t> ranking(double demand) const;
  std::vector<std::size_t> different_starts(double demand) const;
  void descend(double demand);

  const std::function<Scenario(const GroupPlan&)> planned_;
  const LineupSettings& settings_;
  const GroupLevers& levers_;
  GroupRides& rides_;
  std::vector<TriedPlan> tried_;
  std::map<std::string, std::size_t> place_of_;  ///< by `key_of`
  std::vector<std::size_t> obvious_;             ///< places in `tried_`
  PlanLimits limits_;
};

}  // namespace leewheel
