/// `leewheel wind`: the wind a rider will meet along the road, before any answer is trusted.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <memory>
#include <optional>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "io/atomic_file.hpp"
#include "io/fault.hpp"
#include "io/scenario_reader.hpp"
#include "io/wind_outlook_files.hpp"
#include "io/yaml_reader.hpp"
#include "leewheel/units.hpp"
#include "pages/wind_page.hpp"
#include "words/wind_words.hpp"

namespace leewheel {

namespace {

namespace fs = std::filesystem;

struct WindOptions {
  std::string scenario_path, folder, rider, at;
  std::optional<double> speed_kmh;
  bool json = false, quiet = false;
  ShownUnits units;
};

std::size_t rider_named(const Scenario& scenario, const std::string& name) {
  std::vector<std::string> names;
  for (const RiderSettings& rider : scenario.riders) names.push_back(rider.name);
  const auto found = std::find(names.begin(), names.end(), name);
  if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
  const std::string nearest = nearest_name(name, names);
  throw InputFault({"--rider", 0, 0, "",
                    fmt::format("found '{}', expected {}", name,
                                nearest.empty() ? fmt::format("one of {}", fmt::join(names, ", ")) : "'" + nearest + "'")});
}

/// Seconds after the start: of the clock where the scenario has a start, else of h:mm after it.
double seconds_of(const std::string& text, const decltype(Scenario::start)& start) {
  const std::size_t colon = text.find(':');
  const auto digits = [](const std::string& part) {
    return !part.empty() && part.size() <= 3 && part.find_first_not_of("0123456789") == std::string::npos;
  };
  const std::string hours = text.substr(0, colon), minutes = colon == std::string::npos ? "" : text.substr(colon + 1);
  if (!digits(hours) || !digits(minutes) || minutes.size() != 2 || std::stoi(minutes) > 59 ||
      (start && std::stoi(hours) > 23))
    throw InputFault(
        {"--at", 0, 0, "",
         fmt::format("found '{}', expected {}", text,
                     start ? "a time of day, such as 10:30" : "hours and minutes after the start, such as 1:30")});
  const double given_s = 3600.0 * std::stoi(hours) + 60.0 * std::stoi(minutes);
  if (!start) return given_s;
  constexpr double day_s = 86400.0;
  const auto since_midnight = *start - std::chrono::floor<std::chrono::days>(*start);
  const double after_s = given_s - static_cast<double>(std::chrono::seconds(since_midnight).count());
  return after_s < 0.0 ? after_s + day_s : after_s;  // the next time that the clock shows it
}

double nice_spacing_m(double length_m, double lines) {
  for (const double step_m : {10.0, 20.0, 50.0, 100.0, 200.0, 250.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0})
    if (length_m <= lines * step_m) return step_m;
  return 20000.0;
}

int run(const WindOptions& options) {
  const Scenario scenario = asked_scenario(options.scenario_path);
  const double frozen_s = options.at.empty() ? -1.0 : seconds_of(options.at, scenario.start);
  const std::size_t rider = options.rider.empty() ? 0 : rider_named(scenario, options.rider);
  const std::string folder = options.folder.empty() ? usual_folder(options.scenario_path) : options.folder;
  make_output_folder(folder);
  const Coming coming =
      options.speed_kmh ? coming_at_speed(scenario, mps_from_kmh(*options.speed_kmh)) : coming_alone(scenario, rider);
  Outlook outlook = wind_outlook(scenario, coming, nice_spacing_m(scenario.road.length_m(), 400.0), frozen_s);
  outlook.rider = options.speed_kmh
                      ? fmt::format("For a rider at {:.3g} {} all the way",
                                    options.units.speed(mps_from_kmh(*options.speed_kmh)), options.units.speed_name())
                      : fmt::format("For {}, riding alone by plan", scenario.riders[rider].name);
  outlook.rider += frozen_s >= 0.0
                       ? fmt::format("; the wind of {} everywhere", options.at + (scenario.start ? "" : " after the start"))
                       : ", by the time of arrival";
  write_whole_files(
      {{folder + "/wind.svg", outlook_svg(scenario, outlook, options.units)}, {folder + "/wind.csv", outlook_csv(outlook)}});
  if (options.quiet) return exit_ok;
  if (options.json)
    fmt::print("{}", outlook_json(scenario, outlook));
  else
    fmt::print("{}Written to {}: wind.svg, wind.csv\n",
               outlook_text(scenario, outlook, nice_spacing_m(scenario.road.length_m(), 30.0), options.units), folder);
  return exit_ok;
}

}  // namespace

Command add_wind_command(CLI::App& app) {
  const auto options = std::make_shared<WindOptions>();
  CLI::App* const command =
      app.add_subcommand("wind", "the wind a rider will meet along the road, as a table and a picture");
  add_scenario(*command, options->scenario_path)->required();
  command->add_option("--speed", options->speed_kmh, "constant speed in km/h instead of a rider's own")
      ->check(number_within(3.0, 80.0));
  command->add_option("--rider", options->rider, "rider who rides alone and sets the times of arrival [the first]");
  command->add_option("--at", options->at,
                      "use the wind at this time everywhere, instead of at arrival: of the clock where the scenario has a "
                      "start, else after it (h:mm)");
  command->add_option("-o,--out", options->folder, "folder for wind.svg and wind.csv [out/<folder of the scenario>]");
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print the rows as JSON instead of the table");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  command->footer("Example:\n  leewheel wind scenarios/galecombe/scenario.yaml --rider Aike -o out/wind");
  return [options] { return run(*options); };
}

}  // namespace leewheel
