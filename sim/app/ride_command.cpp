#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>
#include <oneapi/tbb/parallel_for.h>
#include <oneapi/tbb/parallel_invoke.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <optional>
#include <thread>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/progress.hpp"
#include "io/atomic_file.hpp"
#include "io/results.hpp"
#include "io/scenario_reader.hpp"
#include "io/trace_file.hpp"
#include "ride/each_alone.hpp"
#include "ride/watch.hpp"
#include "words/ride_words.hpp"

namespace leewheel {

namespace {

namespace fs = std::filesystem;

struct Options {
  std::string scenario_path, folder;
  bool json = false, quiet = false, one = false, more = false, alone = false;
  std::optional<std::uint64_t> seed;
  std::optional<double> step_s;
  ShownUnits units;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

RideResult ride_recorded(const Scenario& scenario, TraceWriter& trace, Progress& progress) {
  Ride ride(scenario);
  return watch(
      ride, {scenario.ride.record_interval_s, [](const Ride&) { return !StopAsked::yes(); }},
      [&](const RideView& view) { trace.append(view.now); },
      [&](const RideView& view) { progress.at(view.ride.first_distance_m() / scenario.road.length_m()); });
}

/// Each rider's rerun alone. Every result has its own place, so the number of threads changes nothing but the time.
std::vector<RideAlone> ride_alone(const Scenario& scenario, bool recorded) {
  std::vector<RideAlone> solo(scenario.riders.size());
  tbb::parallel_for(std::size_t{0}, solo.size(), [&](std::size_t i) {
    if (StopAsked::yes()) return;
    if (!recorded) {
      solo[i].result = ride_to_end(alone(scenario, i));
      return;
    }
    Ride ride(alone(scenario, i));
    solo[i].result = watch(ride, {scenario.ride.record_interval_s, [](const Ride&) { return !StopAsked::yes(); }},
                           [&](const RideView& view) { solo[i].samples.push_back(view.now); });
  });
  return solo;
}

/// The riders each alone as a second trace on the same road. Nobody waits in it.
std::unique_ptr<TraceWriter> alone_trace(const std::string& path, Scenario scenario, const std::vector<RideAlone>& solo,
                                         const std::string& text) {
  scenario.title += each_alone_title;
  scenario.ride.regroup_at_m.clear();
  scenario.ride.stops.clear();
  const EachAlone all = each_alone(solo);
  auto trace = std::make_unique<TraceWriter>(path, scenario, text);
  for (const RideSample& sample : all.samples) trace->append(sample);
  trace->complete(all.events);
  return trace;
}

/// The ride as it stands, alone, and on further days.
struct Rides {
  RideResult company;
  std::vector<RideResult> solo;
  FinishRanges ranges;
};

/// All files appear together, once everything is written. An `alone.h5` of an earlier ride would tell of another day: it goes.
void write_results(const Options& options, const std::string& folder, const Scenario& scenario, const Rides& rides,
                   const std::vector<RideAlone>& alone, TraceWriter& trace) {
  const auto& [result, solo, ranges] = rides;
  trace.complete(result.events, result.debts);
  std::unique_ptr<TraceWriter> second;
  if (options.alone) second = alone_trace(folder + "/alone.h5", scenario, alone, read_text(options.scenario_path));
  WholeFiles files;
  files.add(folder + "/summary.json", summary_json(scenario, result, solo, ranges));
  files.add(folder + "/riders.csv", riders_csv(scenario, result, solo));
  files.add(folder + "/stretches.csv", stretches_csv(scenario, result, solo));
  files.add(folder + "/events.csv", events_csv(scenario, result));
  files.add(folder + "/towing.graphml", towing_graphml(scenario, result));
  files.appear();
  trace.appear();
  std::error_code ignored;
  if (second)
    second->appear();
  else
    fs::remove(folder + "/alone.h5", ignored);
}

void print_results(const Options& options, const std::string& folder, const Scenario& scenario, const Rides& rides) {
  const auto& [result, solo, ranges] = rides;
  if (options.quiet) return;
  if (options.json) {
    fmt::print("{}", summary_json(scenario, result, solo, ranges));
    return;
  }
  const bool colour = isatty(STDOUT_FILENO) && !std::getenv("NO_COLOR");
  fmt::print("{}\nWritten to {}: trace.h5, summary.json, riders.csv, stretches.csv, events.csv, towing.graphml{}\n",
             summary_text(scenario, result, solo, ranges, {colour, options.more, options.units}), folder,
             options.alone ? ", alone.h5" : "");
}

int run(const Options& options) {
  Scenario scenario = asked_scenario(options.scenario_path);
  if (options.seed) scenario.ride.seed = *options.seed;
  if (options.step_s) scenario.ride.step_s = *options.step_s;
  scenario = surveyed(std::move(scenario));
  const std::string folder = options.folder.empty() ? usual_folder(options.scenario_path) : options.folder;
  make_output_folder(folder);
  const FolderHeld held(folder);
  TraceWriter trace(folder + "/trace.h5", scenario, read_text(options.scenario_path));

  const StopAsked stop;
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  Rides rides;
  std::vector<RideAlone> solo;
  {
    Progress progress("riding", !options.quiet);
    tbb::parallel_invoke([&] { rides.company = ride_recorded(scenario, trace, progress); },
                         [&] { solo = ride_alone(scenario, options.alone); });
  }
  for (const RideAlone& one : solo) rides.solo.push_back(one.result);
  if (!options.one && !StopAsked::yes())
    rides.ranges = finish_ranges(scenario, days_at_hand(scenario, rides.company.time_s), [] { return !StopAsked::yes(); });
  if (StopAsked::yes()) {
    fmt::print(stderr, "leewheel: stopped; the ride so far is in {}/trace.h5.part\n", folder);
    return exit_stopped;
  }
  write_results(options, folder, scenario, rides, solo, trace);
  print_results(options, folder, scenario, rides);
  return exit_ok;
}

}  // namespace

Command add_ride_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("ride", "ride a scenario and show who saved what, where, and why groups changed");
  command->footer(
      "Examples:\n  leewheel ride scenarios/larkmoor/scenario.yaml\n  leewheel ride my.yaml -o out/windy --seed 7 --json");
  add_scenario(*command, options->scenario_path)->required();
  command->add_option("-o,--out", options->folder, "folder for the results [out/<folder of the scenario>]");
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print summary.json instead of the summary in words");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  command->add_flag("--more", options->more, "also W', what each rider gave, the energy ledger and the laws of recovery");
  command->add_flag("--alone", options->alone,
                    "also write alone.h5, each rider alone, for `leewheel-view trace.h5 --ghost alone.h5`");
  command->add_flag("--one", options->one, "one ride only: no further days for the range of the finish");
  command->add_option("--seed", options->seed, "seed of the random numbers, instead of the scenario's")->check(a_seed());
  command->add_option("--step", options->step_s, "time step in seconds, instead of the scenario's")
      ->check(number_within(0.02, 1.0));
  command
      ->add_option("--threads", options->threads,
                   "threads for the rides alone and on further days; their number does not change the results")
      ->check(whole_within(1, 1024));
  return [options] { return run(*options); };
}

}  // namespace leewheel
