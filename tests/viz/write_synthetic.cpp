/// Writes the invented ride as a trace file: write_synthetic FILE.h5 [riders] [duration_s] [road_length_m]
#include <cstdlib>

#include "synthetic_ride.hpp"

int main(int argc, char** argv) {
  leewheel::synthetic::RideShape shape;
  if (argc < 2) return 2;
  if (argc > 2)
    shape.riders = static_cast<std::size_t>(std::atoi(argv[2])), shape.groups = shape.riders == 1   ? 1
                                                                                : shape.riders > 20 ? 5
                                                                                                    : 2;
  if (argc > 3) shape.duration_s = std::atof(argv[3]);
  if (argc > 4) shape.road_length_m = std::atof(argv[4]);
  leewheel::synthetic::write_trace(argv[1], shape);
}
