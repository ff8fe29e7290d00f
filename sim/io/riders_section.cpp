#include "io/riders_section.hpp"

#include <fmt/format.h>

namespace leewheel {

namespace {

PlanStep read_plan_step(const YamlValue& item, const RiderSettings& rider, const NamedRoad& road) {
  YamlMap map(item);
  PlanStep step;
  map.one_of("from_m", "from");
  map["from_m"].number({0.0, road.length_m()}, step.from_m);
  read_distance(map["from"], road, step.from_m);
  double power_W = 0.0;
  const YamlValue effort = map["effort"], power = map["power_W"];
  map.one_of("effort", "power_W");
  effort.number({0.0, 5.0}, step.effort);  // 0: the rider rolls
  if (power.number({0.0, rider.peak_power_W}, power_W)) step.effort = power_W / rider.critical_power_W;
  return step;
}

std::vector<PlanStep> read_plan(const YamlValue& list, const RiderSettings& rider, const NamedRoad& road) {
  std::vector<PlanStep> plan;
  for (const YamlValue& item : list.items()) {
    const PlanStep step = read_plan_step(item, rider, road);
    if (!plan.empty() && step.from_m <= plan.back().from_m)
      item.fault(fmt::format("found a step from {:g} m after one from {:g} m, expected rising distances", step.from_m,
                             plan.back().from_m));
    plan.push_back(step);
  }
  if (!plan.empty() && plan.front().from_m > 0.0) plan.insert(plan.begin(), {0.0, rider.target_effort});
  return plan;
}

RiderSettings read_rider(YamlMap& map, const std::optional<Archetypes>& archetypes) {
  RiderSettings rider;
  std::string archetype;
  const YamlValue chosen = map["archetype"];
  if (chosen.text(archetype) && archetypes) {
    std::vector<std::string> names;
    for (const auto& [name, settings] : *archetypes) names.push_back(name);
    if (const auto found = archetypes->find(archetype); found != archetypes->end())
      rider = found->second;
    else if (names.empty())
      chosen.refuse("archetypes to be given as well (archetypes: {file: ...})");
    else
      chosen.refuse(fmt::format("one of {}", fmt::join(names, ", ")));
  }
  map.require("name", "a name").name(rider.name);
  map.numbers(rider_fields(), rider);
  if (rider.critical_power_W >= rider.peak_power_W)
    (map["critical_power_W"].given() ? map["critical_power_W"] : map.value())
        .fault(fmt::format("found a critical power of {:g} W, expected less than peak_power_W, which is {:g} W",
                           rider.critical_power_W, rider.peak_power_W));
  return rider;
}

}  // namespace

std::optional<Archetypes> read_archetypes(const YamlValue& value) {
  Archetypes archetypes;
  if (!value.given()) return archetypes;
  YamlMap map(value);
  std::string path;
  if (!map.require("file", "the name of a file").neighbour(path)) return std::nullopt;
  YamlFile file(path, value.file().faults());
  if (!file.readable()) return std::nullopt;
  YamlMap root(file.root());
  const YamlValue section = root.require("archetypes", "riders by name");
  YamlMap by_name(section);
  for (const YamlValue& one : by_name.all()) {
    YamlMap fields(one);
    fields.numbers(rider_fields(), archetypes[one.field().substr(section.field().size() + 1)]);
  }
  return archetypes;
}

void read_riders(const YamlValue& list, const std::optional<Archetypes>& archetypes, const NamedRoad& road,
                 Scenario& scenario) {
  for (const YamlValue& item : list.items()) {
    YamlMap map(item);
    RiderSettings rider = read_rider(map, archetypes);
    scenario.plans.push_back(read_plan(map["plan"], rider, road));
    for (const RiderSettings& other : scenario.riders)
      if (!rider.name.empty() && other.name == rider.name) map["name"].refuse("a name that no other rider has");
    scenario.riders.push_back(std::move(rider));
  }
  if (list.is_list() && scenario.riders.empty()) list.fault("found an empty list, expected at least one rider");
}

}  // namespace leewheel
