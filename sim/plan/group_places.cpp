#include "plan/group_places.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/lineup.hpp"

namespace leewheel {

namespace {
constexpr double around_m = 50.0;
constexpr double last_part_m = 1000.0;  // everyone waits at the finish anyway (assumed)
}  // namespace

double grade_around(const Road& road, double at_m) {
  const double from_m = std::max(0.0, at_m - around_m), to_m = std::min(road.length_m(), at_m + around_m);
  return (road.elevation_m(to_m) - road.elevation_m(from_m)) / (to_m - from_m);
}

std::string unfit_to_wait(const Road& road, double at_m) {
  if (at_m > road.length_m() - last_part_m) return "in the last kilometre";
  if (std::abs(grade_around(road, at_m)) > steep_to_stand_grade) return "too steep to stand";
  return landmark_near(road, at_m) ? "" : "no landmark there";
}

std::vector<double> places_to_wait(const Road& road) {
  std::vector<double> places;
  for (const Landmark& mark : road.landmarks())
    if (mark.distance_m > around_m && unfit_to_wait(road, mark.distance_m).empty()) places.push_back(mark.distance_m);
  return places;
}

}  // namespace leewheel
