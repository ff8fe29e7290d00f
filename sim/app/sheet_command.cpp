/// `leewheel sheet`: the ride as a page to take along.

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <thread>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/lineup_words.hpp"
#include "app/progress.hpp"
#include "io/atomic_file.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "io/result_columns.hpp"
#include "io/scenario_reader.hpp"
#include "io/summary_parts.hpp"
#include "leewheel/kilometres.hpp"
#include "leewheel/lineup.hpp"
#include "leewheel/ride_report.hpp"
#include "leewheel/wind_outlook.hpp"
#include "pages/sheet.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

struct Options {
  std::string scenario_path, output, aim;
  SheetOptions page;
  std::size_t days = 24;
  std::optional<std::uint64_t> seed;
  bool json = false, quiet = false;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

constexpr const char* examples = R"(Examples:
  leewheel sheet scenarios/larkmoor/scenario.yaml -o larkmoor.html
  leewheel sheet scenarios/larkmoor/scenario.yaml --pocket -o pocket.html
  leewheel sheet scenarios/larkmoor/scenario.yaml --for weakest -o larkmoor.html     from scenario to sheet at once

The page shows the plan that the scenario holds; with --for a plan is looked for first, as leewheel lineup does.

Exit codes: 0 done, 1 not everyone gets to the finish (written), or --for found no plan (not written), 2 bad input or arguments, 3 stopped before the end.
)";

void add_wind(SheetStretch& stretch, const Outlook& wind) {
  double rows = 0.0;
  for (const OutlookRow& row : wind.rows) {
    if (row.distance_m < stretch.from_m || row.distance_m > stretch.to_m) continue;
    ++rows;
    stretch.head_mps += row.head_mps;
    stretch.from_left_mps += row.from_left_mps;
    stretch.gust_mps = std::max(stretch.gust_mps, row.gust_mps);
    stretch.gust_side_force_N = std::max(stretch.gust_side_force_N, row.gust_side_force_N);
  }
  if (rows > 0.0) stretch.head_mps /= rows, stretch.from_left_mps /= rows;
}

Sheet sheet_of(const Scenario& scenario, const RideReport& report, const std::string& why) {
  const double spacing_m = std::max(10.0, scenario.road.length_m() / 120.0);
  Sheet sheet{scenario,
              report.ride,
              wind_outlook(scenario, report.first, spacing_m),
              {},
              report.riders,
              report.days,
              report.last_home_s,
              report.all_home_share,
              why,
              report.groups_at_start};
  for (const StretchReport& stretch : report.stretches) {
    sheet.stretches.push_back({stretch});
    add_wind(sheet.stretches.back(), sheet.wind);
  }
  return sheet;
}

// ---- a plan first ----

/// Looks for a plan and lays it in; false when there is none, or on Ctrl-C.
bool lay_in_plan(const Options& options, Scenario& scenario, std::string& why) {
  LineupSettings settings;
  for (std::size_t k = 0; k < lineup_aim_names.size(); ++k)
    if (lineup_aim_names[k] == options.aim) settings.aim = static_cast<LineupAim>(k);
  Progress progress("trying plans", !options.quiet);
  const Lineup lineup = best_lineup(scenario, settings, [&](double share) {
    progress.at(share);
    return !StopAsked::yes();
  });
  if (lineup.stopped || !lineup.found) return false;
  scenario = with_plan(scenario, lineup.best().plan, lineup.weakest);
  why = plan_in_words(lineup.best(), scenario) + " " + why_chosen(lineup, scenario);
  return true;
}

Json json_of(const Sheet& sheet, const std::string& path) {
  constexpr std::string_view told[] = {"finish_time_s", "riding_time_s", "waited_s",      "mean_power_W",
                                       "work_kJ",       "saved_kJ",      "saved_percent", "wbal_end_J",
                                       "wbal_least_J",  "front_s",       "turns"};
  Json riders = Json::array();
  for (std::size_t i = 0; i < sheet.riders.size(); ++i) {
    const RiderResult& r = sheet.ride.riders[i];
    const auto range = [](const std::optional<SheetRange>& found) {
      return found ? Json{{"low", found->low}, {"high", found->high}} : Json(nullptr);
    };
    const RiderFacts& facts = sheet.riders[i].facts;
    Json rider{{"name", r.name}, {"finished", r.finished}};
    for (const auto& column : rider_columns())
      if (std::find(std::begin(told), std::end(told), std::string_view(column.name)) != std::end(told))
        rider[column.name] = json_number(column.value({r, facts, nullptr}), column.decimals);
    rider["finish_time_range_s"] =
        range(sheet.riders[i].arrives_s.empty() ? std::nullopt : sheet.riders[i].arrives_s.back());
    rider["mean_power_range_W"] = range(sheet.riders[i].mean_power_W);
    rider["work_range_J"] = range(sheet.riders[i].work_J);
    rider["wbal_least_share_range"] = range(sheet.riders[i].wbal_least_share);
    rider["home_share"] = sheet.riders[i].home_share;
    rider["dropped_share"] = sheet.riders[i].dropped_share;
    rider["stretches"] = Json::array();
    for (const SheetRidden& s : facts.stretches) rider["stretches"].push_back(stretch_json(s));
    riders.push_back(std::move(rider));
  }
  return {{"layout_version", json_layout::sheet},
          {"file", path},
          {"title", sheet.scenario.title},
          {"days", sheet.days},
          {"riders", riders}};
}

int run(const Options& options) {
  Scenario scenario = asked_scenario(options.scenario_path);
  scenario.road = with_kilometres(scenario.road);  // so that the page has places to speak of
  if (options.seed) scenario.ride.seed = *options.seed;
  const std::string path = options.output.empty() ? usual_folder(options.scenario_path) + "/sheet.html" : options.output;
  if (options.output.empty()) make_output_folder(usual_folder(options.scenario_path));
  const StopAsked stop;
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  std::string why;
  if (!options.aim.empty() && scenario.riders.size() > 1 && !lay_in_plan(options, scenario, why) && !StopAsked::yes()) {
    fmt::print(stderr, "leewheel: no plan brings everyone home with some W' left; nothing was written\n");
    return exit_answer_no;
  }
  scenario = surveyed(with_named_waits(std::move(scenario)));
  const auto go_on = [] { return !StopAsked::yes(); };
  RideReport report = report_ride(scenario, go_on);
  {
    Progress progress("riding other days", !options.quiet);
    add_days(report, scenario, options.days, go_on,
             [&](std::size_t done) { progress.at(static_cast<double>(done), static_cast<double>(options.days)); });
  }
  if (StopAsked::yes()) {
    fmt::print(stderr, "leewheel: stopped; nothing was written\n");
    return exit_stopped;
  }
  const Sheet sheet = sheet_of(scenario, report, why);
  write_whole_file(path, sheet_html(sheet, options.page));
  const bool all_home = sheet.ride.end == RideEnd::all_finished;
  if (options.json && !options.quiet) fmt::print("{}\n", json_text(json_of(sheet, path)));
  if (!options.json && !options.quiet)
    fmt::print("Written to {}: {}, {} days ridden{}\n", path, counted(sheet.riders.size(), "rider"), sheet.days,
               all_home ? "" : "; not everyone gets to the finish");
  return all_home ? exit_ok : exit_answer_no;
}

}  // namespace

Command add_sheet_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("sheet", "the plan as one page for a phone and for paper, with a card for each rider");
  command->footer(examples);
  add_scenario(*command, options->scenario_path)->required();
  command->add_option("-o,--out", options->output, "file for the page (HTML) [out/<folder of the scenario>/sheet.html]");
  command
      ->add_option("--for", options->aim, "first look for a plan with this aim: time, weakest, fair (see leewheel lineup)")
      ->check(one_of(words_of(lineup_aim_names)));
  command->add_flag("--pocket", options->page.pocket, "a card for the captain and each rider to print, cut and fold");
  add_imperial_flag(*command, options->page.units);
  command->add_option("--days", options->days, "days with other wind and fitness, ridden for the ranges; 0: no ranges")
      ->check(whole_within(0, 1000))
      ->capture_default_str();
  command->add_option("--seed", options->seed, "seed of the ride and of the days, instead of the scenario's")
      ->check(a_seed());
  command->add_option("--threads", options->threads, "threads; their number does not change the page")
      ->check(whole_within(1, 1024));
  command->add_flag("--json", options->json, "print the times as JSON; the page is still written");
  command->add_flag("--quiet", options->quiet, "print nothing; the page is still written");
  return [options] { return run(*options); };
}

}  // namespace leewheel
