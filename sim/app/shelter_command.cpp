/// `leewheel shelter`: what a wheel is worth to one rider, over grade, wind, speed, power and gap.

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "io/atomic_file.hpp"
#include "io/csv.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/units.hpp"
#include "leewheel/wheel_worth.hpp"
#include "pages/svg.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

struct Options {
  std::string scenario_path, archetypes_path = "scenarios/archetypes.yaml", rider = "steady", exposure = "open_slope",
                             folder;
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

constexpr std::array grades{0.0, 0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.10, 0.12};
constexpr std::array headwinds_mps{-3.0, 0.0, 2.0, 4.0, 6.0};
constexpr std::array gaps_m{0.2, 0.5, 1.0, 2.0, 3.0, 5.0, 10.0};
constexpr std::array power_shares{0.6, 0.8, 1.0, 1.2};
constexpr std::array speeds_kmh{10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0};

/// The rider asked about, and the road and air.
struct Case {
  RiderSettings rider;
  WakeLaw lee;
  double wake_spread = Uncertainty{}.wake_scale;
  double power_W = 0.0;
  WheelPlace place;
  std::string air;
  ShownUnits units;

  WheelWorth at(double grade, double headwind_mps) const {
    return wheel_worth_at_power(rider, placed(grade, headwind_mps), lee, power_W);
  }
  WheelPlace placed(double grade, double headwind_mps) const {
    WheelPlace p = place;
    p.grade = grade;
    p.headwind_mps = headwind_mps;
    return p;
  }
  WakeLaw deeper(double by) const {
    WakeLaw other = lee;
    double& scale = wake_base(other).wake_scale;
    scale = std::max(0.0, scale + by);
    return other;
  }
};

RiderSettings archetype(const Options& options) {
  Faults faults;
  YamlFile file(options.archetypes_path, faults);
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
      faults.add({options.archetypes_path, 0, 0, "--rider",
                  fmt::format("found {}, expected one of {}", options.rider, fmt::join(names, ", "))});
  }
  faults.throw_if_any();
  rider.name = options.rider;
  return rider;
}

Case case_of(const Options& options) {
  Case c;
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
    c.lee = scenario.wake;
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

// --- in words --------------------------------------------------------------------------------------------------

/// Rounded, and never "-0".
long whole(double value) { return std::lround(value); }

std::string cell(const WheelWorth& w, const ShownUnits& units) {
  const std::string text =
      fmt::format("{} W {} % {} s", whole(w.saved_W), whole(w.saved_percent), whole(units.per_way(w.saved_s_per_km)));
  return still_pays(w) ? text : "(" + text + ")";
}

std::string wind_name(double headwind_mps, const ShownUnits& units) {
  return headwind_mps == 0.0 ? std::string("calm")
                             : fmt::format("{} {:.2g} {}", headwind_mps < 0.0 ? "tail" : "head",
                                           units.wind(std::abs(headwind_mps)), units.wind_name());
}

std::string by_grade_and_wind(const Case& c) {
  std::string text = fmt::format(
      "At {:.0f} W, {:.1f} m behind: watts saved at the speed alone, percent of the power, seconds {} at the same "
      "power\n\n{:<8}{:>8}",
      c.power_W, c.place.gap_m, c.units.a_way(), "grade", "alone");
  for (const double wind : headwinds_mps) text += fmt::format("{:>19}", wind_name(wind, c.units));
  text += "\n";
  for (const double grade : grades) {
    text += fmt::format("{:<8}{:>8.1f}", fmt::format("{:.0f} %", 100.0 * grade), c.units.speed(c.at(grade, 0.0).speed_mps));
    for (const double wind : headwinds_mps) text += fmt::format("{:>19}", cell(c.at(grade, wind), c.units));
    text += "\n";
  }
  return text +
         fmt::format("(in brackets: no longer pays.) \"alone\": speed in calm air, {}; winds at the rider's height.\n",
                     c.units.speed_name());
}

std::string by_power_and_gap(const Case& c) {
  std::string text = fmt::format("{:<24}", "On the level, calm: power");
  for (const double gap : gaps_m) text += fmt::format("{:>15}", fmt::format("{:g} m behind", gap));
  text += "\n";
  for (const double share : power_shares) {
    text += fmt::format("{:<25}", fmt::format("{:.0f} W", share * c.power_W));
    for (const double gap : gaps_m) {
      WheelPlace place = c.placed(0.0, 0.0);
      place.gap_m = gap;
      const WheelWorth w = wheel_worth_at_power(c.rider, place, c.lee, share * c.power_W);
      text += fmt::format("{:>15}", fmt::format("{:.0f} W {:.0f} %", w.saved_W, w.saved_percent));
    }
    text += "\n";
  }
  return text;
}

std::string by_grade_and_speed(const Case& c) {
  std::string text = fmt::format("{:<24}", "Calm: grade, speed held");
  for (const double speed : speeds_kmh)
    text += fmt::format("{:>15}", fmt::format("{:.3g} {}", c.units.speed(mps_from_kmh(speed)), c.units.speed_name()));
  text += "\n";
  for (const double grade : grades) {
    text += fmt::format("{:<25}", fmt::format("{:.0f} %", 100.0 * grade));
    for (const double speed : speeds_kmh) {
      const WheelWorth w = wheel_worth_at_speed(c.rider, c.placed(grade, 0.0), c.lee, mps_from_kmh(speed));
      text += fmt::format(
          "{:>15}", w.power_W > c.rider.peak_power_W ? "-" : fmt::format("{:.0f} W {:.0f} %", w.saved_W, w.saved_percent));
    }
    text += "\n";
  }
  return text;
}

std::string crossing_words(const std::optional<double>& grade) {
  if (!grade) return "pays on any grade up to 25 %";
  if (*grade <= 0.0) return "does not pay even on the level";
  return fmt::format("stops paying at {:.1f} %", 100.0 * *grade);
}

std::optional<double> crossing(const Case& c, double headwind_mps, double lee_by = 0.0) {
  return grade_where_it_stops_paying(c.rider, c.placed(0.0, headwind_mps), c.deeper(lee_by), c.power_W);
}

std::string crossings(const Case& c) {
  std::string text =
      fmt::format("Where it stops paying, at {:.0f} W (below {:g} % of the power or below {:g} W; assumed):\n", c.power_W,
                  least_worth_percent, least_worth_W);
  for (const double wind : headwinds_mps) {
    const auto shallow = crossing(c, wind, -c.wake_spread), steep = crossing(c, wind, c.wake_spread);
    const auto percent = [](const std::optional<double>& g) {
      return g ? fmt::format("{:.1f}", 100.0 * *g) : std::string("over 25");
    };
    text += fmt::format("  {:<12} {} ({} to {} % over the spread of the wake model)\n", wind_name(wind, c.units),
                        crossing_words(crossing(c, wind)), percent(shallow), percent(steep));
  }
  return text;
}

std::string teaching(const Case& c) {
  constexpr double steep_grade = 0.08, wind_mps = 4.0;
  const WheelWorth flat = c.at(0.0, 0.0), steep = c.at(steep_grade, 0.0), windy = c.at(steep_grade, wind_mps);
  const WheelPlace level = c.placed(0.0, 0.0);
  const double less_W = wheel_worth_at_power(c.rider, level, c.deeper(-c.wake_spread), c.power_W).saved_W;
  const double more_W = wheel_worth_at_power(c.rider, level, c.deeper(c.wake_spread), c.power_W).saved_W;
  return fmt::format(
      "Why it matters less where it is steep and slow. A wheel takes away a share of the air's drag, {:.0f} % for {} at "
      "{:.1f} m, and\n"
      "never touches gravity. On the level {:.0f} W make {:.1f} {speed}, where the air takes {:.0f} % of the power: the "
      "wheel saves {:.0f} W\n"
      "({:.0f} to {:.0f} over the spread of the wake model) or {:.0f} s {a_way}. At {:.0f} % the same {:.0f} W make {:.1f} "
      "{speed}. Air power goes with the\n"
      "cube of speed, so it falls to {:.0f} % of the power, and the same wheel saves {:.0f} W or {:.0f} s {a_way}. What "
      "counts is the\n"
      "air met, not the grade: with {:.2g} {wind} in the face on that slope the wheel saves {:.0f} W again.\n",
      100.0 * (1.0 - flat.drag_factor), c.rider.name, c.place.gap_m, c.power_W, c.units.speed(flat.speed_mps),
      100.0 * flat.air_share, flat.saved_W, less_W, more_W, c.units.per_way(flat.saved_s_per_km), 100.0 * steep_grade,
      c.power_W, c.units.speed(steep.speed_mps), 100.0 * steep.air_share, steep.saved_W,
      c.units.per_way(steep.saved_s_per_km), c.units.wind(wind_mps), windy.saved_W, fmt::arg("speed", c.units.speed_name()),
      fmt::arg("a_way", c.units.a_way()), fmt::arg("wind", c.units.wind_name()));
}

std::string in_words(const Case& c) {
  return fmt::format(
             "What a wheel is worth to {}: {:.0f} {} in all, CdA {:.3f} m2 on the hoods, behind a rider of the same build; "
             "{}.\n\n",
             c.rider.name, c.units.mass(c.rider.total_mass_kg()), c.units.mass_name(), c.rider.drag_area_hoods_m2, c.air) +
         teaching(c) + "\n" + by_grade_and_wind(c) + "\n" + crossings(c) + "\n" + by_power_and_gap(c) + "\n" +
         by_grade_and_speed(c) + "\n" + planning_cautions;
}

// --- for machines ----------------------------------------------------------------------------------------------

Json json_of(const WheelWorth& w) {
  return {{"speed_mps", w.speed_mps},           {"power_W", w.power_W}, {"drag_factor", w.drag_factor},
          {"air_share", w.air_share},           {"saved_W", w.saved_W}, {"saved_percent", w.saved_percent},
          {"saved_s_per_km", w.saved_s_per_km}, {"pays", still_pays(w)}};
}

Json json_of(const Case& c) {
  Json out{{"rider", c.rider.name},
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
    const auto grade = crossing(c, wind), low = crossing(c, wind, -c.wake_spread), high = crossing(c, wind, c.wake_spread);
    const auto value = [](const std::optional<double>& g) { return g ? Json(*g) : Json(nullptr); };
    out["stops_paying"].push_back(
        {{"headwind_mps", wind}, {"grade", value(grade)}, {"low", value(low)}, {"high", value(high)}});
  }
  out["cautions"] = planning_cautions;
  return out;
}

std::string csv_of(const Case& c) {
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

// --- pictures --------------------------------------------------------------------------------------------------

struct Wind {
  double headwind_mps;
  const char* colour;
};
constexpr std::array drawn_winds{Wind{-3.0, ink::sand}, Wind{0.0, ink::night}, Wind{3.0, ink::sea}, Wind{6.0, ink::rust}};

std::string wind_words(double headwind_mps) {
  return headwind_mps == 0.0
             ? std::string("calm")
             : fmt::format("{} {:g} m/s", headwind_mps < 0.0 ? "tailwind" : "headwind", std::abs(headwind_mps));
}

void legend(Svg& svg, double x, double y) {
  svg.text(x, y, "wind at the rider", 13, ink::text, "start", true);
  for (const Wind& wind : drawn_winds) {
    y += 22;
    svg.line(x, y, x + 26, y, wind.colour, 3);
    svg.text(x + 34, y + 4, wind_words(wind.headwind_mps), 12.5, ink::text);
  }
}

/// A rounded upper end and its ticks for an axis that holds `most`.
std::vector<double> ticks_up_to(double most) {
  const double step = most > 150.0 ? 50.0 : most > 60.0 ? 20.0 : 10.0;
  std::vector<double> ticks;
  for (double tick = 0.0; tick < most + step; tick += step) ticks.push_back(tick);
  return ticks;
}

std::string grade_picture(const Case& c) {
  Svg svg = chart_paper(900, 520);
  double most_W = 0.0;
  for (const Wind& wind : drawn_winds)
    most_W = std::max(
        most_W, wheel_worth_at_power(c.rider, c.placed(0.0, wind.headwind_mps), c.deeper(c.wake_spread), c.power_W).saved_W);
  const std::vector<double> ticks = ticks_up_to(most_W);
  svg.text(70, 34, fmt::format("A wheel's worth to {}, by the grade", c.rider.name), 20, ink::text, "start", true);
  svg.text(70, 56,
           fmt::format("Watts saved {:.1f} m behind another rider, at the speed that {:.0f} W hold alone. Band: spread of "
                       "the wake model (one wake_scale).",
                       c.place.gap_m, c.power_W),
           12.5, ink::quiet);
  Chart chart(svg, 70, 80, 600, 380, 0, 12, 0, ticks.back());
  chart.axes({0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, "grade (%)", ticks, "saved (W)");
  for (const Wind& wind : drawn_winds) {
    Points curve, band;
    Points lower;
    for (int k = 0; k <= 120; ++k) {
      const WheelPlace place = c.placed(0.001 * k, wind.headwind_mps);
      curve.emplace_back(0.1 * k, wheel_worth_at_power(c.rider, place, c.lee, c.power_W).saved_W);
      if (wind.headwind_mps != 0.0) continue;
      band.emplace_back(0.1 * k, wheel_worth_at_power(c.rider, place, c.deeper(c.wake_spread), c.power_W).saved_W);
      lower.emplace_back(0.1 * k, wheel_worth_at_power(c.rider, place, c.deeper(-c.wake_spread), c.power_W).saved_W);
    }
    band.insert(band.end(), lower.rbegin(), lower.rend());
    if (!lower.empty()) chart.area(band, "#14365c22");
    chart.curve(curve, wind.colour, 2.5);
  }
  const double least_W = std::max(least_worth_W, 0.01 * least_worth_percent * c.power_W);
  chart.curve({{0, least_W}, {12, least_W}}, ink::quiet, 1.5, "6 4");
  svg.text(chart.left() + 8, chart.y(least_W) + 15, fmt::format("below {:.0f} W it no longer pays", least_W), 12,
           ink::quiet);
  legend(svg, 700, 110);
  return svg.finished();
}

std::string gap_picture(const Case& c) {
  Svg svg = chart_paper(900, 520);
  double most_s = 0.0;
  for (const Wind& wind : drawn_winds) {
    WheelPlace place = c.placed(0.02, wind.headwind_mps);
    place.gap_m = 0.1;
    most_s = std::max(most_s, wheel_worth_at_power(c.rider, place, c.lee, c.power_W).saved_s_per_km);
  }
  const std::vector<double> ticks = ticks_up_to(most_s);
  svg.text(70, 34, fmt::format("Seconds a kilometre behind a wheel, {}, by the gap", c.rider.name), 20, ink::text, "start",
           true);
  svg.text(70, 56, fmt::format("At {:.0f} W. Full lines: 2 % up; broken lines: 8 % up.", c.power_W), 12.5, ink::quiet);
  Chart chart(svg, 70, 80, 600, 380, 0.1, 10, 0, ticks.back(), true);
  chart.axes({0.2, 0.5, 1, 2, 3, 4, 5, 6, 8, 10}, "wheel gap (m), spread out at its beginning", ticks, "gained (s/km)");
  for (const double grade : {0.02, 0.08})
    for (const Wind& wind : drawn_winds) {
      Points curve;
      for (int k = 0; k <= 100; ++k) {
        WheelPlace place = c.placed(grade, wind.headwind_mps);
        place.gap_m = 0.1 + 9.9 * (0.01 * k) * (0.01 * k);
        curve.emplace_back(place.gap_m, wheel_worth_at_power(c.rider, place, c.lee, c.power_W).saved_s_per_km);
      }
      chart.curve(curve, wind.colour, 2.5, grade > 0.05 ? "7 5" : "");
    }
  legend(svg, 700, 110);
  return svg.finished();
}

int run(const Options& options) {
  const Case c = case_of(options);
  if (!options.folder.empty()) {
    make_output_folder(options.folder);
    write_whole_file(options.folder + "/shelter.json", json_of(c).dump(2) + "\n");
    write_whole_file(options.folder + "/shelter.csv", csv_of(c));
    write_whole_file(options.folder + "/shelter_grade.svg", grade_picture(c));
    write_whole_file(options.folder + "/shelter_gap.svg", gap_picture(c));
  }
  if (options.quiet) return exit_ok;
  fmt::print("{}", options.json ? json_of(c).dump(2) + "\n" : in_words(c));
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
  command->add_option("scenario", options->scenario_path, "scenario file (YAML) that gives rider, air and surface");
  command->add_option("--rider", options->rider, "a rider of the scenario; without a scenario an archetype")
      ->capture_default_str();
  command->add_option("--archetypes", options->archetypes_path, "file of archetypes")->capture_default_str();
  command->add_option("--gap", options->gap_m, "wheel gap (m) [by the rider's skill]")->check(number_within(0.05, 50.0));
  command->add_option("--power", options->power_W, "power (W) [the rider's own target]")->check(number_within(20.0, 1500.0));
  command->add_option("--exposure", options->exposure, "land beside the road, which sets the turbulence in the wake")
      ->check(CLI::IsMember(std::vector<std::string>(exposure_names.begin(), exposure_names.end())))
      ->capture_default_str();
  command->add_option("-o,--out", options->folder, "folder for tables and pictures; by default nothing is written");
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print shelter.json instead of words");
  command->add_flag("--quiet", options->quiet, "print nothing; files of -o are still written");
  return [options] { return run(*options); };
}

}  // namespace leewheel
