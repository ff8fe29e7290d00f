/// `leewheel new`: a commented scenario to start from, for a road of one's own.

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <filesystem>
#include <iostream>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/questions.hpp"
#include "app/track_arguments.hpp"
#include "io/atomic_file.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "io/road_file.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/compass.hpp"
#include "leewheel/kilometres.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

namespace fs = std::filesystem;

struct Options {
  std::string input, folder, title, from, kind, land;
  std::optional<int> riders;
  std::optional<double> wind_kmh;
  TrackArguments track;
  bool force = false, yes = false, json = false, quiet = false;
  ShownUnits units;
};

constexpr const char* examples = R"(Examples:
  leewheel new my-climb.gpx -o mine --riders 5 --wind-from WSW --wind-kmh 25
  leewheel ride mine/scenario.yaml

On a terminal it asks for what is not given; --yes takes the usual answers.
)";

std::string usual_title(const std::string& input) {
  std::string words = fs::path(input).stem().string();
  if (words == "road") words = fs::absolute(input).parent_path().filename().string();
  std::replace_if(
      words.begin(), words.end(), [](char c) { return c == '_' || c == '-'; }, ' ');
  if (!words.empty()) words[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(words[0])));
  return words.empty() ? "My climb" : words;
}

void fill_in(Options& options) {
  Questions ask(!options.yes && !options.json && !options.quiet && isatty(STDIN_FILENO) && isatty(STDOUT_FILENO));
  const ShownUnits& units = options.units;
  if (options.title.empty()) options.title = ask.text("Title", usual_title(options.input));
  if (!options.riders) options.riders = ask.whole("How many riders", 4, 1, 40);
  if (options.kind.empty())
    options.kind = ask.one_of("Kind of ride (together, steady, free, race or by_strength)",
                              std::string(ride_kind_names[static_cast<std::size_t>(RideKind::steady)]), ride_kind_names);
  if (options.from.empty()) options.from = ask.one_of("Wind from (N, NNE, NE, ...)", "W", compass_points);
  if (!options.wind_kmh) {
    const double shown = units.speed(mps_from_kmh(1.0));
    options.wind_kmh = std::round(ask.number(fmt::format("Wind speed, {} at {} over open land", units.speed_name(),
                                                         units.imperial ? "33 ft" : "10 m"),
                                             std::round(15.0 * shown), 0.0, 150.0 * shown) /
                                  shown * 10.0) /
                       10.0;
  }
  if (options.land.empty() && is_track_file(options.input))
    options.land = ask.one_of("Land along most of the road (open_ridge, open_slope, scattered_trees, houses, wood)",
                              std::string(exposure_names[static_cast<std::size_t>(Exposure::open_slope)]), exposure_names);
}

// ---- the road ----

/// A road, and how it is written down.
struct NewRoad {
  RoadProfile profile;
  std::string kept;                 ///< a described road as it stands, with its remarks; empty for a track
  std::vector<std::string> mended;  ///< of a track, a line each
};

NewRoad road_of(const Options& options) {
  TrackImport track = read_road_or_track(options.input, options.track);
  if (track.report.lines.empty()) return {std::move(track.profile), read_text(options.input), {}};
  return {with_kilometres(Road(track.profile)).profile(), "", track.report.lines};
}

std::string road_text(const Options& options, NewRoad road) {
  if (!road.kept.empty()) return road.kept;
  const auto land =
      static_cast<Exposure>(std::find(exposure_names.begin(), exposure_names.end(), options.land) - exposure_names.begin());
  for (auto* side : {&road.profile.exposure_left, &road.profile.exposure_right}) std::fill(side->begin(), side->end(), land);
  return road_yaml(
      road.profile,
      fmt::format("A road made from {}. Distances run along the road.\n"
                  "A track has no exposure, surface or width: mark them by ranges (without to_m: to the end),\n"
                  "for example: exposure: [{{from_m: 0, to_m: 900, is: houses}}, {{from_m: 900, to_m: 2500, is: wood}}]\n"
                  "Give the landmarks names that your riders know.",
                  fs::path(options.input).filename().string()));
}

// ---- the scenario ----

std::string limit(double value) { return std::abs(value) >= no_limit ? std::string("any") : fmt::format("{:g}", value); }

/// A table of settings as remarks: take the '#' away to set one.
template <class Settings>
std::string remarks(const char* indent, std::span<const NumberField<Settings>> fields) {
  const Settings usual{};
  std::string text;
  for (const auto& f : fields)
    text += fmt::format("{}# {}: {:g}  # {}{} to {}; {} ({})\n", indent, f.name, usual.*f.member,
                        f.lowest_excluded ? "above " : "", limit(f.lowest), limit(f.highest), f.meaning, f.source);
  return text;
}

/// Four invented riders, again and again.
std::string riders_text(int count) {
  struct Kind {
    double mass_kg, power_W, effort;
  };
  constexpr Kind kinds[] = {{72, 250, 0.88}, {84, 300, 0.88}, {60, 235, 0.88}, {76, 195, 0.85}};
  std::string text = "riders:                # required; power and mass are invented: put in your own\n";
  for (int k = 0; k < count; ++k) {
    const Kind& kind = kinds[static_cast<std::size_t>(k) % std::size(kinds)];
    text += fmt::format(
        "  - name: Rider {}\n    body_mass_kg: {:g}\n    critical_power_W: {:g}   # what can be held for about an hour\n    "
        "target_effort: {:g}      # share of it to ride at\n",
        k + 1, kind.mass_kg, kind.power_W, kind.effort);
    if (k == 0) {
      text +=
          "    # plan: [{from: start, effort: 0.85}]   # or power_W; from any place on the road\n"
          "    # Instead of critical_power_W: power_60min_W, power_20min_W, any of them ending in _W_per_kg, as_strong_as: "
          "Rider 2,\n"
          "    # climb: {distance: 8 km, grade_percent: 6, time: '35:00'}; or riders kept in a file, club: club.yaml. "
          "docs/club.md\n"
          "    # Every other number of a rider, as it is when left out:\n";
      text += remarks("    ", rider_fields());
    }
  }
  return text;
}

std::string quoted(const std::string& text) {
  std::string safe = "\"";
  for (const char c : text)
    safe += c == '"' || c == '\\'                  ? std::string("\\") + c
            : static_cast<unsigned char>(c) < 0x20 ? std::string(" ")
                                                   : std::string(1, c);
  return safe + '"';
}

std::string scenario_text(const Options& options, const std::vector<Landmark>& landmarks) {
  std::string text =
      "# A scenario to start from. Remarks (after #) tell what else can be set; docs/scenario.md tells the form.\n"
      "# leewheel check scenario.yaml tells what is odd; leewheel ride scenario.yaml rides it.\n";
  text += fmt::format(
      "title: {}\nquestion: Who should ride where, and where does drafting pay?\n"
      "# start: 2027-05-16 09:00   # local date and time: gives times of day beside ride times\n\nroad: {{file: "
      "road.yaml}}\n\n",
      quoted(options.title));
  text +=
      "# air: {temperature_C: 15, pressure_hPa: 1000, humidity_percent: 50, station_altitude_m: 100}   # as measured at "
      "that altitude\n\n";
  text += fmt::format(
      "wind:                  # at 10 m over open land; from is where it comes from\n  from: {}\n  speed_kmh: {:g}\n"
      "  # gusts_kmh: {:.0f}\n",
      quoted(options.from), *options.wind_kmh, std::max(10.0, 1.6 * *options.wind_kmh));
  text += remarks("  ", wind_fields());
  text += "\n# heat: yes             # counts what heat and sun take from critical power; docs/scenario.md\n";
  text += "\n" + riders_text(*options.riders) + "\n";
  text += fmt::format(
      "ride:\n  kind: {0}         # {1}\n  # formation: turns   # {2}\n  # order: [Rider 1]   # from the front\n  # "
      "regroup_at: [{3}]   # places, metres or '6.5 km'\n  # stops: [{{at: {3}, stop_min: 10, for: water}}]   # all stop "
      "there so "
      "long\n  # seed: 1\n",
      options.kind, fmt::join(ride_kind_names, ", "), fmt::join(formation_names, ", "),
      landmarks.empty() ? "1000" : quoted(landmarks.front().name));
  text += remarks("  ", ride_fields());
  text += "\n# behaviour:           # what riders decide; docs/groups.md\n" + remarks("  ", tactics_fields());
  text += "\n# uncertainty:         # one standard deviation of what nobody knows before a ride\n" +
          remarks("  ", uncertainty_fields());
  return text;
}

int run(Options options) {
  const std::string road_path = options.folder + "/road.yaml", scenario_path = options.folder + "/scenario.yaml";
  for (const std::string& path : {road_path, scenario_path})
    if (fs::exists(path) && !options.force) throw InputFault(Fault{path, 0, 0, "", "exists already; --force overwrites it"});
  const NewRoad new_road = road_of(options);  // before the questions: no answers for a road that cannot be read
  if (!options.quiet && !options.json)
    for (const std::string& line : new_road.mended) fmt::print("{}\n", line);
  fill_in(options);
  const std::string road = road_text(options, new_road), scenario = scenario_text(options, new_road.profile.landmarks);
  make_output_folder(options.folder);
  write_whole_files({{road_path, road}, {scenario_path, scenario}});
  read_scenario(scenario_path);  // what is handed out can be ridden
  if (options.json && !options.quiet)
    fmt::print("{}\n", json_text({{"layout_version", json_layout::new_scenario},
                                  {"road", road_path},
                                  {"scenario", scenario_path},
                                  {"mended", new_road.mended}}));
  if (!options.quiet && !options.json)
    fmt::print(
        "Written to {}: road.yaml, scenario.yaml\nNext: mark exposure and landmarks in road.yaml, put your riders into "
        "scenario.yaml, then\n"
        "  leewheel check {}\n  leewheel ride {}\n",
        options.folder, scenario_path, scenario_path);
  return exit_ok;
}

}  // namespace

Command add_new_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command = app.add_subcommand("new", "a commented scenario to start from, for a recorded track or a road");
  command->footer(examples);
  command->add_option("road", options->input, "a recorded track (.gpx) or a road (YAML)")->required();
  command->add_option("-o,--out", options->folder, "folder for road.yaml and scenario.yaml")->required();
  add_track_options(*command, options->track);
  command->add_option("--title", options->title, "title of the scenario [the track's name]");
  command->add_option("--riders", options->riders, "number of riders")->check(whole_within(1, 40));
  command->add_option("--wind-from", options->from, "where the wind comes from: N, NNE, NE, ...")
      ->transform(one_of_any_case(words_of(compass_points)));
  command->add_option("--wind-kmh", options->wind_kmh, "its speed at 10 m over open land")->check(number_within(0, 150));
  command->add_option("--kind", options->kind, "kind of ride [steady]")->check(one_of(words_of(ride_kind_names)));
  command->add_option("--land", options->land, "land along most of the track")->check(one_of(words_of(exposure_names)));
  command->add_flag("--imperial", options->units.imperial, "ask for the wind in mph; files stay in SI");
  command->add_flag("--yes", options->yes, "ask nothing; take the default answers");
  command->add_flag("--force", options->force, "overwrite existing files");
  command->add_flag("--json", options->json, "print what was written as JSON; ask nothing");
  command->add_flag("--quiet", options->quiet, "print nothing, ask nothing");
  return [options] { return run(*options); };
}

}  // namespace leewheel
