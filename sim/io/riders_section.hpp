#pragma once
/// Riders of a scenario, each perhaps after an archetype, with their plans of effort.

#include <map>
#include <optional>
#include <string>

#include "io/road_section.hpp"
#include "io/yaml_reader.hpp"
#include "leewheel/scenario.hpp"

namespace leewheel {

using Archetypes = std::map<std::string, RiderSettings>;

/// Nothing when the file could not be read, so that its riders are not blamed as well.
std::optional<Archetypes> read_archetypes(const YamlValue& value);

void read_riders(const YamlValue& list, const std::optional<Archetypes>& archetypes, const NamedRoad& road,
                 Scenario& scenario);

}  // namespace leewheel
