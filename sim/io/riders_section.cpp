#include "io/riders_section.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <list>
#include <numeric>

#include "io/club_file.hpp"

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

/// A rider of the scenario, with what is read once everyone's strength is known.
struct Entry {
  ReadRider rider;
  std::optional<YamlMap> map;  // nothing: comes as in the club file
};

/// The places in `names` of those who come: all, unless they are named.
std::vector<std::size_t> who_come(const YamlValue& list, const std::vector<std::string>& names, const char* of_whom) {
  std::vector<std::size_t> coming;
  for (std::size_t i = 0; i < names.size() && !list.given(); ++i) coming.push_back(i);
  for (const YamlValue& item : list.items()) {
    std::string name;
    if (!item.text(name)) continue;
    const auto found = std::find(names.begin(), names.end(), name);
    const auto place = static_cast<std::size_t>(found - names.begin());
    if (found == names.end()) {
      const std::string nearest = nearest_name(name, names);
      item.refuse(nearest.empty() ? fmt::format("{}: {}", of_whom, fmt::join(names, ", ")) : "'" + nearest + "'");
    } else if (std::find(coming.begin(), coming.end(), place) != coming.end()) {
      item.refuse("each rider once");
    } else {
      coming.push_back(place);
    }
  }
  return coming;
}

std::vector<std::string> names_of_entries(const std::list<Entry>& entries) {
  std::vector<std::string> names;
  for (const Entry& entry : entries) names.push_back(entry.rider.settings.name);
  return names;
}

std::list<Entry> read_coming(const YamlValue& list, const std::vector<ReadRider>& club) {
  std::vector<std::string> names;
  for (const ReadRider& rider : club) names.push_back(rider.settings.name);
  std::list<Entry> coming;
  for (const std::size_t i : who_come(list, names, "a rider of the club")) coming.emplace_back().rider = club[i];
  return coming;
}

/// A rider of the club with other numbers for the day, or a guest.
void read_entry(const YamlValue& item, const std::vector<ReadRider>& club, const std::optional<Archetypes>& archetypes,
                std::list<Entry>& entries) {
  std::string name;
  if (item.is_map())
    for (std::size_t k = 0; k < item.node()->keys.size(); ++k)
      if (item.node()->keys[k].scalar == "name") name = item.node()->items[k].scalar;
  const auto called = [&](const ReadRider& rider) { return !name.empty() && rider.settings.name == name; };
  const auto known = std::find_if(club.begin(), club.end(), called);
  auto entry = std::find_if(entries.begin(), entries.end(), [&](const Entry& one) { return called(one.rider); });
  const bool twice = entry != entries.end() && entry->map;
  if (twice || entry == entries.end()) {
    entries.emplace_back();
    entry = std::prev(entries.end());
  }
  entry->map.emplace(item);
  if (twice) (*entry->map)["name"].refuse("a name that no other rider has");
  entry->rider = read_rider(*entry->map, archetypes, known == club.end() ? nullptr : &*known);
}

}  // namespace

bool refused_as_too_many(const YamlValue& riders) {
  if (!riders.is_list() || riders.node()->items.size() <= most_riders) return false;
  riders.fault(fmt::format("found {} riders, expected at most {}", riders.node()->items.size(), most_riders));
  return true;
}

ReadRider read_rider(YamlMap& map, const std::optional<Archetypes>& archetypes, const ReadRider* known) {
  ReadRider rider{{}, {.power = StrengthSource::assumed}, {}, false};
  rider.settings.critical_power_spread = unknown_power_spread;  // until something is given
  rider.settings.w_prime_spread = unknown_w_prime_spread;
  if (known) rider = *known;
  std::string archetype;
  const YamlValue chosen = map["archetype"];
  if (chosen.text(archetype) && archetypes) {
    std::vector<std::string> names;
    for (const auto& [name, settings] : *archetypes) names.push_back(name);
    if (const auto found = archetypes->find(archetype); found != archetypes->end())
      rider = {found->second, {.power = StrengthSource::archetype, .like = archetype}, {}, true};
    else if (names.empty())
      chosen.refuse("archetypes to be given as well (archetypes: {file: ...})");
    else
      chosen.refuse(fmt::format("one of {}", fmt::join(names, ", ")));
  }
  map.require("name", "a name").name(rider.settings.name);
  read_strength(map, rider);
  return rider;
}

void check_peak(const ReadRider& rider, YamlMap& place) {
  const RiderSettings& s = rider.settings;
  if (s.critical_power_W < s.peak_power_W) return;
  (place["critical_power_W"].given() ? place["critical_power_W"] : place.value())
      .fault(fmt::format("found a critical power of {:.6g} W, expected less than peak_power_W, which is {:g} W",
                         s.critical_power_W, s.peak_power_W));
}

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

void read_riders(YamlMap& root, const NamedRoad& road, Scenario& scenario) {
  const YamlValue club_file = root["club"], coming = root["coming"];
  const std::optional<Archetypes> archetypes = read_archetypes(root["archetypes"]);
  const YamlValue list = club_file.given() ? root["riders"] : root.require("riders", "a list of riders");
  std::optional<std::vector<ReadRider>> club(std::in_place);
  if (refused_as_too_many(list)) return;
  if (std::string path; club_file.given())
    club = club_file.neighbour(path) ? read_club(path, root.value().file().faults()) : std::nullopt;
  std::list<Entry> entries;
  if (club && club_file.given()) entries = read_coming(coming, *club);
  const std::vector<ReadRider> nobody_yet;
  for (const YamlValue& item : list.items()) read_entry(item, club ? *club : nobody_yet, archetypes, entries);
  if (!club) return;  // who is as strong as whom is not to be told without the club

  std::vector<ReadRider> riders;
  for (const Entry& entry : entries) riders.push_back(entry.rider);
  for (const ReadRider& at_home : *club)
    if (std::none_of(entries.begin(), entries.end(),
                     [&](const Entry& entry) { return entry.rider.settings.name == at_home.settings.name; }))
      riders.push_back(at_home);  // somebody may be as strong as they are
  settle_as_strong_as(riders);
  std::vector<std::size_t> come(entries.size());
  std::iota(come.begin(), come.end(), std::size_t{0});
  if (!club_file.given()) come = who_come(coming, names_of_entries(entries), "a rider of the list");
  auto rider = riders.begin();
  for (Entry& entry : entries) {
    if (entry.map) check_peak(*rider, *entry.map);
    std::vector<PlanStep> plan =
        entry.map ? read_plan((*entry.map)["plan"], rider->settings, road) : std::vector<PlanStep>{};
    if (std::find(come.begin(), come.end(), static_cast<std::size_t>(rider - riders.begin())) == come.end()) {
      ++rider;
      continue;
    }
    scenario.plans.push_back(std::move(plan));
    scenario.riders.push_back(rider->settings);
    scenario.rests_on.push_back(rider->basis);
    ++rider;
  }
  if (list.is_list() && scenario.riders.empty()) list.fault("found an empty list, expected at least one rider");
}

}  // namespace leewheel
