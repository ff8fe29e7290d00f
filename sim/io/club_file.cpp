#include "io/club_file.hpp"

#include <algorithm>
#include <list>

#include "io/riders_section.hpp"

namespace leewheel {

std::optional<std::vector<ReadRider>> read_club(const std::string& path, Faults& faults) {
  YamlFile file(path, faults);
  if (!file.readable()) return std::nullopt;
  const std::vector<YamlNode>& keys = file.tree().keys;
  if (std::any_of(keys.begin(), keys.end(), [](const YamlNode& key) { return key.scalar == "road"; })) {
    file.root().fault("found a scenario, expected a club file: riders, and archetypes if need be (docs/club.md)");
    return std::nullopt;
  }
  YamlMap root(file.root());
  if (!root.value().is_map()) return std::nullopt;
  const YamlValue list = root.require("riders", "a list of riders");
  const std::optional<Archetypes> archetypes = read_archetypes(root["archetypes"]);
  std::vector<ReadRider> riders;
  if (refused_as_too_many(list)) return std::nullopt;
  std::list<YamlMap> maps;
  for (const YamlValue& item : list.items()) {
    YamlMap& map = maps.emplace_back(item);
    ReadRider rider = read_rider(map, archetypes);
    for (const ReadRider& other : riders)
      if (!rider.settings.name.empty() && other.settings.name == rider.settings.name)
        map["name"].refuse("a name that no other rider has");
    riders.push_back(std::move(rider));
  }
  if (list.is_list() && riders.empty()) list.fault("found an empty list, expected at least one rider");
  settle_as_strong_as(riders);
  auto map = maps.begin();
  for (const ReadRider& rider : riders) check_peak(rider, *map++);
  return riders;
}

std::vector<ReadRider> read_club(const std::string& path) {
  Faults faults;
  std::optional<std::vector<ReadRider>> riders = read_club(path, faults);
  faults.throw_if_any();
  return std::move(*riders);
}

}  // namespace leewheel
