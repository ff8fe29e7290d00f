/// `leewheel lineup`: the group's plan.

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <vector>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/lineup_words.hpp"
#include "app/progress.hpp"
#include "io/atomic_file.hpp"
#include "io/plan_file.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/lineup.hpp"
#include "leewheel/ride_facts.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

struct Options {
  std::string scenario_path, output, aim{lineup_aim_names[0]};
  LineupSettings settings;
  bool json = false, quiet = false;
  ShownUnits units;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

constexpr const char* examples = R"(Examples:
  leewheel lineup scenarios/larkmoor/scenario.yaml
  leewheel lineup scenarios/larkmoor/scenario.yaml --for weakest -o planned.yaml

Exit codes: 0 done, 1 no plan brings everyone home within the margin, 2 bad input or arguments, 3 stopped before the end.
)";

// --- for machines ------------------------------------------------------------------------------------------------------

Json json_of(const PlanResult& r) {
  const GroupPlan& p = r.plan;
  return {{"name", p.name},
          {"value", r.value},
          {"value_low", r.value_low},
          {"value_high", r.value_high},
          {"allowed", r.allowed},
          {"kind", ride_kind_names[static_cast<std::size_t>(p.kind)]},
          {"formation", formation_names[static_cast<std::size_t>(p.formation)]},
          {"order", p.order},
          {"regroup_at_m", p.regroup_at_m},
          {"turn_s", p.turn_s},
          {"circulate_s", p.circulate_s},
          {"pace_share", p.pace_share},
          {"hold_margin", p.hold_margin},
          {"front_effort", p.front_effort},
          {"free_climb_fraction", p.free_climb_fraction},
          {"wprime_reserve", p.wprime_reserve},
          {"lean", p.lean},
          {"weakest_effort", p.weakest_effort},
          {"last_s", r.expected.last_s},
          {"weakest_effort_share", r.expected.weakest_effort},
          {"unfairness", r.expected.unfairness},
          {"wbal_least_share", r.expected.wbal_least_share},
          {"longest_wait_s", r.expected.longest_wait_s}};
}

Json json_of(const Lineup& lineup, const Scenario& scenario) {
  Json out{{"found", lineup.found},
           {"aim", lineup_aim_names[static_cast<std::size_t>(lineup.aim)]},
           {"weakest", scenario.riders[lineup.weakest].name},
           {"rides", lineup.rides},
           {"days", lineup.day_names},
           {"time_limit_s", lineup.time_limit_s}};
  if (lineup.found) out["plan"] = json_of(lineup.best);
  out["obvious"] = Json::array();
  for (const PlanResult& r : lineup.obvious) out["obvious"].push_back(json_of(r));
  if (!lineup.found) return out;
  for (const LineupStretch& s : lineup.stretches)
    out["stretches"].push_back({{"from", s.where.from},
                                {"to", s.where.to},
                                {"from_m", s.where.from_m},
                                {"to_m", s.where.to_m},
                                {"grade", s.grade},
                                {"headwind_mps", s.headwind_mps},
                                {"crosswind_mps", s.crosswind_mps},
                                {"front_speed_mps", s.front_speed_mps},
                                {"front_power_W", s.front_power_W},
                                {"in_line_share", s.in_line_share},
                                {"saved_share", s.saved_share},
                                {"form", form_names[static_cast<std::size_t>(s.form)]},
                                {"front_s", s.front_s}});
  out["waits"] = Json::array();
  for (const RegroupWait& w : lineup.waits)
    out["waits"].push_back({{"at_m", w.at_m},
                            {"name", w.name},
                            {"first", scenario.riders[w.first_rider].name},
                            {"last", scenario.riders[w.last_rider].name},
                            {"first_waits_s", w.first_waits_s}});
  for (std::size_t i = 0; i < scenario.riders.size(); ++i)
    out["riders"].push_back({{"name", scenario.riders[i].name},
                             {"finish_s", lineup.best.expected.finish_s[i]},
                             {"effort", lineup.best.expected.effort[i]},
                             {"wbal_least_share", lineup.best.expected.wbal_share[i]},
                             {"in_front_s", lineup.pulls[i].in_front_s},
                             {"turns_ended", lineup.pulls[i].turns}});
  for (const auto& group : lineup.groups) out["groups"].push_back(names_of(scenario, group));
  for (const auto& group : lineup.split_groups) out["split_tried"].push_back(names_of(scenario, group));
  out["best_whole"] = lineup.best_whole;
  out["best_split"] = lineup.best_split;
  out["cautions"] = lineup_cautions;
  return out;
}

int run(Options options) {
  const Scenario scenario = asked_scenario(options.scenario_path);
  if (scenario.riders.size() < 2)
    throw InputFault(
        Fault{options.scenario_path, 0, 0, "riders", "found one rider, expected at least two; see leewheel pace"});
  for (std::size_t k = 0; k < lineup_aim_names.size(); ++k)
    if (lineup_aim_names[k] == options.aim) options.settings.aim = static_cast<LineupAim>(k);
  const StopAsked stop;
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  Lineup lineup;
  {
    Progress progress("trying plans", !options.quiet);
    lineup = best_lineup(scenario, options.settings, [&](double share) {
      progress.at(share);
      return !StopAsked::yes();
    });
  }
  if (lineup.stopped) {
    fmt::print(stderr, "leewheel: stopped before a plan was found\n");
    return exit_stopped;
  }
  if (options.json && !options.quiet) fmt::print("{}\n", json_of(lineup, scenario).dump(2));
  if (!options.json && !options.quiet) print_lineup(lineup, scenario, options.settings, options.units);
  if (!lineup.found) return exit_answer_no;
  if (options.output.empty()) return exit_ok;
  const std::string comment =
      fmt::format("{} with a plan laid in: {}.\n{}", scenario.title, kind_words(lineup.best.plan), lineup_cautions);
  write_whole_file(options.output,
                   scenario_with_plan_yaml(options.scenario_path, with_plan(scenario, lineup.best.plan, lineup.weakest),
                                           options.output, comment));
  if (!options.quiet && !options.json) fmt::print("\nWritten to {}\n", options.output);
  return exit_ok;
}

}  // namespace

Command add_lineup_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("lineup", "find the group's plan: order, turns, pace, where to climb freely, wait or split");
  command->footer(examples);
  command->add_option("scenario", options->scenario_path, "scenario file (YAML)")->required();
  command->add_option("--for", options->aim, "aim of the plan: time (last rider home soonest), weakest, fair")
      ->check(CLI::IsMember(std::vector<std::string>(lineup_aim_names.begin(), lineup_aim_names.end())))
      ->capture_default_str();
  command
      ->add_option("--later", options->settings.time_limit_share,
                   "for weakest and fair: how much slower than the quickest obvious plan a plan may be, as a share")
      ->check(number_within(0.0, 1.0))
      ->capture_default_str();
  command->add_option("--margin", options->settings.wbal_margin_share, "share of W' below which nobody may fall on any day")
      ->check(number_within(0.0, 0.9))
      ->capture_default_str();
  command->add_option("--threads", options->threads, "threads; their number does not change the plan")
      ->check(whole_within(1, 1024));
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print the plan as JSON");
  command->add_option("-o,--out", options->output, "write the scenario with this plan in it");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  return [options] { return run(*options); };
}

}  // namespace leewheel
