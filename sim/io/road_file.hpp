#pragma once
/// Roads as YAML: a list of stretches, or a sampled line with exposure, surface and landmarks marked by distance.

#include <string>

#include "leewheel/road.hpp"

namespace leewheel {

RoadProfile read_road(const std::string& path);                                 ///< throws InputFault
std::string road_yaml(const RoadProfile& profile, const std::string& comment);  ///< an editable road

}  // namespace leewheel
