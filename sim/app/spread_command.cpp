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
#include "app/progress.hpp"
#include "io/atomic_file.hpp"
#include "io/csv.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/ensemble.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

/// Against the step of a single ride the mean arrival moves by 0.05 % at most (docs/spread.md), days by ten per cent.
constexpr double many_runs_step_s = 0.25;

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
constexpr int runs_layout = 1;

// --- runs kept in a file ---------------------------------------------------------------------------------------

struct Kept {
  std::uint64_t digest, seed;
  std::vector<RunOutcome> runs;
};

std::string text_of(const Kept& kept) {
  Json out{{"leewheel_spread_runs", runs_layout},
           {"program", LEEWHEEL_VERSION},
           {"scenario_digest", fmt::format("{:016x}", kept.digest)},
           {"seed", kept.seed},
           {"runs", Json::array()}};
  for (std::size_t n = 0; n < kept.runs.size(); ++n) {
    const RunOutcome& run = kept.runs[n];
    if (!run.done) continue;
    Json riders = Json::array();
    for (const RiderOutcome& r : run.riders)
      riders.push_back({r.finished ? 1 : 0, r.time_s, r.wbal_end_J, r.saved_J, r.drops, r.dropped_at_m});
    out["runs"].push_back(
        {{"n", n}, {"riders", std::move(riders)}, {"whole", run.whole_share}, {"largest", run.largest_share}});
  }
  return out.dump() + "\n";
}

[[noreturn]] void refuse(const std::string& path, const std::string& what) { throw InputFault(Fault{path, 0, 0, "", what}); }

RunOutcome run_of(const Json& one) {
  RunOutcome run;
  for (const Json& r : one.at("riders"))
    run.riders.push_back({r.at(0).get<int>() != 0, r.at(1).get<double>(), r.at(2).get<double>(), r.at(3).get<double>(),
                          r.at(4).get<std::int32_t>(), r.at(5).get<double>()});
  run.whole_share = one.at("whole").get<std::vector<double>>();
  run.largest_share = one.at("largest").get<std::vector<double>>();
  run.done = true;
  return run;
}

/// Puts the runs of an earlier time where they belong. Runs beyond the number asked for are left out.
void take_up(const std::string& path, Kept& kept, std::size_t riders, std::size_t stretches) {
  constexpr std::size_t most_bytes = 1u << 30;
  try {
    const Json file = Json::parse(read_whole_file(path, most_bytes));
    if (file.at("leewheel_spread_runs").get<int>() != runs_layout)
      refuse(path, "found runs of another layout, expected those of this program");
    if (file.at("program").get<std::string>() != LEEWHEEL_VERSION)
      refuse(path,
             fmt::format("found runs of version {}, expected {}", file.at("program").get<std::string>(), LEEWHEEL_VERSION));
    if (file.at("scenario_digest").get<std::string>() != fmt::format("{:016x}", kept.digest))
      refuse(path, "found runs of another scenario, or of this one before it was changed (the step counts too)");
    if (file.at("seed").get<std::uint64_t>() != kept.seed)
      refuse(path, fmt::format("found runs of seed {}, expected {}", file.at("seed").get<std::uint64_t>(), kept.seed));
    for (const Json& one : file.at("runs")) {
      const auto n = one.at("n").get<std::size_t>();
      RunOutcome run = run_of(one);
      if (run.riders.size() != riders || run.whole_share.size() != stretches || run.largest_share.size() != stretches)
        refuse(path, "found a run with other riders or stretches, expected the scenario's");
      if (n < kept.runs.size()) kept.runs[n] = std::move(run);
    }
  } catch (const Json::exception&) {
    refuse(path, "found no runs of leewheel spread, expected the file that it wrote");
  }
}

// --- the answer ------------------------------------------------------------------------------------------------

/// What an input is called in the table of shares, the others' strength included.
std::string_view told_name(std::size_t k) {
  if (k < all_inputs) return input_names[k];
  return k == all_inputs ? "the others' critical power" : "the others' drag area, W' and mass";
}

std::string arrivals(const SpreadAnswer& answer) {
  std::string text = fmt::format("{:<14} {:>8} {:>8} {:>8} {:>8} {:>8} {:>9} {:>9} {:>9}   {}\n", "at the top", "5 %",
                                 "25 %", "middle", "75 %", "95 %", "finished", "dropped", "times", "mostly (first drop)");
  for (const RiderSpread& r : answer.riders) {
    const auto most =
        std::max_element(r.dropped_by_stretch.begin(), r.dropped_by_stretch.end()) - r.dropped_by_stretch.begin();
    const RoadStretch& where = answer.stretches[static_cast<std::size_t>(most)].where;
    const auto at = [&](double Percentiles::*p) { return r.time_s ? clock_text((*r.time_s).*p) : std::string("-"); };
    text +=
        fmt::format("{:<14} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8.0f}% {:>8.0f}% {:>9.1f}   {}\n", r.name, at(&Percentiles::p5),
                    at(&Percentiles::p25), at(&Percentiles::p50), at(&Percentiles::p75), at(&Percentiles::p95),
                    100.0 * static_cast<double>(r.finished) / static_cast<double>(answer.runs), 100.0 * r.dropped_share,
                    r.drops_a_run, r.dropped_share > 0.0 ? fmt::format("{} to {}", where.from, where.to) : "");
  }
  return text;
}

std::string groups(const SpreadAnswer& answer, const ShownUnits& units) {
  std::string text = fmt::format("{:<44} {:>14} {:>26}\n", "the group", "holds together", "of the field in the largest");
  for (const StretchSpread& s : answer.stretches)
    text += fmt::format("{:<44} {:>13.0f}% {:>25.0f}%\n",
                        fmt::format("{} to {} ({} {:.1f} to {:.1f})", s.where.from, s.where.to, units.way_name(),
                                    units.way(s.where.from_m), units.way(s.where.to_m)),
                        100.0 * s.whole_probability, 100.0 * s.largest_share);
  return text;
}

/// Inputs by their share, the mean over riders.
std::string matters(const SpreadAnswer& answer) {
  std::vector<const RiderSpread*> told;
  for (const RiderSpread& r : answer.riders)
    if (r.shares) told.push_back(&r);
  if (told.empty())
    return fmt::format("Which input matters most: not shown with fewer than {} finished runs.\n",
                       least_runs_for_shares(answer.riders.size()));
  std::vector<double> mean(told_inputs + 1, 0.0);
  for (const RiderSpread* r : told) {
    for (std::size_t k = 0; k < told_inputs; ++k) mean[k] += r->shares->share[k] / static_cast<double>(told.size());
    mean.back() += r->shares->rest / static_cast<double>(told.size());
  }
  std::vector<std::size_t> order;
  for (std::size_t k = 0; k < told_inputs; ++k) order.push_back(k);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return mean[a] > mean[b]; });
  std::string text = fmt::format("{:<34} {:>5}", "share of the variance at the top", "mean");
  for (const RiderSpread* r : told) text += fmt::format(" {:>8.8}", r->name);
  text += "\n";
  const auto row = [&](std::string_view name, double all, auto of) {
    text += fmt::format("{:<34} {:>4.0f}%", name, rounded(100.0 * all, 0));
    for (const RiderSpread* r : told) text += fmt::format(" {:>7.0f}%", rounded(100.0 * of(*r->shares), 0));
    text += "\n";
  };
  for (const std::size_t k : order) row(told_name(k), mean[k], [k](const VarianceShares& s) { return s.share[k]; });
  row("joint effects, curvature, chance", mean.back(), [](const VarianceShares& s) { return s.rest; });
  return text;
}

std::string in_words(const Scenario& scenario, const SpreadAnswer& answer, const ShownUnits& units) {
  return fmt::format("{}: {} runs, each with its own wind, fitness and coefficients (step {:g} s)\n\n", scenario.title,
                     answer.runs, scenario.ride.step_s) +
         arrivals(answer) + "\n" + groups(answer, units) + "\n" + matters(answer) +
         fmt::format(
             "\nHolds together: all riders in one group for {:.0f} % of the time until the first is through. Shares: "
             "squared standardised\n"
             "regression coefficients (Saltelli et al. 2008, Global Sensitivity Analysis: The Primer); the spreads of the "
             "inputs stand in\n"
             "`leewheel spread --inputs` and may be set in the scenario's `uncertainty:`.\n\n",
             100.0 * whole_from) +
         planning_cautions;
}

Json json_of(const Scenario& scenario, std::uint64_t seed, const SpreadAnswer& answer) {
  Json out{{"title", scenario.title},        {"runs", answer.runs},      {"seed", seed},
           {"step_s", scenario.ride.step_s}, {"inputs", Json::object()}, {"riders", Json::array()},
           {"stretches", Json::array()}};
  for (const auto& field : uncertainty_fields()) out["inputs"][field.name] = scenario.uncertainty.*field.member;
  for (const RiderSpread& r : answer.riders) {
    Json one{{"name", r.name},
             {"finished_share", rounded(static_cast<double>(r.finished) / static_cast<double>(answer.runs), 4)}};
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
        one["variance"].push_back({{"input", told_name(k)}, {"share", rounded(r.shares->share[k], 4)}});
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
bool ride_on(const Scenario& scenario, const Options& options, const std::string& path, Kept& kept) {
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

int run(const Options& options) {
  Scenario scenario = asked_scenario(options.scenario_path);
  scenario.ride.step_s = options.step_s.value_or(std::max(scenario.ride.step_s, many_runs_step_s));
  Kept kept{scenario_digest(scenario), options.seed.value_or(scenario.ride.seed), std::vector<RunOutcome>(options.runs)};
  if (!options.resume.empty()) take_up(options.resume, kept, scenario.riders.size(), stretches_of(scenario.road).size());
  const std::string folder = options.folder.empty() ? usual_folder(options.scenario_path) : options.folder;
  make_output_folder(folder);
  const std::string path = options.resume.empty() ? folder + "/" + runs_file : options.resume;
  if (!ride_on(scenario, options, path, kept)) {
    const auto done = std::count_if(kept.runs.begin(), kept.runs.end(), [](const RunOutcome& r) { return r.done; });
    fmt::print(stderr, "leewheel: stopped after {} of {} runs; go on with --resume {}\n", done, kept.runs.size(), path);
    return exit_stopped;
  }
  const SpreadAnswer answer = summarise(scenario, kept.seed, kept.runs);
  const std::string json = json_of(scenario, kept.seed, answer).dump(2) + "\n";
  write_whole_file(folder + "/spread.json", json);
  write_whole_file(folder + "/spread.csv", runs_csv(scenario, kept.runs));
  if (options.quiet) return exit_ok;
  if (options.json)
    fmt::print("{}", json);
  else
    fmt::print("{}\nWritten to {}: spread.json, spread.csv; the runs themselves to {}\n",
               in_words(scenario, answer, options.units), folder, path);
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
  auto* const scenario = command->add_option("scenario", options->scenario_path, "scenario file (YAML)");
  command->add_option("--runs", options->runs, "days to ride")->check(whole_within(1, 1000000))->capture_default_str();
  command->add_option("--threads", options->threads, "threads; their number does not change the results")
      ->check(whole_within(1, 1024));
  command->add_option("--seed", options->seed, "seed of the days, instead of the scenario's")->check(a_seed());
  command
      ->add_option("--step", options->step_s,
                   fmt::format("time step in seconds [the scenario's, at least {:g}: see docs/spread.md]", many_runs_step_s))
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
