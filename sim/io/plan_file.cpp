#include "io/plan_file.hpp"

#include <fmt/format.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <sstream>

#include "io/old_names.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/units.hpp"
#include "words/day_clock.hpp"

namespace leewheel {

namespace {

namespace fs = std::filesystem;

std::string commented(const std::string& text) {
  std::istringstream lines(text);
  std::string out, line;
  while (std::getline(lines, line)) out += "# " + line + "\n";
  return out;
}

/// Neighbouring files (`file`, `track`, `club`, or a forecast given by name, anywhere) as seen from another folder.
void repoint(YAML::Node node, const fs::path& from, const fs::path& to) {
  if (node.IsSequence())
    for (YAML::Node item : node) repoint(item, from, to);
  if (!node.IsMap()) return;
  for (auto entry : node) {
    const std::string key = entry.first.as<std::string>("");
    if ((key == "file" || key == "track" || key == "forecast" || key == "club" || key == "now") && entry.second.IsScalar()) {
      const fs::path seen = entry.second.as<std::string>();
      if (!seen.is_absolute()) entry.second = fs::relative((from / seen).lexically_normal(), to).generic_string();
    } else {
      repoint(entry.second, from, to);
    }
  }
}

/// Keys of the last version get their present names, so that none stands there under both.
void rename_old(YAML::Node root) {
  const auto rename_in = [](YAML::Node map, const std::string& under) {
    for (const OldName& one : old_names()) {
      const std::string old(one.old);
      if (one.under != under || !map.IsMap() || !map[old]) continue;
      map[std::string(one.now)] = map[old];
      map.remove(old);
    }
  };
  rename_in(root, "");
  for (auto entry : root) rename_in(entry.second, entry.first.as<std::string>(""));
}

YAML::Node plan_node(const std::vector<PlanStep>& steps) {
  YAML::Node list;
  for (const PlanStep& step : steps) {
    YAML::Node entry;
    entry.SetStyle(YAML::EmitterStyle::Flow);
    entry["from_m"] = fmt::format("{:g}", step.from_m);
    entry["effort"] = fmt::format("{:.6g}", step.effort);
    list.push_back(entry);
  }
  return list;
}

void lay_in_ride(YAML::Node ride, const RideSettings& planned) {
  ride["kind"] = std::string(ride_kind_names[static_cast<std::size_t>(planned.kind)]);
  ride["formation"] = std::string(formation_names[static_cast<std::size_t>(planned.formation)]);
  ride.remove("start_order");
  ride.remove("regroup_at");
  for (const std::string& name : planned.start_order) ride["start_order"].push_back(name);
  for (const double at_m : planned.regroup_at_m) ride["regroup_at"].push_back(fmt::format("{:g}", at_m));
  for (const char* key : {"start_order", "regroup_at"})
    if (ride[key]) ride[key].SetStyle(YAML::EmitterStyle::Flow);
}

/// The rider's entry; one who comes from the club file as kept there gets one.
YAML::Node entry_of(YAML::Node root, const std::string& name) {
  for (YAML::Node rider : root["riders"])
    if (rider["name"].as<std::string>("") == name) return rider;
  YAML::Node rider;
  rider["name"] = name;
  root["riders"].push_back(rider);
  return rider;
}

void lay_in_behaviour(YAML::Node root, const TacticsSettings& planned) {
  const TacticsSettings usual;
  for (const NumberField<TacticsSettings>& field : tactics_fields())
    if (planned.*field.member != usual.*field.member || (root["behaviour"] && root["behaviour"][field.name]))
      root["behaviour"][field.name] = fmt::format("{:.6g}", planned.*field.member);
}

/// Guests of the file's own list who do not come are taken out where a club stands beside it.
void lay_in_who_comes(YAML::Node root, const Scenario& planned) {
  const auto comes = [&](const std::string& name) {
    return std::any_of(planned.riders.begin(), planned.riders.end(), [&](const auto& r) { return r.name == name; });
  };
  std::vector<std::string> listed;
  YAML::Node kept(YAML::NodeType::Sequence);
  for (const YAML::Node& rider : root["riders"]) {
    const std::string name = rider["name"].as<std::string>("");
    listed.push_back(name);
    if (comes(name)) kept.push_back(rider);
  }
  const bool club = static_cast<bool>(root["club"]);
  if (club && root["riders"]) root["riders"] = kept;
  YAML::Node coming(YAML::NodeType::Sequence);
  coming.SetStyle(YAML::EmitterStyle::Flow);
  for (const RiderSettings& rider : planned.riders)
    if (!club || std::find(listed.begin(), listed.end(), rider.name) == listed.end()) coming.push_back(rider.name);
  root["coming"] = coming;
}

/// Where the wind changes: at what times after a group's own start.
void lay_in_forecast(YAML::Node wind, const std::vector<ForecastPoint>& forecast) {
  if (forecast.size() < 2) return;
  const auto text = [](double value) { return fmt::format("{:.9g}", value); };
  YAML::Node points(YAML::NodeType::Sequence);
  for (const ForecastPoint& at : forecast) {
    YAML::Node point;
    point.SetStyle(YAML::EmitterStyle::Flow);
    point["time_s"] = text(at.time_s), point["speed_mps"] = text(at.speed_mps);
    point["from_deg"] = text(deg_from_rad(at.from_rad));
    if (at.gust_mps) point["gusts_mps"] = text(*at.gust_mps);
    if (at.temperature_C) point["temperature_C"] = text(*at.temperature_C);
    if (at.pressure_Pa) point["pressure_hPa"] = text(*at.pressure_Pa / 100.0);
    if (at.humidity_fraction) point["humidity_percent"] = text(100.0 * *at.humidity_fraction);
    points.push_back(point);
  }
  wind["forecast"] = points;
}

void lay_in_wind(YAML::Node wind, const WindSettings& planned) {
  if (!wind) return;
  if (planned.stations.empty()) lay_in_forecast(wind, planned.forecast);
  for (std::size_t k = 0; k < planned.stations.size(); ++k)
    lay_in_forecast(wind["stations"][k], planned.stations[k].forecast);
}

}  // namespace

std::string plan_yaml(const std::vector<PlanStep>& steps, double critical_power_W, const std::string& comment) {
  std::string text = commented(comment) + "plan:\n";
  for (const PlanStep& step : steps)
    text += fmt::format("  - {{from_m: {:g}, power_W: {:g}}}\n", step.from_m,
                        std::round(100.0 * step.effort * critical_power_W) / 100.0);
  return text;
}

std::string scenario_with_plan_yaml(const std::string& scenario_path, const Scenario& planned, const std::string& out_path,
                                    const std::string& comment, const LaidInToo& too) {
  YAML::Node root = YAML::Load(read_text(scenario_path));
  rename_old(root);
  const fs::path from = fs::absolute(scenario_path).parent_path(), to = fs::absolute(out_path).parent_path();
  repoint(root, from, to);
  if (!root["ride"]) root["ride"] = YAML::Node(YAML::NodeType::Map);
  lay_in_ride(root["ride"], planned.ride);
  lay_in_behaviour(root, planned.tactics);
  if (too.only_these) lay_in_who_comes(root, planned);
  if (too.only_these && planned.start) root["start"] = DayClock(planned.start).iso(0.0);
  if (too.only_these) lay_in_wind(root["wind"], planned.wind);
  if (!too.now_path.empty()) root["now"] = fs::relative(fs::absolute(too.now_path), to).generic_string();
  for (std::size_t k = 0; k < planned.riders.size(); ++k)
    if (!planned.plans[k].empty()) entry_of(root, planned.riders[k].name)["plan"] = plan_node(planned.plans[k]);
  YAML::Emitter emitter;
  emitter << root;
  return commented(comment) + emitter.c_str() + "\n";
}

}  // namespace leewheel
