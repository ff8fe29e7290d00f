/// What riders know at the start, and the tables of their numbers joined.

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "leewheel/motion.hpp"
#include "model/handling.hpp"
#include "riding/decide.hpp"
#include "riding/doing.hpp"
#include "riding/echelon.hpp"
#include "riding/follow.hpp"
#include "riding/formation.hpp"
#include "riding/outlook.hpp"
#include "riding/pass.hpp"
#include "riding/regroup.hpp"
#include "riding/wait.hpp"

namespace leewheel {

std::span<const NumberField<TacticsSettings>> tactics_fields() {
  static const std::vector<NumberField<TacticsSettings>> all = [] {
    std::vector<NumberField<TacticsSettings>> joined;
    for (const auto& table : {handling_fields(), riding::outlook_fields(), riding::follow_fields(), riding::pass_fields(),
                              riding::wait_fields(), riding::line_fields(), riding::circulating_fields(),
                              riding::echelon_fields(), riding::regroup_fields(), riding::doing_fields()})
      joined.insert(joined.end(), table.begin(), table.end());
    return joined;
  }();
  return all;
}

namespace riding {

Decide::Decide(const Scenario& scenario, const Riders& riders, std::span<const RiderIndex> index_of)
    : scenario_(scenario), waiting_places_(waiting_places(scenario.ride)) {
  const std::size_t n = riders.count;
  for (Instruction one : scenario.instructions) {
    one.rider = index_of[one.rider];
    instructions_.push_back(one);
  }
  memory_.resize(n);
  outlook_.resize(n);
  for (Outlook& outlook : outlook_) {
    outlook.behind_factor = scenario.tactics.unknown_line_factor;
    outlook.behind_s = scenario.tactics.unknown_line_s;
  }
  road_.resize(n);
  lines_.size.assign(n, 1);
  lines_.front_of.resize(n);
  std::iota(lines_.front_of.begin(), lines_.front_of.end(), 0u);
  for (RiderIndex i = 0; i < n; ++i) {
    memory_[i].turn_s = scenario.tactics.turn_s;
    while (memory_[i].next_regroup < waiting_places_.size() &&
           waiting_places_[memory_[i].next_regroup].at_m <= riders.x_m[i] + scenario.tactics.point_passed_m)
      ++memory_[i].next_regroup;
  }
  if (laws_of(scenario.ride.kind).spends) to_finish_ = ToFinish(scenario.road, riders);
  next_ = memory_;
  ahead_.resize(n);
}

void part_by_strength(const Scenario& scenario, Riders& r) {
  if (static_cast<double>(r.count) < scenario.tactics.least_parted) return;
  std::vector<std::pair<double, RiderIndex>> speeds;
  for (RiderIndex i = 0; i < r.count; ++i) {
    const RiderSettings& s = r.settings[i];
    RoadLoad load;
    load.mass_kg = s.total_mass_kg();
    load.drag_area_m2 = s.drag_area_hoods_m2;
    load.grade = std::max(0.0, scenario.road.facts().mean_grade);
    speeds.emplace_back(-steady_speed_mps(load, s.target_effort * s.critical_power_W), i);
  }
  std::sort(speeds.begin(), speeds.end());
  std::size_t cut = r.count / 2;
  double widest = -1.0;
  const auto least = static_cast<std::size_t>(std::ceil(scenario.tactics.least_group_share * static_cast<double>(r.count)));
  for (std::size_t k = least; k <= r.count - least; ++k)
    if (const double step = speeds[k].first - speeds[k - 1].first; step > widest) {
      widest = step;
      cut = k;
    }
  for (std::size_t k = cut; k < r.count; ++k) r.squad[speeds[k].second] = 1;
}

}  // namespace riding
}  // namespace leewheel
