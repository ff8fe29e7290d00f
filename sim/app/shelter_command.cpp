/// `leewheel shelter`: what a wheel is worth to one rider, over grade, wind, speed, power and gap.

#include <fmt/format.h>

#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/wheel_case.hpp"
#include "archetypes_built_in.hpp"
#include "io/atomic_file.hpp"
#include "io/csv.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/units.hpp"
#include "leewheel/wheel_worth.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

struct Options {
  std::string scenario_path, archetypes_path, rider = "steady", exposure = "open_slope", folder;
  std::optional<double> gap_m, power_W;
  bool json = false, quiet = false;
  ShownUnits units;
};

constexpr const char* examples = R"(Examples:
  leewheel shelter                                                       the archetype `steady` on an open road
  leewheel shelter scenarios/larkmoor/scenario.yaml --rider Fenn -o out/fenn
  leewheel shelter --rider light_climber --gap 0.4 --power 240

Exit codes: 0 done, 2 bad input or arguments.
)";

RiderSettings archetype(const Options& options) {
  Faults faults;
  const bool built_in = options.archetypes_path.empty();
  const std::string name = built_in ? "archetypes.yaml (built in)" : options.archetypes_path;
  YamlFile file(name, built_in ? archetypes_built_in : read_text(name), faults);
  faults.throw_if_any();
  RiderSettings rider;
  {
    YamlMap root(file.root());
    YamlMap by_name(root.require("archetypes", "riders by name"));
    std::vector<std::string> names;
    bool found = false;
    for (const YamlValue& one : by_name.all()) {
      names.push_back(one.field().substr(one.field().rfind('.') + 1));
      RiderSettings read;
      YamlMap fields(one);
      fields.numbers(rider_fields(), read);
      if (names.back() != options.rider) continue;
      rider = read;
      found = true;
    }
    if (!found && faults.count() == 0)
      faults.add(
          {name, 0, 0, "--rider", fmt::format("found {}, expected one of {}", options.rider, fmt::join(names, ", "))});
  }
  faults.throw_if_any();
  rider.name = options.rider;
  return rider;
}

WheelCase case_of(const Options& options) {
  WheelCase c;
  c.units = options.units;
  TacticsSettings tactics;
  if (options.scenario_path.empty()) {
    c.rider = archetype(options);
    c.place.rolling = rolling_coefficient(Surface::worn_asphalt);
    c.place.density_kgpm3 = standard_density_kgpm3(0.0);
    c.air = "standard air at sea level, worn asphalt";
  } else {
    const Scenario scenario = asked_scenario(options.scenario_path);
    c.rider = scenario.riders[rider_named(options.scenario_path, scenario, options.rider)];
    c.wake_law = scenario.wake;
    c.wake_spread = scenario.uncertainty.wake_scale;
    tactics = scenario.tactics;
    c.place.rolling = scenario.road.rolling(0.0);
    c.place.density_kgpm3 =
        air_density_kgpm3(air_at_altitude(scenario.air, scenario.air_station_altitude_m, scenario.road.elevation_m(0.0)));
    c.place.gravity_mps2 = scenario.gravity_mps2;
    c.air = "air and surface of the scenario's start";
  }
  c.power_W = options.power_W.value_or(c.rider.target_effort * c.rider.critical_power_W);
  c.place.gap_m =
      options.gap_m.value_or(tactics.gap_wary_m + c.rider.wheel_skill * (tactics.gap_skilled_m - tactics.gap_wary_m));
  const auto exposure = std::find(exposure_names.begin(), exposure_names.end(), options.exposure) - exposure_names.begin();
  c.place.turbulence_intensity = exposure_air(static_cast<Exposure>(exposure)).turbulence_intensity;
  return c;
}

// --- for machines ----------------------------------------------------------------------------------------------

Json json_of(const WheelWorth& w) {
  return {{"speed_mps", w.speed_mps},           {"power_W", w.power_W}, {"drag_factor", w.drag_factor},
          {"air_share", w.air_share},           {"saved_W", w.saved_W}, {"saved_percent", w.saved_percent},
          {"saved_s_per_km", w.saved_s_per_km}, {"pays", still_pays(w)}};
}

Json json_of(const WheelCase& c) {
  Json out{{"layout_version", json_layout::shelter},
           {"rider", c.rider.name},
           {"mass_kg", c.rider.total_mass_kg()},
           {"drag_area_m2", c.rider.drag_area_hoods_m2},
           {"power_W", c.power_W},
           {"gap_m", c.place.gap_m},
           {"rolling", c.place.rolling},
           {"density_kgpm3", c.place.density_kgpm3},
           {"turbulence_intensity", c.place.turbulence_intensity},
           {"least_worth_percent", least_worth_percent},
           {"least_worth_W", least_worth_W}};
  for (const double grade : grades)
    for (const double wind : headwinds_mps) {
      Json one{{"grade", grade}, {"headwind_mps", wind}};
      one.update(json_of(c.at(grade, wind)));
      out["by_grade_and_wind"].push_back(std::move(one));
    }
  for (const double wind : headwinds_mps) {
    const auto grade = stops_paying_at(c, wind), low = stops_paying_at(c, wind, -c.wake_spread),
               high = stops_paying_at(c, wind, c.wake_spread);
    const auto value = [](const std::optional<double>& g) { return g ? Json(*g) : Json(nullptr); };
    out["stops_paying"].push_back(
        {{"headwind_mps", wind}, {"grade", value(grade)}, {"low", value(low)}, {"high", value(high)}});
  }
  out["cautions"] = planning_cautions;
  return out;
}

std::string csv_of(const WheelCase& c) {
  std::string text =
      csv_row({"grade", "headwind_mps", "speed_mps", "drag_factor", "saved_W", "saved_percent", "saved_s_per_km", "pays"});
  for (const double grade : grades)
    for (const double wind : headwinds_mps) {
      const WheelWorth w = c.at(grade, wind);
      text += csv_row({fmt::format("{:g}", grade), fmt::format("{:g}", wind), csv_cell(w.speed_mps, 3),
                       csv_cell(w.drag_factor, 4), csv_cell(w.saved_W, 2), csv_cell(w.saved_percent, 2),
                       csv_cell(w.saved_s_per_km, 2), still_pays(w) ? "1" : "0"});
    }
  return text;
}

int run(const Options& options) {
  const WheelCase c = case_of(options);
  if (!options.folder.empty()) {
    make_output_folder(options.folder);
    write_whole_files({{options.folder + "/shelter.json", json_text(json_of(c)) + "\n"},
                       {options.folder + "/shelter.csv", csv_of(c)},
                       {options.folder + "/shelter_grade.svg", wheel_grade_picture(c)},
                       {options.folder + "/shelter_gap.svg", wheel_gap_picture(c)}});
  }
  if (options.quiet) return exit_ok;
  fmt::print("{}", options.json ? json_text(json_of(c)) + "\n" : wheel_words(c));
  if (!options.json && !options.folder.empty())
    fmt::print("\nWritten to {}: shelter.json, shelter.csv, shelter_grade.svg, shelter_gap.svg\n", options.folder);
  return exit_ok;
}

}  // namespace

Command add_shelter_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("shelter", "what drafting behind one wheel saves: watts, percent and seconds per kilometre");
  command->footer(examples);
  add_scenario(*command, options->scenario_path, "; it gives rider, air and surface");
  command->add_option("--rider", options->rider, "a rider of the scenario; without a scenario an archetype")
      ->capture_default_str();
  command->add_option("--archetypes", options->archetypes_path, "file of archetypes [those shipped]");
  command->add_option("--gap", options->gap_m, "wheel gap (m) [by the rider's skill]")->check(number_within(0.05, 50.0));
  command->add_option("--power", options->power_W, "power (W) [the rider's own target]")->check(number_within(20.0, 1500.0));
  command->add_option("--exposure", options->exposure, "land beside the road, which sets the turbulence in the wake")
      ->check(one_of(words_of(exposure_names)))
      ->capture_default_str();
  command->add_option("-o,--out", options->folder, "folder for tables and pictures; by default nothing is written");
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print shelter.json instead of words");
  command->add_flag("--quiet", options->quiet, "print nothing; files of -o are still written");
  return [options] { return run(*options); };
}

}  // namespace leewheel
