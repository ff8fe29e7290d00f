/// `leewheel road`: what a road is like, and a recorded track made into an editable road.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/track_arguments.hpp"
#include "io/atomic_file.hpp"
#include "io/fault.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "io/road_file.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string input, output;
  TrackArguments track;
  bool json = false, quiet = false;
  ShownUnits units;
};

void print_facts(const Road& road, const ShownUnits& units) {
  const RoadFacts facts = road.facts();
  fmt::print("length             {:>8.2f} {}\n", units.way(facts.length_m), units.way_name());
  fmt::print("ascent / descent   {:>8.0f} {m} / {:.0f} {m}\n", units.height(facts.ascent_m), units.height(facts.descent_m),
             fmt::arg("m", units.height_name()));
  fmt::print("mean grade         {:>8.1f} %\n", std::round(1000.0 * facts.mean_grade) / 10.0 + 0.0);  // never "-0.0"
  fmt::print("steepest 100 m     {:>8.1f} % from {:.2f} {}\n", 100.0 * facts.steepest_100m_grade,
             units.way(facts.steepest_at_m), units.way_name());
  for (const Landmark& mark : road.landmarks())
    fmt::print("landmark           {:>8.2f} {}  {}\n", units.way(mark.distance_m), units.way_name(), mark.name);
}

void print_report(const ImportReport& report, const ShownUnits& units) {
  for (const std::string& line : report.lines) fmt::print("{}\n", line);
  fmt::print(
      "ascent             {:>8.0f} {m} between recorded points, {:.0f} {m} in climbs of {:.0f} {m} and more, {:.0f} {m} "
      "once smoothed over {:.0f} m\n",
      units.height(report.raw_ascent_m), units.height(report.counted_ascent_m), units.height(count_height_m),
      units.height(report.smoothed_ascent_m), report.smoothing_m, fmt::arg("m", units.height_name()));
  fmt::print("noise              {:>8.1f} {} of the elevations (one standard deviation)\n", units.height(report.noise_m),
             units.height_name());
}

std::string json_of(const Road& road, const ImportReport& report) {
  const RoadFacts facts = road.facts();
  nlohmann::ordered_json out{{"layout_version", json_layout::road},
                             {"length_m", facts.length_m},
                             {"ascent_m", facts.ascent_m},
                             {"descent_m", facts.descent_m},
                             {"mean_grade", facts.mean_grade},
                             {"steepest_100m_grade", facts.steepest_100m_grade},
                             {"steepest_at_m", facts.steepest_at_m},
                             {"landmarks", nlohmann::ordered_json::array()},
                             {"mended", report.lines}};
  for (const Landmark& mark : road.landmarks())
    out["landmarks"].push_back({{"name", mark.name}, {"distance_m", mark.distance_m}});
  return json_text(out);
}

int run(const Options& options) {
  const TrackImport read = read_road_or_track(options.input, options.track);
  const bool is_track = !read.report.lines.empty();
  const Road road(read.profile);
  if (options.json && !options.quiet) fmt::print("{}\n", json_of(road, read.report));
  if (!options.json && !options.quiet) {
    if (is_track) print_report(read.report, options.units);
    print_facts(road, options.units);
  }
  if (options.output.empty()) return exit_ok;
  std::string comment = fmt::format("A road made from {}. Distances run along the road.",
                                    std::filesystem::path(options.input).filename().string());
  if (is_track)
    comment = fmt::format(
        "A road made from {}, elevations smoothed over {:.0f} m. Distances run along the road.\n"
        "A track has no exposure, surface or width: mark them by ranges (without to_m: to the end of the road).",
        std::filesystem::path(options.input).filename().string(), read.report.smoothing_m);
  write_whole_file(options.output, road_yaml(road.profile(), comment));
  if (!options.json && !options.quiet) fmt::print("written            {}\n", options.output);
  return exit_ok;
}

}  // namespace

Command add_road_command(CLI::App& app) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("road", "facts of a road; turns a recorded track (GPX) into an editable road");
  command->add_option("input", options->input, "a road (YAML) or a recorded track (.gpx)")->required();
  command->add_option("-o,--out", options->output, "write the road here as YAML");
  add_former_name(*command, "--output", options->output);
  add_track_options(*command, options->track);
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print the facts as JSON");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  command->footer(
      "Examples:\n  leewheel road my-climb.gpx -o road.yaml\n  leewheel road long-ride.gpx --from-km 40 --to-km 52.5 "
      "--bridge-gaps -o road.yaml");
  return [options] { return run(*options); };
}

}  // namespace leewheel
