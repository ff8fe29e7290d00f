#include "io/now_file.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "io/clock_time.hpp"
#include "io/plain_number.hpp"
#include "io/yaml_reader.hpp"

namespace leewheel {

namespace {

constexpr double shortest_rest_m = 200.0;

/// A landmark, metres, or kilometres with their unit.
void read_place(const YamlValue& value, const Road& road, double& into) {
  std::string text;
  if (!value.given() || value.is_list() || value.is_map()) return value.refuse("a place: a landmark, 3200 or 3.2 km");
  text = value.node()->scalar;
  if (text == "finish") return value.refuse("a place before it: who is at the finish is home, leave that rider out");
  std::optional<double> at_m = distance_in_m(text);
  for (const Landmark& mark : road.landmarks())
    if (mark.name == text) at_m = mark.distance_m;
  if (text == "start") at_m = 0.0;
  if (!at_m) return value.refuse("a place: a landmark, 3200 or 3.2 km");
  const double most_m = road.length_m() - shortest_rest_m;
  if (*at_m < 0.0 || *at_m > most_m) return value.refuse(fmt::format("a place from 0 to {:.0f} m", most_m));
  into = *at_m;
}

void read_time(const YamlValue& value, const Scenario& scenario, double& into) {
  if (!value.given())
    return value.fault("expected `time`: minutes after the start, or a time of day where `start` is known");
  if (value.is_number()) {
    double minutes = 0.0;
    if (value.number({0.0, 24.0 * 60.0}, minutes)) into = 60.0 * minutes;
    return;
  }
  if (!scenario.start)
    return value.refuse("minutes after the start: the scenario has no `start` to reckon a time of day from");
  read_clock_time(value, scenario.start, 0.0, into);
}

void read_rider(const YamlValue& item, const Scenario& scenario, RideNow& now) {
  YamlMap map(item);
  RiderNow rider;
  const YamlValue name = map.require("name", "a rider");
  const bool named = name.text(rider.rider);
  read_place(map.require("at", "where the rider is"), scenario.road, rider.at_m);
  double percent = 100.0;
  if (map["wprime_percent"].given()) map["wprime_percent"].number({0.0, 100.0}, percent);
  rider.wbal_share = percent / 100.0;
  constexpr std::array<std::string_view, 2> no_yes{"no", "yes"};
  enum class Answer { no, yes } cracked = Answer::no;
  if (map["cracked"].given()) map["cracked"].choice(no_yes, cracked);
  rider.cracked = cracked == Answer::yes;
  if (!named) return;
  std::vector<std::string> names;
  for (const RiderSettings& r : scenario.riders) names.push_back(r.name);
  if (std::find(names.begin(), names.end(), rider.rider) == names.end())
    name.refuse("a rider of the scenario: " + fmt::format("{}", fmt::join(names, ", ")));
  else if (std::any_of(now.riders.begin(), now.riders.end(), [&](const RiderNow& r) { return r.rider == rider.rider; }))
    name.refuse("each rider once");
  now.riders.push_back(rider);
}

}  // namespace

RideNow read_now(const std::string& path, const Scenario& scenario) {
  Faults faults;
  RideNow now;
  YamlFile file(path, faults);
  if (file.readable()) {
    YamlMap root(file.root());
    read_time(root["time"], scenario, now.time_s);
    const YamlValue list = root.require("riders", "a list of riders");
    for (const YamlValue& item : list.items()) read_rider(item, scenario, now);
    if (list.is_list() && list.items().size() < 2) list.fault("expected two riders or more");
  }
  faults.throw_if_any();
  return now;
}

std::string now_starter(const Scenario& scenario) {
  std::string text =
      "# Where everyone is now. time: minutes after the start, or a time of day where the scenario has a start.\n"
      "# at: a landmark, metres or kilometres (3.2 km). wprime_percent: how much of the store above critical power is left, "
      "by\n"
      "# feel. cracked: yes for who can no longer ride near the own strength. Leave out who has gone home.\n"
      "time: 0\nriders:\n";
  for (const RiderSettings& rider : scenario.riders) {
    std::string name;
    for (const char c : rider.name) name += c == '"' || c == '\\' ? std::string("\\") + c : std::string(1, c);
    text += fmt::format("  - {{name: \"{}\", at: start, wprime_percent: 100, cracked: no}}\n", name);
  }
  return text;
}

}  // namespace leewheel
