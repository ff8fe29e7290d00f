#pragma once
/// Plans as YAML: one rider's powers, and a scenario with a group's plan laid into it.

#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel {

/// A `plan:` entry as a scenario takes it below a rider, powers in whole watts; `comment` lines go above it.
std::string plan_yaml(const std::vector<PlanStep>& steps, double critical_power_W, const std::string& comment);

/// What is laid in beside the plan.
struct LaidInToo {
  std::string now_path{};   ///< the state of a ride that is under way: the file is then its rest
  bool only_these = false;  ///< of the file's riders only `planned`'s come, at `planned`'s start, in its wind
};

/// The scenario's file with `planned`'s kind, formation, order, regroup points, behaviour and power plans laid into it, all
/// else as it stood (but for comments, which YAML readers drop). Neighbouring files are named as seen from `out_path`.
/// Reads back as `planned` as far as those go.
std::string scenario_with_plan_yaml(const std::string& scenario_path, const Scenario& planned, const std::string& out_path,
                                    const std::string& comment, const LaidInToo& too = {});

}  // namespace leewheel
