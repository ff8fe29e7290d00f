/// `leewheel lineup`: the group's plan.

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/lineup_into.hpp"
#include "app/lineup_now.hpp"
#include "app/lineup_tables.hpp"
#include "app/lineup_words.hpp"
#include "app/progress.hpp"
#include "io/atomic_file.hpp"
#include "io/json_number.hpp"
#include "io/now_file.hpp"
#include "io/plan_file.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/lineup.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string scenario_path, output, aim{lineup_aim_names[0]}, now, meet_at;
  int into = -1;  // < 0: not asked; 0: as many as it takes
  LineupSettings settings;
  bool json = false, quiet = false;
  double held_back_min = usual_held_back_s / 60.0;
  ShownUnits units;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

constexpr const char* examples = R"(Examples:
  leewheel lineup scenarios/larkmoor/scenario.yaml
  leewheel lineup scenarios/larkmoor/scenario.yaml --for weakest -o planned.yaml
  leewheel lineup scenarios/larkmoor/scenario.yaml --held-back 40 --harder 0.1

From the middle of a ride: leewheel lineup my.yaml --now now.yaml writes now.yaml to fill in, and with it plans the rest.
A big club: leewheel lineup club.yaml --into 0 splits it into groups by strength that start one after the other and meet.

Exit codes: 0 done, 1 no plan brings everyone to the finish within the margin, 2 bad input or arguments, 3 stopped before the end.
)";

/// A search that is done while people wait at the roadside, or once for each group.
LineupSettings brief(LineupSettings settings) {
  constexpr std::size_t days_in_brief = 20;
  settings.starts = settings.rounds = settings.finalists_a_demand = 1;
  settings.days = std::min(settings.days, days_in_brief);
  return settings;
}

std::string comment_of(const Scenario& scenario, const GroupPlan& plan) {
  return fmt::format("{} with a plan laid in: {}.\n{}", scenario.title, kind_words(plan), lineup_cautions);
}

/// A planned scenario for each group, group_1.yaml and so on.
void write_groups(const Options& options, const Scenario& scenario, const ClubSplit& split) {
  make_output_folder(options.output);
  for (std::size_t g = 0; g < split.groups.size(); ++g) {
    const ClubGroup& group = split.groups[g];
    const std::string path = fmt::format("{}/group_{}.yaml", options.output, g + 1);
    write_whole_file(path, scenario_with_plan_yaml(options.scenario_path, group.scenario, path,
                                                   comment_of(scenario, group.lineup.best().plan), {.only_these = true}));
  }
  if (!options.quiet && !options.json)
    fmt::print("Written to {}: group_1.yaml to group_{}.yaml\n\n", options.output, split.groups.size());
}

int run_into(const Options& options, const Scenario& scenario) {
  if (scenario.riders.size() < least_in_club || scenario.riders.size() > most_in_club)
    throw InputFault(
        Fault{options.scenario_path, 0, 0, "--into",
              fmt::format("found {} riders, expected {} to {}", scenario.riders.size(), least_in_club, most_in_club)});
  if (static_cast<std::size_t>(options.into) * least_in_group > scenario.riders.size())
    throw InputFault(
        Fault{options.scenario_path, 0, 0, "--into",
              fmt::format("found {} groups, expected {} riders or more in each", options.into, least_in_group)});
  SplitSettings settings{.groups = static_cast<std::size_t>(options.into)};
  if (!options.meet_at.empty() && options.meet_at != "finish")
    settings.meet_at_m = place_named(options.scenario_path, scenario.road, "--meet-at", options.meet_at);
  ClubSplit split;
  {
    Progress progress("planning each group", !options.quiet);
    split = split_club(scenario, settings, brief(options.settings), [&](double share) {
      progress.at(share);
      return !StopAsked::yes();
    });
  }
  if (split.stopped) {
    fmt::print(stderr, "leewheel: stopped before every group had a plan\n");
    return exit_stopped;
  }
  if (split.found && !options.output.empty()) write_groups(options, scenario, split);
  if (!options.quiet && options.json) fmt::print("{}\n", split_json(split, scenario, settings));
  if (!options.quiet && !options.json)
    fmt::print("{}\n{}", split_words(split, scenario, settings.meet_at_m < 0.0 ? "at the finish" : "at " + options.meet_at),
               lineup_cautions);
  return split.found ? exit_ok : exit_answer_no;
}

/// The rest of a ride that is under way. Nothing where a state to fill in was written instead.
std::optional<FromHere> rest_of_ride(const Options& options, const Scenario& scenario) {
  if (!std::filesystem::exists(options.now)) {
    write_whole_file(options.now, now_starter(scenario));
    if (!options.quiet)
      fmt::print("Written to {}: say where everyone is now and how much is left, then ask again.\n", options.now);
    return std::nullopt;
  }
  return from_here(scenario, read_now(options.now, scenario));
}

void write_plan(const Options& options, const Scenario& planned, const Lineup& lineup) {
  write_whole_file(options.output,
                   scenario_with_plan_yaml(options.scenario_path, planned, options.output,
                                           comment_of(planned, lineup.best().plan), {.now_path = options.now}));
  if (!options.quiet && !options.json) fmt::print("\nWritten to {}\n", options.output);
}

Lineup look_for_plan(const Options& options, const Scenario& scenario) {
  Progress progress("trying plans", !options.quiet);
  return best_lineup(scenario, options.settings, [&](double share) {
    progress.at(share);
    return !StopAsked::yes();
  });
}

int stopped() {
  fmt::print(stderr, "leewheel: stopped before a plan was found\n");
  return exit_stopped;
}

int run_now(Options options, const Scenario& scenario) {
  const std::optional<FromHere> rest = rest_of_ride(options, scenario);
  if (!rest) return exit_ok;
  options.settings = brief(options.settings);
  const Lineup found = look_for_plan(options, rest->scenario);
  if (found.stopped) return stopped();
  const Lineup lineup = on_whole_road(found, *rest, scenario.road);
  const Scenario told = on_whole_road(rest->scenario, *rest, scenario.road);
  if (options.json && !options.quiet) fmt::print("{}\n", json_text(lineup_json(lineup, told)));
  if (!options.json && !options.quiet) {
    fmt::print("{}", rest_words(*rest, options.units));
    print_lineup(lineup, told, options.settings, options.units);
    fmt::print("{}", rest_by_the_clock(lineup, *rest));
  }
  if (!lineup.found) return exit_answer_no;
  if (!options.output.empty())
    write_plan(options, on_whole_road(with_plan(rest->scenario, found.best().plan, found.weakest), *rest, scenario.road),
               lineup);
  return exit_ok;
}

int run(Options options) {
  Scenario scenario = asked_scenario(options.scenario_path);
  if (scenario.riders.size() < 2)
    throw InputFault(
        Fault{options.scenario_path, 0, 0, "riders", "found one rider, expected at least two; see leewheel pace"});
  for (std::size_t k = 0; k < lineup_aim_names.size(); ++k)
    if (lineup_aim_names[k] == options.aim) options.settings.aim = static_cast<LineupAim>(k);
  options.settings.held_back_s = 60.0 * options.held_back_min;
  const StopAsked stop;
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  if (options.into >= 0) return run_into(options, scenario);
  if (!options.now.empty()) return run_now(options, scenario);
  const Lineup lineup = look_for_plan(options, scenario);
  if (lineup.stopped) return stopped();
  if (options.json && !options.quiet) fmt::print("{}\n", json_text(lineup_json(lineup, scenario)));
  if (!options.json && !options.quiet) print_lineup(lineup, scenario, options.settings, options.units);
  if (!lineup.found) return exit_answer_no;
  if (!options.output.empty()) write_plan(options, with_plan(scenario, lineup.best().plan, lineup.weakest), lineup);
  return exit_ok;
}

void add_limits(CLI::App& command, Options& options) {
  command
      .add_option("--later", options.settings.time_limit_share,
                  "for weakest and fair: how much slower than the quickest obvious plan a plan may be, as a share")
      ->check(number_within(0.0, 1.0))
      ->capture_default_str();
  command
      .add_option("--harder", options.settings.harder_share,
                  "how much above the own usual effort anyone may ride on average, as a share")
      ->check(number_within(0.0, 1.0))
      ->capture_default_str();
  command.add_option("--held-back", options.held_back_min, "how many minutes later than alone anyone may be at the finish")
      ->check(number_within(0.0, 600.0))
      ->capture_default_str();
  command.add_option("--days", options.settings.days, "drawn days on which the plans of the table are ridden")
      ->check(whole_within(4, 10000))
      ->capture_default_str();
  command.add_option("--margin", options.settings.wbal_margin_share, "share of W' below which nobody may fall")
      ->check(number_within(0.0, 0.9))
      ->capture_default_str();
}

}  // namespace

Command add_lineup_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("lineup", "find the group's plan: order, turns, pace, where to climb freely, wait or split");
  command->footer(examples);
  add_scenario(*command, options->scenario_path)->required();
  command->add_option("--for", options->aim, "aim of the plan: time (last rider at the finish soonest), weakest, fair")
      ->check(one_of(words_of(lineup_aim_names)))
      ->capture_default_str();
  add_limits(*command, *options);
  command->add_option("-o,--out", options->output,
                      "write the scenario with this plan in it; with --into a folder, with a scenario for each group");
  CLI::Option* const into =
      command->add_option("--into", options->into, "split a club into so many groups by strength; 0: as many as it takes")
          ->check(whole_within(0, most_groups));
  command->add_option("--meet-at", options->meet_at, "with --into: where all meet [finish]")->needs(into);
  command
      ->add_option("--now", options->now, "plan the rest of the ride from this state (YAML); written to fill in if missing")
      ->excludes(into);
  command->add_option("--threads", options->threads, "threads; their number does not change the plan")
      ->check(whole_within(1, 1024));
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print the plan as JSON");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  return [options] { return run(*options); };
}

}  // namespace leewheel
