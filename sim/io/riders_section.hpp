#pragma once
/// Riders of a scenario, each perhaps after an archetype or from a club file, with their plans of effort.

#include <optional>
#include <string>

#include "io/road_section.hpp"
#include "io/strength_section.hpp"
#include "io/yaml_reader.hpp"
#include "leewheel/scenario.hpp"

namespace leewheel {

inline constexpr std::size_t most_riders = 5000;  ///< of a scenario or a club

/// A fault when there are more, before any of them is read.
bool refused_as_too_many(const YamlValue& riders);

/// Nothing when the file could not be read, so that its riders are not blamed as well.
std::optional<Archetypes> read_archetypes(const YamlValue& value);

/// One rider, from the archetype named or from `known`, the rider of a club file, when there is one.
ReadRider read_rider(YamlMap& map, const std::optional<Archetypes>& archetypes, const ReadRider* known = nullptr);

/// A fault at `place` unless critical power lies below the highest power.
void check_peak(const ReadRider& rider, YamlMap& place);

/// `club`, `coming`, `archetypes` and `riders` of a scenario.
void read_riders(YamlMap& root, const NamedRoad& road, Scenario& scenario);

}  // namespace leewheel
