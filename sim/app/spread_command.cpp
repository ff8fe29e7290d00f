/// `leewheel spread`: the same plan over many days.

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <optional>
#include <thread>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/spread_results.hpp"
#include "app/spread_runs.hpp"
#include "app/spread_words.hpp"
#include "commit.hpp"
#include "io/atomic_file.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/ensemble.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string scenario_path, out, resume, part;
  std::vector<std::string> join;
  bool json = false, quiet = false;
  ShownUnits units;
  std::optional<std::size_t> runs;
  std::optional<std::uint64_t> seed;
  std::optional<double> step_s;
  std::size_t threads = std::max(1u, std::thread::hardware_concurrency());
};

constexpr const char* examples = R"(Examples:
  leewheel spread scenarios/larkmoor/scenario.yaml
  leewheel spread scenarios/larkmoor/scenario.yaml --resume out/larkmoor/spread_runs.ndjson --runs 3000   after a stop, or for more
  leewheel spread scenarios/larkmoor/scenario.yaml --runs 20000 --part 3/8      on the third of eight machines
  leewheel spread scenarios/larkmoor/scenario.yaml --join out/larkmoor/spread_runs_*_of_8.ndjson

Exit codes: 0 done, 2 bad input or arguments, 3 stopped before the end (go on with --resume, or the same --part) or runs are missing.
)";

constexpr std::size_t usual_runs = 1000;

/// The ride of `leewheel ride`, at its own step.
void add_expected_day(const Scenario& scenario, SpreadAnswer& answer) {
  const RideResult result = ride_to_end(scenario, {.notes_debts = false});
  for (std::size_t i = 0; i < answer.riders.size(); ++i)
    if (result.riders[i].finished) answer.riders[i].expected_s = result.riders[i].finish_time_s;
}

struct Asked {
  Scenario as_it_stands, scenario;  ///< the second at the step of many days
  KeptRuns kept;
  std::size_t stretches;
};

Asked asked_of(const Options& options) {
  const Scenario as_it_stands = asked_scenario(options.scenario_path);
  Asked asked{as_it_stands, as_it_stands, {}, stretches_of(as_it_stands.road).size()};
  RideSettings& ride = asked.scenario.ride;
  ride.step_s = options.step_s.value_or(std::max(ride.step_s, many_days_step_s));
  asked.kept.program = LEEWHEEL_VERSION LEEWHEEL_COMMIT;
  asked.kept.digest = scenario_digest(asked.scenario);
  asked.kept.seed = options.seed.value_or(ride.seed);
  if (!options.part.empty()) asked.kept.part = RunsPart::from(options.part);
  return asked;
}

/// How many runs: those asked for, else as many as what is taken up was begun for.
void set_runs(const Options& options, std::size_t taken_up, KeptRuns& kept) {
  kept.asked = options.runs.value_or(taken_up > 0 ? taken_up : usual_runs);
  kept.runs.resize(std::max(kept.runs.size(), kept.asked));
}

/// -o may name the file itself.
std::string runs_path(const Options& options, const RunsPart& part) {
  namespace fs = std::filesystem;
  std::string folder = options.out.empty() ? usual_folder(options.scenario_path) : options.out;
  const bool is_file = !options.part.empty() && fs::path(folder).extension() == ".ndjson";
  const std::string path = is_file ? folder : folder + "/" + runs_file_name(part);
  if (is_file) folder = fs::absolute(folder).parent_path().string();
  make_output_folder(folder);
  return path;
}

int tell_answer(const Options& options, const Asked& asked, const std::string& runs) {
  SpreadAnswer answer = summarise(asked.scenario, asked.kept.seed, asked.kept.runs);
  if (answer.runs == 0) {
    fmt::print(stderr, "leewheel: every run failed; there is nothing to tell\n");
    return exit_stopped;
  }
  add_expected_day(asked.as_it_stands, answer);
  const std::string folder = options.out.empty() ? usual_folder(options.scenario_path) : options.out;
  const std::string json = spread_json(asked.scenario, asked.kept.seed, answer);
  write_whole_files(
      {{folder + "/spread.json", json}, {folder + "/spread.csv", spread_csv(asked.scenario, asked.kept.runs)}});
  if (options.json && !options.quiet)
    fmt::print("{}", json);
  else if (!options.quiet)
    fmt::print("{}\nWritten to {}: spread.json, spread.csv; the runs themselves to {}\n",
               spread_words(asked.scenario, answer, options.units), folder, runs);
  return answer.missing.empty() ? exit_ok : exit_stopped;
}

int join(const Options& options, Asked& asked) {
  KeptRuns& kept = asked.kept;
  RunsHead most;
  std::vector<std::size_t> parts;
  for (const std::string& file : options.join) {
    const RunsHead head = take_up(file, kept, asked.scenario.riders.size(), asked.stretches);
    most.asked = std::max(most.asked, head.asked);
    parts.push_back(head.part.of);
  }
  set_runs(options, most.asked, kept);
  const std::string path = runs_path(options, kept.part);
  write_whole_file(path, text_of(kept));
  kept.runs.resize(kept.asked);
  const bool alike = std::all_of(parts.begin(), parts.end(), [&](std::size_t of) { return of == parts.front(); });
  const std::vector<std::size_t> missing = not_ridden(kept);
  if (missing.empty()) return tell_answer(options, asked, path);
  fmt::print(stderr, "leewheel: {}; ride them with --resume {}\n",
             missing_words(missing, kept.asked, alike ? parts.front() : 1), path);
  return exit_stopped;
}

int ride(const Options& options, Asked& asked) {
  KeptRuns& kept = asked.kept;
  const std::string path = options.resume.empty() ? runs_path(options, kept.part) : options.resume;
  if (!options.resume.empty()) make_output_folder(options.out.empty() ? usual_folder(options.scenario_path) : options.out);
  const bool goes_on = !options.resume.empty() || (!options.part.empty() && std::filesystem::exists(path));
  RunsFile file(path, goes_on ? RunsFile::Opened::to_go_on : RunsFile::Opened::anew);
  RunsHead before;
  if (goes_on) before = take_up(path, kept, asked.scenario.riders.size(), asked.stretches);
  set_runs(options, before.asked, kept);
  if (!ride_runs(asked.scenario, kept, file, options.threads, !options.quiet)) {
    const std::size_t left = not_ridden(kept).size(), all = runs_of(kept.part, kept.asked);
    fmt::print(stderr, "leewheel: stopped after {} of {} runs; go on with {}\n", all - left, all,
               options.part.empty() ? "--resume " + path : "the same command");
    return exit_stopped;
  }
  kept.runs.resize(kept.asked);
  if (options.part.empty()) return tell_answer(options, asked, path);
  const std::size_t failed = failed_runs(kept);
  if (!options.quiet)
    fmt::print("Part {} of {} runs: {} ridden, in {}; --join takes the parts up\n", kept.part.text(), kept.asked,
               runs_of(kept.part, kept.asked) - failed, path);
  return failed == 0 ? exit_ok : exit_stopped;
}

int run(const Options& options) {
  Asked asked = asked_of(options);
  return options.join.empty() ? ride(options, asked) : join(options, asked);
}

int print_inputs() {
  const Uncertainty usual;
  fmt::print("{:<27} {:>7}  {:<62} {}\n", "uncertainty:", "spread", "one standard deviation of", "source");
  for (const auto& field : uncertainty_fields())
    fmt::print("  {:<25} {:>7g}  {:<62} {}\n", field.name, usual.*field.member, field.meaning, field.source);
  return exit_ok;
}

CLI::Validator a_part() {
  return {[](std::string& text) {
            if (RunsPart::from(text).of > 0) return std::string();
            return fmt::format("found {}, expected K/N with K from 1 to N, as in 3/8", text);
          },
          ""};
}

/// One go, a later go, a part of it, or the parts together.
void add_ways(CLI::App& command, Options& options) {
  auto* const resume = command.add_option("--resume", options.resume, "file of runs to resume; it is updated");
  auto* const part = command
                         .add_option("--part", options.part,
                                     "ride the share K/N of the days into a file of runs of its own; goes on with it")
                         ->check(a_part());
  auto* const join =
      command.add_option("--join", options.join, "files of runs, of parts or others: their result as of one go");
  resume->excludes(part)->excludes(join);
  part->excludes(join);
}

}  // namespace

Command add_spread_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  const auto inputs = std::make_shared<bool>(false);
  CLI::App* const command =
      app.add_subcommand("spread", "ride the same plan on many days with other wind, fitness and coefficients");
  command->footer(examples);
  auto* const scenario = add_scenario(*command, options->scenario_path);
  command->add_option("--runs", options->runs, "days to ride [1000, or as many as the runs taken up were begun for]")
      ->check(whole_within(1, most_runs));
  command->add_option("--threads", options->threads, "threads; their number does not change the results")
      ->check(whole_within(1, 1024));
  command->add_option("--seed", options->seed, "seed of the days, instead of the scenario's")->check(a_seed());
  command
      ->add_option("--step", options->step_s,
                   fmt::format("time step in seconds [the scenario's, at least {:g}: see docs/spread.md]", many_days_step_s))
      ->check(number_within(0.02, 1.0));
  add_ways(*command, *options);
  command->add_option("-o,--out", options->out,
                      "folder for the results, of a part also its file of runs (.ndjson) [out/<folder of the scenario>]");
  command->add_flag("--inputs", *inputs, "print the inputs with their default spreads and sources; ride nothing");
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print spread.json instead of words")->excludes("--part")->excludes("--inputs");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  return [options, inputs, scenario] {
    if (*inputs) return print_inputs();
    if (scenario->count() > 0) return run(*options);
    fmt::print(stderr, "leewheel: scenario is required (see leewheel spread --help)\n");
    return static_cast<int>(exit_bad_input);
  };
}

}  // namespace leewheel
