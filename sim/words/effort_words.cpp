#include "words/effort_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "words/plain_text.hpp"

namespace leewheel {

namespace {

std::string place(const Scenario& scenario, double at_m, const ShownUnits& units) {
  if (at_m <= 0.0) return "the start";
  if (at_m >= scenario.road.length_m()) return "the finish";
  if (const auto mark = landmark_near(scenario.road, at_m)) return scenario.road.landmarks()[*mark].name;
  return fmt::format("{} {:.1f}", units.way_name(), units.way(at_m));
}

/// The steps of a plan that change something.
std::vector<PlanStep> changes(const Scenario& scenario, std::size_t rider) {
  std::vector<PlanStep> steps;
  if (rider < scenario.plans.size())
    for (const PlanStep& step : scenario.plans[rider])
      if (steps.empty() || step.effort != steps.back().effort) steps.push_back(step);
  return steps;
}

}  // namespace

std::string effort_changes_text(const Scenario& scenario, std::size_t rider, const ShownUnits& units) {
  const std::vector<PlanStep> steps = changes(scenario, rider);
  if (steps.size() < 2) return "";
  std::string text;
  for (const PlanStep& step : steps)
    text +=
        fmt::format("{}{:.0f} %{} ({:.0f} W)",
                    text.empty() ? "" : fmt::format("; from {} ", place(scenario, step.from_m, units)), 100.0 * step.effort,
                    text.empty() ? " of critical power" : "", step.effort * scenario.riders[rider].critical_power_W);
  return text;
}

std::string lean_text(double lean, const Scenario& planned, const ShownUnits& units) {
  std::size_t rider = 0;
  while (rider < planned.riders.size() && changes(planned, rider).size() < 2) ++rider;
  if (rider == planned.riders.size()) return "as usual: no steep part is long enough to ride it harder";
  const std::vector<PlanStep> steps = changes(planned, rider);
  const auto [easiest, hardest] = std::minmax_element(
      steps.begin(), steps.end(), [](const PlanStep& a, const PlanStep& b) { return a.effort < b.effort; });
  const double middle = 0.5 * (easiest->effort + hardest->effort);
  std::vector<std::string> parts;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    if (steps[k].effort <= middle) continue;
    const double from_m = steps[k].from_m;
    while (k + 1 < steps.size() && steps[k + 1].effort > middle) ++k;
    const double to_m = k + 1 < steps.size() ? steps[k + 1].from_m : planned.road.length_m();
    parts.push_back(fmt::format("from {} to {}", place(planned, from_m, units), place(planned, to_m, units)));
  }
  return fmt::format("up to {:.0f} % harder {}, easier elsewhere, the same on average", 100.0 * lean, enumerated(parts));
}

}  // namespace leewheel
