#include "viz/view/profile.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leewheel::view {
namespace {

constexpr double piece_m = 50.0;
constexpr double same_grade = 0.015;

double mean_grade(const Road& road, double from_m, double to_m) {
  return (road.elevation_m(to_m) - road.elevation_m(from_m)) / std::max(1e-9, to_m - from_m);
}

void absorb_shortest(const Road& road, std::vector<GradeRun>& runs, std::size_t k) {
  const bool has_left = k > 0, has_right = k + 1 < runs.size();
  const double to_left = has_left ? std::abs(runs[k - 1].grade - runs[k].grade) : 1e9;
  const double to_right = has_right ? std::abs(runs[k + 1].grade - runs[k].grade) : 1e9;
  const std::size_t into = to_left <= to_right ? k - 1 : k + 1;
  runs[into].from_m = std::min(runs[into].from_m, runs[k].from_m);
  runs[into].to_m = std::max(runs[into].to_m, runs[k].to_m);
  runs[into].grade = mean_grade(road, runs[into].from_m, runs[into].to_m);
  runs.erase(runs.begin() + static_cast<std::ptrdiff_t>(k));
}

}  // namespace

std::vector<ClimbStroke> climb_strokes(const Road& road, double interval_m) {
  std::vector<ClimbStroke> strokes;
  const auto& z = road.profile().elevation_m;
  double carried_m = 0.0;
  for (std::size_t i = 1; i < z.size(); ++i) {
    carried_m += z[i] - z[i - 1];
    while (std::abs(carried_m) >= interval_m) {
      const bool up = carried_m > 0;
      strokes.push_back({static_cast<double>(i) * road.spacing_m(), up});
      carried_m -= up ? interval_m : -interval_m;
    }
  }
  return strokes;
}

double stroke_interval_m(const Road& road, double least_spacing_m, double unit_m) {
  const double steepest = std::max(0.01, road.facts().steepest_100m_grade);
  for (double power = unit_m;; power *= 10.0)
    for (const double step : {1.0, 2.0, 5.0})
      if (step * power / steepest >= least_spacing_m) return step * power;
}

std::vector<GradeRun> grade_runs(const Road& road, double shortest_m) {
  std::vector<GradeRun> runs;
  const double length_m = road.length_m();
  const auto pieces = static_cast<std::size_t>(std::max(1.0, std::floor(length_m / piece_m)));
  for (std::size_t k = 0; k < pieces; ++k) {
    const double from_m = static_cast<double>(k) * piece_m, to_m = k + 1 == pieces ? length_m : from_m + piece_m;
    const double grade = mean_grade(road, from_m, to_m);
    if (!runs.empty() && std::abs(grade - runs.back().grade) < same_grade) {
      runs.back().to_m = to_m;
      runs.back().grade = mean_grade(road, runs.back().from_m, to_m);
    } else {
      runs.push_back({from_m, to_m, grade});
    }
  }
  while (runs.size() > 1) {
    const auto shortest = std::ranges::min_element(runs, {}, [](const GradeRun& r) { return r.to_m - r.from_m; });
    if (shortest->to_m - shortest->from_m >= shortest_m) break;
    absorb_shortest(road, runs, static_cast<std::size_t>(shortest - runs.begin()));
  }
  return runs;
}

std::vector<PlanCue> plan_cues(const TraceHead& head, std::size_t rider, double length_m) {
  std::vector<PlanCue> cues;
  if (rider >= head.plans.size()) return cues;
  for (const PlanStep& step : head.plans[rider]) {
    if (step.from_m >= length_m) break;
    if (!cues.empty()) cues.back().to_m = step.from_m;
    cues.push_back({step.from_m, length_m, fmt::format("{:.0f} %", 100 * step.effort)});
  }
  return cues;
}

bool has_plan(const TraceHead& head) {
  return !head.regroup_at_m.empty() || std::ranges::any_of(head.plans, [](const auto& steps) { return !steps.empty(); });
}

std::vector<ExposureRun> exposure_runs(const std::vector<Exposure>& along, double spacing_m) {
  std::vector<ExposureRun> runs;
  for (std::size_t i = 0; i + 1 < along.size(); ++i) {
    const double to_m = static_cast<double>(i + 1) * spacing_m;
    if (!runs.empty() && runs.back().exposure == along[i])
      runs.back().to_m = to_m;
    else
      runs.push_back({static_cast<double>(i) * spacing_m, to_m, along[i]});
  }
  return runs;
}

const char* exposure_words(Exposure exposure) {
  static constexpr const char* words[] = {"ridge", "slope", "trees", "houses", "wood"};
  return words[static_cast<std::size_t>(exposure)];
}

}  // namespace leewheel::view
