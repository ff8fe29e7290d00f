/// A road file: what is written of it reads back as the same road.

#include <cmath>

#include "fuzz/fuzz.hpp"
#include "io/road_file.hpp"

void fuzz::begin() {}

bool fuzz::take(std::string_view bytes) {
  return accepts(
      [](const std::string& path) {
        const leewheel::RoadProfile read = leewheel::read_road(path);
        for (const double z : read.elevation_m)
          if (!std::isfinite(z)) wrong("elevations are numbers");
        const leewheel::RoadProfile again = leewheel::read_road(put("again.yaml", leewheel::road_yaml(read, "")));
        const double length_m = leewheel::Road(read).length_m(), again_m = leewheel::Road(again).length_m();
        if (std::abs(length_m - again_m) > 0.01) wrong("a road that is written keeps its length");
        if (read.landmarks.size() != again.landmarks.size()) wrong("a road that is written keeps its landmarks");
      },
      put("road.yaml", bytes));
}
