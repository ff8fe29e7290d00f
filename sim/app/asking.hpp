#pragma once
/// What commands share: names of riders and places, a stop asked for, the cautions.

#include <fmt/format.h>

#include <csignal>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "app/checks.hpp"
#include "io/fault.hpp"
#include "io/plain_number.hpp"
#include "io/scenario_reader.hpp"
#include "io/yaml_reader.hpp"
#include "leewheel/ride.hpp"
#include "words/cautions.hpp"
#include "words/plain_text.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// Every command that tells a person of quantities takes it.
inline void add_imperial_flag(CLI::App& command, ShownUnits& units) {
  command.add_flag("--imperial", units.imperial, "miles, feet, mph, pounds in what is read; files and JSON stay in SI");
}

/// out/<name of the scenario's folder>, so that every scenario has its place without asking.
inline std::string usual_folder(const std::string& scenario_path) {
  const std::string name = std::filesystem::absolute(scenario_path).lexically_normal().parent_path().filename().string();
  return "out/" + (name.empty() ? "ride" : name);
}

/// On standard error, a line each: "leewheel: my.yaml:7:3: riders[0].name: missing, expected a name".
inline void print_all(const std::vector<Fault>& faults) {
  for (const Fault& fault : faults) fmt::print(stderr, "leewheel: {}\n", fault.text());
}

/// The scenario asked for; what is accepted in its old form is told on standard error.
inline Scenario asked_scenario(const std::string& path) {
  std::vector<Fault> remarks;
  Scenario scenario = read_scenario(path, &remarks);
  print_all(remarks);
  return scenario;
}

inline std::size_t rider_named(const std::string& scenario_path, const Scenario& scenario, const std::string& name) {
  std::vector<std::string> names;
  for (const RiderSettings& rider : scenario.riders) names.push_back(rider.name);
  for (std::size_t k = 0; k < names.size(); ++k)
    if (names[k] == name) return k;
  throw InputFault(
      Fault{scenario_path, 0, 0, "--rider", fmt::format("found {}, expected one of {}", name, fmt::join(names, ", "))});
}

/// Metres, a distance with its unit ("3.2 km"), or the name of a landmark or of the stretch that begins there; start and finish are
/// names too.
inline double place_named(const std::string& scenario_path, const Road& road, const char* option, const std::string& text) {
  const auto refuse = [&](const std::string& expected) -> double {
    throw InputFault(Fault{scenario_path, 0, 0, option, fmt::format("found {}, expected {}", text, expected)});
  };
  if (text == "start") return 0.0;
  if (text == "finish") return road.length_m();
  std::vector<std::string> names{"start", "finish"};
  for (const Landmark& mark : road.landmarks()) {
    if (mark.name == text) return mark.distance_m;
    names.push_back(mark.name);
  }
  for (const Landmark& place : road.profile().named) {
    if (place.name == text) return place.distance_m;
    names.push_back(place.name);
  }
  const std::optional<double> distance_m = distance_in_m(text);
  if (!distance_m) {
    const std::string nearest = nearest_name(text, names);
    return refuse(nearest.empty() ? fmt::format("metres, kilometres as 3.2 km, or one of {}", fmt::join(names, ", "))
                                  : "'" + nearest + "'");
  }
  if (!(*distance_m >= 0.0 && *distance_m <= road.length_m()))
    return refuse(fmt::format("metres from 0 to {:.0f}", road.length_m()));
  return *distance_m;
}

/// While it lives, Ctrl-C and SIGTERM ask for a stop between two steps or rides instead of killing the program in the middle of a write.
class StopAsked {
 public:
  StopAsked() : before_{std::signal(SIGINT, ask), std::signal(SIGTERM, ask)} { asked_ = 0; }
  ~StopAsked() {
    std::signal(SIGINT, before_[0]);
    std::signal(SIGTERM, before_[1]);
  }
  StopAsked(const StopAsked&) = delete;
  static bool yes() { return asked_ != 0; }

 private:
  static void ask(int) { asked_ = 1; }
  inline static volatile std::sig_atomic_t asked_ = 0;
  void (*before_[2])(int);
};

}  // namespace leewheel
