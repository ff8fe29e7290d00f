#pragma once
/// The whole climb, cut into what the road view draws.

#include <string>
#include <vector>

#include "io/trace_file.hpp"
#include "leewheel/road.hpp"

namespace leewheel::view {

/// One stroke for every `interval_m` of height gained or lost: the strokes crowd where it is steep.
struct ClimbStroke {
  double distance_m;
  bool up;
};
std::vector<ClimbStroke> climb_strokes(const Road& road, double interval_m);
/// The smallest of 1, 2, 5, 10 ... units of height (`unit_m`: metre or foot) that keeps strokes on the steepest 100 m at least `least_spacing_m` of road apart.
double stroke_interval_m(const Road& road, double least_spacing_m, double unit_m = 1.0);

/// Road of about one grade.
struct GradeRun {
  double from_m, to_m, grade;
};
/// Grades of 50 m pieces joined while they differ by less than 1.5 %; runs shorter than `shortest_m` go to the more similar neighbour.
std::vector<GradeRun> grade_runs(const Road& road, double shortest_m);

/// A step of a rider's own plan, to the next step or the end of the road.
struct PlanCue {
  double from_m, to_m;
  std::string words;  ///< "85 %", of critical power
};
std::vector<PlanCue> plan_cues(const TraceHead& head, std::size_t rider, double length_m);
bool has_plan(const TraceHead& head);  ///< regroup points, or a plan of any rider

struct ExposureRun {
  double from_m, to_m;
  Exposure exposure;
};
std::vector<ExposureRun> exposure_runs(const std::vector<Exposure>& along, double spacing_m);
const char* exposure_words(Exposure exposure);  ///< "ridge", "slope", "trees", "houses", "wood"

}  // namespace leewheel::view
