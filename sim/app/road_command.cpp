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
#include "io/atomic_file.hpp"
#include "io/fault.hpp"
#include "io/road_file.hpp"
#include "io/track_import.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string input, output;
  double smoothing_m = SmoothingSettings{}.length_m;
  bool json = false, quiet = false;
  ShownUnits units;
};

bool is_track(const std::string& path) {
  std::string extension = std::filesystem::path(path).extension().string();
  std::transform(extension.begin(), extension.end(), extension.begin(), [](unsigned char c) { return std::tolower(c); });
  return extension == ".gpx";
}

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

void print_report(const ImportReport& report, double smoothing_m, const ShownUnits& units) {
  for (const std::string& line : report.lines) fmt::print("{}\n", line);
  fmt::print("ascent             {:>8.0f} {m} between recorded points, {:.0f} {m} once smoothed over {:g} m\n",
             units.height(report.raw_ascent_m), units.height(report.smoothed_ascent_m), smoothing_m,
             fmt::arg("m", units.height_name()));
}

std::string json_of(const Road& road, const ImportReport& report) {
  const RoadFacts facts = road.facts();
  nlohmann::ordered_json out{{"length_m", facts.length_m},
                             {"ascent_m", facts.ascent_m},
                             {"descent_m", facts.descent_m},
                             {"mean_grade", facts.mean_grade},
                             {"steepest_100m_grade", facts.steepest_100m_grade},
                             {"steepest_at_m", facts.steepest_at_m},
                             {"landmarks", nlohmann::ordered_json::array()},
                             {"mended", report.lines}};
  for (const Landmark& mark : road.landmarks())
    out["landmarks"].push_back({{"name", mark.name}, {"distance_m", mark.distance_m}});
  return out.dump(2, ' ', false, nlohmann::json::error_handler_t::replace);
}

RoadProfile read(const Options& options, ImportReport& report) {
  if (!is_track(options.input)) return read_road(options.input);
  SmoothingSettings smoothing;
  smoothing.length_m = options.smoothing_m;
  TrackImport track = import_track(options.input, smoothing);
  report = track.report;
  if (!options.quiet && !options.json) print_report(report, options.smoothing_m, options.units);
  return std::move(track.profile);
}

int run(const Options& options) {
  ImportReport report;
  const Road road(read(options, report));
  if (options.json && !options.quiet) fmt::print("{}\n", json_of(road, report));
  if (!options.json && !options.quiet) print_facts(road, options.units);
  if (options.output.empty()) return exit_ok;
  const std::string comment = fmt::format(
      "A road made from {}, elevations smoothed over {:g} m. Distances run along the road.\n"
      "A track has no exposure, surface or width: mark them by ranges (without to_m: to the end of the road).",
      std::filesystem::path(options.input).filename().string(), options.smoothing_m);
  write_whole_file(options.output, road_yaml(road.profile(), comment));
  if (!options.json && !options.quiet) fmt::print("written            {}\n", options.output);
  return exit_ok;
}

}  // namespace

Command add_road_command(CLI::App& app) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("road", "facts of a road; turns a recorded track (GPX) into an editable road");
  command->add_option("input", options->input, "a road (YAML) or a recorded track (.gpx)")->required();
  command->add_option("-o,--output", options->output, "write the road here as YAML");
  command->add_option("--smoothing-m", options->smoothing_m, "length over which a track's elevations are smoothed")
      ->check(CLI::Range(5.0, 1000.0))
      ->capture_default_str();
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print the facts as JSON");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  command->footer("Example:\n  leewheel road my-climb.gpx -o road.yaml --smoothing-m 40");
  return [options] { return run(*options); };
}

}  // namespace leewheel
