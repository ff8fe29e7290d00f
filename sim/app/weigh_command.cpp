/// `leewheel weigh`: what company is worth on one stretch, to all riders or choice by choice to one.

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <thread>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/progress.hpp"
#include "app/weigh_words.hpp"
#include "leewheel/ride_facts.hpp"
#include "leewheel/weigh.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string scenario_path, rider, from = "start", to = "finish";
  bool json = false, quiet = false;
  ShownUnits units;
  std::size_t runs = 16;
  std::optional<std::uint64_t> seed;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

constexpr const char* examples = R"(Examples:
  leewheel weigh scenarios/larkmoor/scenario.yaml --from 600 --to 4000
  leewheel weigh scenarios/larkmoor/scenario.yaml --rider Elin --from 600 --to 4000

Exit codes: 0 a choice pays, 1 no choice makes a difference, 2 bad input or arguments, 3 stopped before the end.
)";

WeighSettings asked(const Options& options, const Scenario& scenario) {
  WeighSettings settings;
  settings.from_m = place_named(options.scenario_path, scenario.road, "--from", options.from);
  settings.to_m = place_named(options.scenario_path, scenario.road, "--to", options.to);
  settings.runs = options.runs;
  settings.seed = options.seed.value_or(scenario.ride.seed);
  for (std::size_t k = 0; options.rider.empty() && k < scenario.riders.size(); ++k) settings.riders.push_back(k);
  settings.to_finish = !options.rider.empty();
  if (!options.rider.empty()) settings.riders = {rider_named(options.scenario_path, scenario, options.rider)};
  constexpr double shortest_m = 100.0;
  const TimedStretch timed = timed_stretch(scenario, settings.from_m, settings.to_m);
  if (timed.to_m - timed.from_m < shortest_m)
    throw InputFault(Fault{options.scenario_path, 0, 0, "--to",
                           fmt::format("found a stretch from {:.0f} to {:.0f} m, expected at least {:g} m clear of the "
                                       "start line and of regroup points",
                                       settings.from_m, settings.to_m, shortest_m)});
  return settings;
}

/// When the first and the last rider are at a place as planned, at a landmark as every output tells it; no_value where nobody
/// comes.
std::pair<double, double> there_as_planned(const Scenario& scenario, double at_m) {
  std::pair<double, double> there{no_value, no_value};
  if (at_m <= 0.0) return {0.0, 0.0};
  const RideResult ridden = ride_to_end(scenario, {.notes_debts = false, .notes_laws = false, .timing_points_m = {at_m}});
  for (const RiderResult& rider : ridden.riders) {
    const Passage* at = rider.timing.empty() ? nullptr : &rider.timing.front();
    for (const Passage& landmark : rider.landmarks)
      if (landmark.distance_m == at_m) at = &landmark;  // riders who wait there stop before it
    if (!at) continue;
    there.first = std::fmin(there.first, at->time_s);
    there.second = std::fmax(there.second, at->time_s);
  }
  return there;
}

bool says_yes(const Weighing& w) { return w.verdict == Verdict::pays || w.verdict == Verdict::uncertain; }

int run(const Options& options) {
  const Scenario scenario = asked_scenario(options.scenario_path);
  const WeighSettings settings = asked(options, scenario);
  const StopAsked stop;
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  std::vector<Weighing> answers;
  {
    Progress progress("weighing", !options.quiet);
    const auto all = static_cast<double>(steps_of_weighing(settings));
    answers = weigh(scenario, settings, [&](std::size_t done) {
      progress.at(static_cast<double>(done), all);
      return !StopAsked::yes();
    });
  }
  if (StopAsked::yes()) {
    fmt::print(stderr, "leewheel: stopped before the end; nothing was compared\n");
    return exit_stopped;
  }
  const auto [first_s, last_s] = there_as_planned(scenario, settings.from_m);
  const Weighed weighed{scenario, settings, answers, options.units, first_s, last_s};
  const bool one_rider = !options.rider.empty();
  if (!options.quiet)
    fmt::print("{}", options.json ? weighed_as_json(weighed, one_rider)
                     : one_rider  ? one_rider_in_words(weighed)
                                  : table_of_riders(weighed));
  return std::any_of(answers.begin(), answers.end(), says_yes) ? exit_ok : exit_answer_no;
}

}  // namespace

Command add_weigh_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command = app.add_subcommand(
      "weigh", "what company is worth on one stretch: a line for each rider, or one rider's choices side by side");
  command->footer(examples);
  add_scenario(*command, options->scenario_path)->required();
  command->add_option("--rider", options->rider, "one rider: all choices side by side, instead of a line for each rider");
  command->add_option("--from", options->from, "where the stretch begins: a landmark, metres, or 3.2 km")
      ->capture_default_str();
  command->add_option("--to", options->to, "where it ends")->capture_default_str();
  command
      ->add_option("--runs", options->runs, "days on which every choice is ridden; the first is the scenario as it stands")
      ->check(whole_within(1, 100000))
      ->capture_default_str();
  command->add_option("--seed", options->seed, "seed of the days, instead of the scenario's")->check(a_seed());
  command->add_option("--threads", options->threads, "threads; their number does not change the answer")
      ->check(whole_within(1, 1024));
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print the answer as JSON");
  command->add_flag("--quiet", options->quiet, "print nothing; the exit code gives the answer");
  return [options] { return run(*options); };
}

}  // namespace leewheel
