/// `leewheel pace`: the best power along the road for one rider.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/pace_words.hpp"
#include "io/atomic_file.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "io/plan_file.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/pacing.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string scenario_path, rider, output;
  PacingSettings settings;
  bool json = false, quiet = false;
  ShownUnits units;
};

constexpr const char* examples = R"(Example:
  leewheel pace scenarios/larkmoor/scenario.yaml --rider Cato -o plan.yaml

The file holds `plan:` entries; put them below the rider's name in the scenario to ride the plan.
)";

// --- for machines ------------------------------------------------------------------------------------------------------

nlohmann::ordered_json day_json(const DayOutcome& day) {
  return {{"critical_power_W", day.critical_power_W},
          {"kept_s", day.kept_s},
          {"kept_least_wbal_J", day.kept_least_J},
          {"empty_at_m", day.empty_at_m < 0.0 ? nlohmann::ordered_json(nullptr) : nlohmann::ordered_json(day.empty_at_m)},
          {"adjusted_s", day.adjusted_s},
          {"adjusted_least_wbal_J", day.adjusted_least_J},
          {"change_W", day.change_W}};
}

nlohmann::ordered_json json_of(const Pacing& pacing, const PacingSettings& settings) {
  using Json = nlohmann::ordered_json;
  Json out{{"layout_version", json_layout::pace}, {"rider", pacing.rider}, {"found", pacing.found}};
  if (!pacing.found) {
    out["why_not"] = pacing.why_not;
    return out;
  }
  out.update({{"time_s", pacing.time_s},
              {"time_low_s", pacing.time_low_s},
              {"time_high_s", pacing.time_high_s},
              {"days", settings.days},
              {"mean_power_W", pacing.mean_power_W},
              {"even_power_W", pacing.even_power_W},
              {"even_time_s", pacing.even_time_s},
              {"even_is_best", pacing.even_is_best},
              {"saved_s", pacing.even_time_s - pacing.time_s},
              {"saved_low_s", pacing.gain_low_s},
              {"saved_middle_s", pacing.gain_s},
              {"saved_high_s", pacing.gain_high_s},
              {"reserve_J", pacing.reserve_J},
              {"unsteady_J", pacing.unsteady_J},
              {"limits",
               {{"hardest_W", pacing.hardest_W},
                {"easiest_W", pacing.easiest_W},
                {"calm_s", pacing.calm_s},
                {"early_J", pacing.early_J},
                {"changes_every_s", settings.changes_every_s},
                {"worth_share", settings.worth_share}}},
              {"wbal_least_J", pacing.wbal_least_J},
              {"wbal_end_J", pacing.wbal_end_J},
              {"recovery_law", recovery_law_names[static_cast<std::size_t>(pacing.recovery_law)]},
              {"decide_at_m", pacing.decide_at_m},
              {"decide_at_s", pacing.decide_at_s}});
  for (const PacedSection& s : pacing.sections)
    out["sections"].push_back({{"from_m", s.from_m},
                               {"to_m", s.to_m},
                               {"name", s.name},
                               {"grade", s.grade},
                               {"headwind_mps", s.headwind_mps},
                               {"power_W", s.power_W},
                               {"by_rule", s.by_rule},
                               {"falling_W", s.falling_W},
                               {"held", s.held},
                               {"ridden_W", s.ridden_W},
                               {"time_s", s.time_s},
                               {"wbal_end_J", s.wbal_end_J}});
  out["bad_day"] = day_json(pacing.bad_day);
  out["good_day"] = day_json(pacing.good_day);
  out["recoveries"] = Json::array();
  for (const Recovery& r : pacing.recoveries)
    out["recoveries"].push_back({{"from_m", r.from_m},
                                 {"to_m", r.to_m},
                                 {"kind", easing_names[static_cast<std::size_t>(r.easing)]},
                                 {"time_s", r.time_s},
                                 {"regained_J", r.regained_J}});
  out["heart_rise"] = Json::array();
  for (const HeartRise& h : pacing.heart)
    out["heart_rise"].push_back(
        {{"time_s", h.time_s}, {"share", h.share}, {"least_share", h.least_share}, {"most_share", h.most_share}});
  out["cautions"] = pace_cautions;
  return out;
}

void add_limits(CLI::App& command, PacingSettings& settings) {
  const auto add = [&](const char* name, double& value, const char* about, double low, double high) {
    command.add_option(name, value, about)->check(number_within(low, high))->capture_default_str();
  };
  add("--hardest", settings.hardest_share, "hardest power, as a share of the even power", 1.0, 3.0);
  add("--easiest", settings.easiest_share, "easiest power but downhill, as a share of the even power", 0.1, 1.0);
  add("--calm", settings.calm_s, "seconds at the start no harder than the even power, at most a tenth of the ride", 0.0,
      3600.0);
  add("--changes-every", settings.changes_every_s, "seconds that an instruction holds at the least", 20.0, 3600.0);
  add("--worth", settings.worth_share, "share of even power's time that a plan must gain, else it is told as even", 0.0,
      0.1);
  add("--held", settings.held_share, "share of critical power that is the most downhill where bends or the speed limit hold",
      0.0, 1.0);
  add("--early", settings.early_share, "share of W' kept until the last third of what is not downhill", 0.0, 0.9);
}

int run(const Options& options) {
  const Scenario scenario = asked_scenario(options.scenario_path);
  const std::size_t rider = rider_named(options.scenario_path, scenario, options.rider);
  const Pacing pacing = best_pacing(scenario, rider, options.settings);
  if (options.json && !options.quiet) fmt::print("{}\n", json_text(json_of(pacing, options.settings)));
  if (!pacing.found) {
    if (!options.quiet && !options.json) fmt::print("No plan for {}: {}.\n", pacing.rider, pacing.why_not);
    return exit_answer_no;
  }
  const double critical_power_W = scenario.riders[rider].critical_power_W;
  if (!options.json && !options.quiet)
    print_pacing(pacing, scenario, scenario.riders[rider], options.settings, options.units);
  if (options.output.empty()) return exit_ok;
  const std::string comment = fmt::format(
      "{} alone on {}: {} with {:.0f} % of W' in reserve. Put this below the rider's name in a scenario.\n{}", pacing.rider,
      scenario.title, clock_text(pacing.time_s), 100.0 * options.settings.reserve_share, pace_cautions);
  write_whole_file(options.output, plan_yaml(pacing.steps(critical_power_W), critical_power_W, comment));
  if (!options.quiet && !options.json) fmt::print("\nWritten to {}\n", options.output);
  return exit_ok;
}

}  // namespace

Command add_pace_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("pace", "find the best power along the road for one rider alone, section by section");
  command->footer(examples);
  add_scenario(*command, options->scenario_path)->required();
  command->add_option("--rider", options->rider, "rider whose plan to find")->required();
  command->add_option("--reserve", options->settings.reserve_share, "share of W' kept in reserve to the top")
      ->check(number_within(0.0, 0.9))
      ->capture_default_str();
  command
      ->add_option("--sustained", options->settings.sustained_share,
                   "share of critical power to plan with: below 1 for long or hot days")
      ->check(number_within(0.5, 1.05))
      ->capture_default_str();
  add_limits(*command, options->settings);
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print the plan as JSON");
  command->add_option("-o,--out", options->output, "write the plan to this file, in the form a scenario takes");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  return [options] { return run(*options); };
}

}  // namespace leewheel
