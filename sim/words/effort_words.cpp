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

/// "from the start to Wood top and from Spring to the finish": where a plan's effort is above the middle of its range.
std::string harder_places(const Scenario& planned, const std::vector<PlanStep>& steps, const ShownUnits& units) {
  const auto [easiest, hardest] = std::ranges::minmax(steps, {}, &PlanStep::effort);
  const double middle = 0.5 * (easiest.effort + hardest.effort);
  std::vector<std::string> parts;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    if (steps[k].effort <= middle) continue;
    const double from_m = steps[k].from_m;
    while (k + 1 < steps.size() && steps[k + 1].effort > middle) ++k;
    const double to_m = k + 1 < steps.size() ? steps[k + 1].from_m : planned.road.length_m();
    parts.push_back(fmt::format("from {} to {}", place(planned, from_m, units), place(planned, to_m, units)));
  }
  return enumerated(parts);
}

}  // namespace

std::string effort_changes_text(const Scenario& scenario, std::size_t rider, const ShownUnits& units) {
  const std::vector<PlanStep> steps = changes(scenario, rider);
  if (steps.size() < 2) return "";
  const auto power = [&](double effort, const char* of_what = "") {
    return fmt::format("{:.0f} %{} ({:.0f} W)", 100.0 * effort, of_what, effort * scenario.riders[rider].critical_power_W);
  };
  const auto of_all = std::ranges::minmax(steps, {}, &PlanStep::effort);
  const bool two_efforts = std::ranges::all_of(
      steps, [&](const PlanStep& s) { return s.effort == of_all.min.effort || s.effort == of_all.max.effort; });
  if (two_efforts)
    return fmt::format("{}; {} {}", power(of_all.min.effort, " of critical power"), power(of_all.max.effort),
                       harder_places(scenario, steps, units));
  std::string text = power(steps.front().effort, " of critical power");
  for (std::size_t k = 1; k < steps.size(); ++k)
    text += fmt::format("; from {} {}", place(scenario, steps[k].from_m, units), power(steps[k].effort));
  return text;
}

std::string harder_text(const Scenario& planned, const ShownUnits& units) {
  for (std::size_t i = 0; i < planned.riders.size(); ++i)
    if (changes(planned, i).size() < 2) return "";
  return fmt::format("harder {}, easier elsewhere; watts on each card", harder_places(planned, changes(planned, 0), units));
}

std::string lean_text(double lean, const Scenario& planned, const ShownUnits& units) {
  std::size_t rider = 0;
  while (rider < planned.riders.size() && changes(planned, rider).size() < 2) ++rider;
  if (rider == planned.riders.size()) return "as usual: no steep part is long enough to ride it harder";
  return fmt::format("up to {:.0f} % harder {}, easier elsewhere, the same on average", 100.0 * lean,
                     harder_places(planned, changes(planned, rider), units));
}

}  // namespace leewheel
