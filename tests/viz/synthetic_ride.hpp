#pragma once
/// An invented ride made by hand, without the program's own mechanics: the viewer's tests and benchmark can rely on it
/// whatever the model does. Deterministic.

#include <memory>

#include "viz/view/replay.hpp"

namespace leewheel::synthetic {

struct RideShape {
  std::size_t riders = 6;
  double duration_s = 1800;
  double road_length_m = 12000;
  std::size_t groups = 2;  ///< at the start all are together; later ones drop off at a quarter of the time
};

inline constexpr RideShape six{6, 600, 4000, 2};

TraceHead head(const RideShape& shape);
RideSample sample(const RideShape& shape, const TraceHead& head, const Road& road, std::size_t index);
/// The ride in memory.
std::unique_ptr<view::RideSource> source(const RideShape& shape, const std::string& title = "An invented ride");
/// Six riders for ten minutes, as a replay.
view::Replay six_riders();
/// The ride as a trace file.
void write_trace(const std::string& path, const RideShape& shape);

}  // namespace leewheel::synthetic
