/// A scenario, with the files that it may name beside it.

#include "fuzz/fuzz.hpp"
#include "io/scenario_reader.hpp"

void fuzz::begin() {
  put("road.yaml",
      "start_elevation_m: 10\nstretches: [{length_m: 600, grade_percent: 4, heading_deg: 10}, "
      "{length_m: 300, grade_percent: -2, name: Ramp}]\n");
  put("club.yaml", "riders: [{name: Ada, critical_power_W: 200}, {name: Ben, as_strong_as: Ada}]\n");
  put("archetypes.yaml", "archetypes: {climber: {body_mass_kg: 60}}\n");
  put("forecast.csv", "time_min,speed_kmh,from\n0,20,W\n60,30,NW\n");
}

bool fuzz::take(std::string_view bytes) {
  return accepts(
      [](const std::string& path) {
        const leewheel::Scenario scenario = leewheel::read_scenario(path);
        if (scenario.riders.empty() || scenario.plans.size() != scenario.riders.size())
          wrong("a scenario has riders, and a plan for each");
      },
      put("scenario.yaml", bytes));
}
