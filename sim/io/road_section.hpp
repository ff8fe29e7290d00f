#pragma once
/// The part of a file that describes a road, shared by road files and scenarios.

#include <optional>

#include "io/yaml_reader.hpp"
#include "leewheel/road.hpp"

namespace leewheel {

/// A road and the names that plans and regroup points may refer to: landmarks and the beginnings of named stretches.
struct NamedRoad {
  RoadProfile profile;
  std::vector<Landmark> places;  ///< besides `start` and `finish`
  bool known = true;             ///< false: a stand-in for a broken road, so that the rest of a file can be checked
  double length_m() const;       ///< of a stand-in: longer than any road
};
NamedRoad stand_in_road();

/// The `road` of a scenario: `file`, `track` with its options, or a description. Nothing when there is no usable road, which
/// has then become a fault.
std::optional<NamedRoad> read_road_part(const YamlValue& value);

/// Reads start_elevation_m + stretches, or line; and position, marks and landmarks. Nothing when there is no usable
/// road, which has then become a fault.
std::optional<NamedRoad> read_described_road(YamlMap& map);

/// Reads the road file at `path`, adding its faults to `faults`.
std::optional<NamedRoad> read_road_file(const std::string& path, Faults& faults);

/// exposure, surface, width_m, abreast by ranges, landmarks: applied on top of what the road has.
void read_marks(YamlMap& map, NamedRoad& road);

/// A distance given in metres or by the name of a place. False when it is not given or was a fault.
bool read_distance(const YamlValue& value, const NamedRoad& road, double& distance_m);

}  // namespace leewheel
