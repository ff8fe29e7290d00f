#include "leewheel/kilometres.hpp"

#include <algorithm>
#include <string>

namespace leewheel {

Road with_kilometres(const Road& road) {
  constexpr double long_m = 15e3, last_piece_m = 600.0;
  RoadProfile profile = road.profile();
  std::vector<Landmark>& marks = profile.landmarks;
  if (std::any_of(marks.begin(), marks.end(), [](const Landmark& mark) { return !mark.name.starts_with("km "); }))
    return road;
  const int every_km = road.length_m() > long_m ? 5 : 2;
  for (int km = every_km; 1e3 * km < road.length_m() - last_piece_m; km += every_km)
    if (!landmark_near(road, 1e3 * km)) marks.push_back({"Kilometre " + std::to_string(km), 1e3 * km});
  std::stable_sort(marks.begin(), marks.end(),
                   [](const Landmark& a, const Landmark& b) { return a.distance_m < b.distance_m; });
  return Road(std::move(profile));
}

}  // namespace leewheel
