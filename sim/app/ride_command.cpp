#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>
#include <oneapi/tbb/parallel_for.h>
#include <oneapi/tbb/parallel_invoke.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <csignal>
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
#include "ride/watch.hpp"
#include "words/ride_words.hpp"

namespace leewheel {

namespace {

namespace fs = std::filesystem;

struct Options {
  std::string scenario_path, folder;
  bool json = false, quiet = false, one = false, more = false;
  std::optional<std::uint64_t> seed;
  std::optional<double> step_s;
  ShownUnits units;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

volatile std::sig_atomic_t stop_asked = 0;
void ask_to_stop(int) { stop_asked = 1; }

/// While it lives, Ctrl-C ends the ride between two steps instead of killing the program in the middle of a write.
class StopOnInterrupt {
 public:
  StopOnInterrupt() : before_(std::signal(SIGINT, ask_to_stop)) {}
  ~StopOnInterrupt() { std::signal(SIGINT, before_); }

 private:
  void (*before_)(int);
};

RideResult ride_recorded(const Scenario& scenario, TraceWriter& trace, Progress& progress) {
  Ride ride(scenario);
  return watch(
      ride, {scenario.ride.record_interval_s, [](const Ride&) { return !stop_asked; }},
      [&](const RideView& view) { trace.append(view.now); },
      [&](const RideView& view) { progress.at(view.ride.first_distance_m() / scenario.road.length_m()); });
}

/// Each rider's rerun alone. Every result has its own place, so the number of threads changes nothing but the time.
std::vector<RideResult> ride_alone(const Scenario& scenario) {
  std::vector<RideResult> solo(scenario.riders.size());
  tbb::parallel_for(std::size_t{0}, solo.size(), [&](std::size_t i) {
    if (!stop_asked) solo[i] = ride_to_end(alone(scenario, i));
  });
  return solo;
}

/// The ride as it stands, alone, and on further days.
struct Rides {
  RideResult company;
  std::vector<RideResult> solo;
  FinishRanges ranges;
};

void write_results(const std::string& folder, const Scenario& scenario, const Rides& rides) {
  const auto& [result, solo, ranges] = rides;
  write_whole_file(folder + "/summary.json", summary_json(scenario, result, solo, ranges));
  write_whole_file(folder + "/riders.csv", riders_csv(scenario, result, solo));
  write_whole_file(folder + "/stretches.csv", stretches_csv(scenario, result, solo));
  write_whole_file(folder + "/events.csv", events_csv(scenario, result));
  write_whole_file(folder + "/towing.graphml", towing_graphml(scenario, result));
}

void print_results(const Options& options, const std::string& folder, const Scenario& scenario, const Rides& rides) {
  const auto& [result, solo, ranges] = rides;
  if (options.quiet) return;
  if (options.json) {
    fmt::print("{}", summary_json(scenario, result, solo, ranges));
    return;
  }
  const bool colour = isatty(STDOUT_FILENO) && !std::getenv("NO_COLOR");
  fmt::print("{}\nWritten to {}: trace.h5, summary.json, riders.csv, stretches.csv, events.csv, towing.graphml\n",
             summary_text(scenario, result, solo, ranges, {colour, options.more, options.units}), folder);
}

int run(const Options& options) {
  Scenario scenario = asked_scenario(options.scenario_path);
  if (options.seed) scenario.ride.seed = *options.seed;
  if (options.step_s) scenario.ride.step_s = *options.step_s;
  const std::string folder = options.folder.empty() ? usual_folder(options.scenario_path) : options.folder;
  make_output_folder(folder);
  TraceWriter trace(folder + "/trace.h5", scenario, read_text(options.scenario_path));

  const StopOnInterrupt stop_on_interrupt;
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  Rides rides;
  {
    Progress progress("riding", !options.quiet);
    tbb::parallel_invoke([&] { rides.company = ride_recorded(scenario, trace, progress); },
                         [&] { rides.solo = ride_alone(scenario); });
  }
  if (!options.one && !stop_asked)
    rides.ranges = finish_ranges(scenario, days_at_hand(scenario, rides.company.time_s), [] { return stop_asked == 0; });
  if (stop_asked) {
    fmt::print(stderr, "leewheel: stopped; the ride so far is in {}/trace.h5.part\n", folder);
    return exit_stopped;
  }
  trace.finish(rides.company.events, rides.company.debts);
  write_results(folder, scenario, rides);
  print_results(options, folder, scenario, rides);
  return exit_ok;
}

/// Without it a minus sign would wrap around to a huge number.
CLI::Validator whole_number() {
  return {[](std::string& text) {
            if (!text.empty() && text.find_first_not_of("0123456789") == std::string::npos) return std::string();
            return fmt::format("found {}, expected a whole number, 0 or more", text);
          },
          "0.."};
}

}  // namespace

Command add_ride_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("ride", "ride a scenario and show who saved what, where, and why groups changed");
  command->footer(
      "Examples:\n  leewheel ride scenarios/larkmoor/scenario.yaml\n  leewheel ride my.yaml -o out/windy --seed 7 --json");
  command->add_option("scenario", options->scenario_path, "scenario file (YAML)")->required();
  command->add_option("-o,--out", options->folder, "folder for the results [out/<folder of the scenario>]");
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print summary.json instead of the summary in words");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  command->add_flag("--more", options->more, "also W', what each rider gave, the energy ledger and the laws of recovery");
  command->add_flag("--one", options->one, "one ride only: no further days for the range of the finish");
  command->add_option("--seed", options->seed, "seed of the random numbers, instead of the scenario's")
      ->check(whole_number());
  command->add_option("--step", options->step_s, "time step in seconds, instead of the scenario's")
      ->check(number_within(0.02, 1.0));
  command
      ->add_option("--threads", options->threads,
                   "threads for the rides alone and on further days; their number does not change the results")
      ->check(number_within(1, 1024));
  return [options] { return run(*options); };
}

}  // namespace leewheel
