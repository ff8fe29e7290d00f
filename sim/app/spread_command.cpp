/// `leewheel spread`: the same plan over many days.

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <thread>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/kept_runs.hpp"
#include "app/progress.hpp"
#include "app/spread_words.hpp"
#include "io/atomic_file.hpp"
#include "io/csv.hpp"
#include "io/json_number.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/ensemble.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

struct Options {
  std::string scenario_path, folder, resume;
  bool json = false, quiet = false;
  ShownUnits units;
  std::size_t runs = 1000;
  std::optional<std::uint64_t> seed;
  std::optional<double> step_s;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

constexpr const char* examples = R"(Examples:
  leewheel spread scenarios/larkmoor/scenario.yaml
  leewheel spread scenarios/larkmoor/scenario.yaml --resume out/larkmoor/spread_runs.json --runs 3000   after a stop, or for more

Exit codes: 0 done, 2 bad input or arguments, 3 stopped before the end: go on with --resume.
)";

constexpr const char* runs_file = "spread_runs.json";

// --- for machines ------------------------------------------------------------------------------------------------

Json json_of(const Scenario& scenario, std::uint64_t seed, const SpreadAnswer& answer) {
  Json out{{"title", scenario.title},        {"runs", answer.runs},      {"seed", seed},
           {"step_s", scenario.ride.step_s}, {"inputs", Json::object()}, {"riders", Json::array()},
           {"stretches", Json::array()}};
  for (const auto& field : uncertainty_fields()) out["inputs"][field.name] = scenario.uncertainty.*field.member;
  for (const RiderSpread& r : answer.riders) {
    Json one{{"name", r.name},
             {"finished_share", rounded(static_cast<double>(r.finished) / static_cast<double>(answer.runs), 4)}};
    one["expected_time_s"] = r.expected_s ? json_number(*r.expected_s, 1) : Json(nullptr);
    if (r.time_s)
      one["time_s"] = {{"p5", rounded(r.time_s->p5, 1)},
                       {"p25", rounded(r.time_s->p25, 1)},
                       {"p50", rounded(r.time_s->p50, 1)},
                       {"p75", rounded(r.time_s->p75, 1)},
                       {"p95", rounded(r.time_s->p95, 1)}};
    one["dropped_share"] = rounded(r.dropped_share, 4);
    one["drops_a_run"] = rounded(r.drops_a_run, 3);
    for (const double share : r.dropped_by_stretch) one["first_dropped_by_stretch"].push_back(rounded(share, 4));
    if (r.shares) {
      for (std::size_t k = 0; k < r.shares->share.size(); ++k)
        one["variance"].push_back({{"input", shown_name(k)}, {"share", rounded(r.shares->share[k], 4)}});
      one["variance_rest"] = rounded(r.shares->rest, 4);
      one["adjusted_r2"] = rounded(r.shares->explained, 4);
    }
    out["riders"].push_back(std::move(one));
  }
  for (const StretchSpread& s : answer.stretches)
    out["stretches"].push_back({{"from", s.where.from},
                                {"to", s.where.to},
                                {"from_m", s.where.from_m},
                                {"to_m", s.where.to_m},
                                {"whole_probability", rounded(s.whole_probability, 4)},
                                {"largest_share", rounded(s.largest_share, 4)}});
  out["method"] =
      "squared standardised regression coefficients (Saltelli et al. 2008, Global Sensitivity Analysis: The Primer)";
  out["cautions"] = planning_cautions;
  return out;
}

std::string runs_csv(const Scenario& scenario, const std::vector<RunOutcome>& runs) {
  std::string text = csv_row({"run", "rider", "finished", "time_s", "wbal_end_J", "saved_J", "drops", "first_dropped_at_m"});
  for (std::size_t n = 0; n < runs.size(); ++n)
    for (std::size_t i = 0; i < runs[n].riders.size(); ++i) {
      const RiderOutcome& r = runs[n].riders[i];
      text += csv_row({std::to_string(n), csv_cell(scenario.riders[i].name), r.finished ? "1" : "0", csv_cell(r.time_s, 1),
                       csv_cell(r.wbal_end_J, 0), csv_cell(r.saved_J, 0), std::to_string(r.drops),
                       r.drops > 0 ? csv_cell(r.dropped_at_m, 0) : ""});
    }
  return text;
}

// --- the run ---------------------------------------------------------------------------------------------------

/// Rides what is missing; writes what there is from time to time, so that little is lost.
bool ride_on(const Scenario& scenario, const Options& options, const std::string& path, KeptRuns& kept) {
  using Clock = std::chrono::steady_clock;
  constexpr auto every = std::chrono::seconds(20);
  auto next = Clock::now() + every;
  const StopAsked stop;
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  Progress progress("riding", !options.quiet);
  const bool all = ride_days(scenario, kept.seed, kept.runs, [&](std::size_t done) {
    progress.at(static_cast<double>(done), static_cast<double>(kept.runs.size()));
    if (Clock::now() >= next) {
      write_whole_file(path, text_of(kept));
      next = Clock::now() + every;
    }
    return !StopAsked::yes();
  });
  write_whole_file(path, text_of(kept));
  return all;
}

/// The ride of `leewheel ride`, at its own step.
void add_expected_day(const Scenario& scenario, SpreadAnswer& answer) {
  const RideResult result = ride_to_end(scenario, {.notes_debts = false});
  for (std::size_t i = 0; i < answer.riders.size(); ++i)
    if (result.riders[i].finished) answer.riders[i].expected_s = result.riders[i].finish_time_s;
}

int run(const Options& options) {
  const Scenario as_it_stands = asked_scenario(options.scenario_path);
  Scenario scenario = as_it_stands;
  scenario.ride.step_s = options.step_s.value_or(std::max(scenario.ride.step_s, many_days_step_s));
  KeptRuns kept{scenario_digest(scenario), options.seed.value_or(scenario.ride.seed), std::vector<RunOutcome>(options.runs)};
  if (!options.resume.empty()) take_up(options.resume, kept, scenario.riders.size(), stretches_of(scenario.road).size());
  const std::string folder = options.folder.empty() ? usual_folder(options.scenario_path) : options.folder;
  make_output_folder(folder);
  const std::string path = options.resume.empty() ? folder + "/" + runs_file : options.resume;
  if (!ride_on(scenario, options, path, kept)) {
    const auto done = std::count_if(kept.runs.begin(), kept.runs.end(), [](const RunOutcome& r) { return r.done; });
    fmt::print(stderr, "leewheel: stopped after {} of {} runs; go on with --resume {}\n", done, kept.runs.size(), path);
    return exit_stopped;
  }
  SpreadAnswer answer = summarise(scenario, kept.seed, kept.runs);
  add_expected_day(as_it_stands, answer);
  const std::string json = json_text(json_of(scenario, kept.seed, answer)) + "\n";
  write_whole_file(folder + "/spread.json", json);
  write_whole_file(folder + "/spread.csv", runs_csv(scenario, kept.runs));
  if (options.quiet) return exit_ok;
  if (options.json)
    fmt::print("{}", json);
  else
    fmt::print("{}\nWritten to {}: spread.json, spread.csv; the runs themselves to {}\n",
               spread_words(scenario, answer, options.units), folder, path);
  return exit_ok;
}

int print_inputs() {
  const Uncertainty usual;
  fmt::print("{:<27} {:>7}  {:<62} {}\n", "uncertainty:", "spread", "one standard deviation of", "source");
  for (const auto& field : uncertainty_fields())
    fmt::print("  {:<25} {:>7g}  {:<62} {}\n", field.name, usual.*field.member, field.meaning, field.source);
  return exit_ok;
}

}  // namespace

Command add_spread_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  const auto inputs = std::make_shared<bool>(false);
  CLI::App* const command =
      app.add_subcommand("spread", "ride the same plan on many days with other wind, fitness and coefficients");
  command->footer(examples);
  auto* const scenario = add_scenario(*command, options->scenario_path);
  command->add_option("--runs", options->runs, "days to ride")->check(whole_within(1, 1000000))->capture_default_str();
  command->add_option("--threads", options->threads, "threads; their number does not change the results")
      ->check(whole_within(1, 1024));
  command->add_option("--seed", options->seed, "seed of the days, instead of the scenario's")->check(a_seed());
  command
      ->add_option("--step", options->step_s,
                   fmt::format("time step in seconds [the scenario's, at least {:g}: see docs/spread.md]", many_days_step_s))
      ->check(number_within(0.02, 1.0));
  command->add_option("--resume", options->resume, "file of runs to resume; it is updated");
  command->add_option("-o,--out", options->folder, "folder for the results [out/<folder of the scenario>]");
  command->add_flag("--inputs", *inputs, "print the inputs with their default spreads and sources; ride nothing");
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print spread.json instead of words");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  return [options, inputs, scenario] {
    if (*inputs) return print_inputs();
    if (scenario->count() > 0) return run(*options);
    fmt::print(stderr, "leewheel: scenario is required (see leewheel spread --help)\n");
    return static_cast<int>(exit_bad_input);
  };
}

}  // namespace leewheel
