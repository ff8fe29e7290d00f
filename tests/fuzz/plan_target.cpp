/// A rider's plan, and the ride section beside it, laid into a scenario and read back.

#include "fuzz/fuzz.hpp"
#include "io/plan_file.hpp"
#include "io/scenario_reader.hpp"

namespace {

constexpr const char* head = R"(title: A plan
road:
  start_elevation_m: 100
  stretches:
    - {length_m: 700, grade_percent: 3, heading_deg: 20}
    - {length_m: 900, grade_percent: -1, name: Ramp}
  landmarks: [{name: Gate, at_m: 500}]
riders:
  - {name: Ben, critical_power_W: 260}
  - name: Ada
    critical_power_W: 220
    plan: )";

void lay(const std::string& path) {
  using namespace leewheel;
  const Scenario read = read_scenario(path);
  const std::string text = scenario_with_plan_yaml(path, read, fuzz::folder() + "/laid.yaml", "laid in");
  const Scenario again = read_scenario(fuzz::put("laid.yaml", text));
  if (again.ride.kind != read.ride.kind || again.ride.formation != read.ride.formation ||
      again.plans.size() != read.plans.size() || again.ride.regroup_at_m.size() != read.ride.regroup_at_m.size())
    fuzz::wrong("a scenario with its own plan laid in reads back as it was");
  for (std::size_t k = 0; k < read.plans.size(); ++k)
    if (again.plans[k].size() != read.plans[k].size()) fuzz::wrong("every step of a plan is laid in");
}

}  // namespace

void fuzz::begin() {}

bool fuzz::take(std::string_view bytes) { return accepts(lay, put("plan.yaml", head + std::string(bytes) + "\n")); }
