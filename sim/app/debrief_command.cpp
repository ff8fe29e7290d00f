/// `leewheel debrief`: after the ride.

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <span>
#include <thread>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/debrief_asked.hpp"
#include "io/atomic_file.hpp"
#include "io/debrief_files.hpp"
#include "io/learned_file.hpp"
#include "pages/debrief_page.hpp"
#include "words/debrief_words.hpp"

namespace leewheel {

namespace {

struct Options {
  DebriefAsked asked;
  std::string output;
  bool json = false, quiet = false, heart_rate = false;
  ShownUnits units;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

constexpr const char* examples = R"(Examples:
  leewheel debrief sunday.yaml --recorded Ada=ada.gpx --recorded Ben=ben.csv -o sunday
  leewheel debrief sunday.yaml --recorded Ada=ada.gpx --alone ada.gpx --all-out "Ada:Chapel-Shelf gate" -o sunday
  leewheel debrief --recorded Ada=ada.gpx -o sunday              no plan: the road is made from the recording

Writes debrief.html, debrief.json, debrief_stretches.csv, learned.yaml and ridden.h5 into the folder. The replay shows the last
beside the plan: leewheel-view out/sunday/trace.h5 --ghost sunday/ridden.h5

Exit codes: 0 done, 2 bad input or arguments.
)";

constexpr const char* file_names[] = {"debrief.html", "debrief.json", "debrief_stretches.csv", "learned.yaml", "ridden.h5"};

void keep_what_was_read(const Options& options, const std::string& folder) {
  std::error_code error;
  for (const std::string& file : files_read(options.asked))
    for (const char* name : file_names)
      if (std::filesystem::equivalent(file, folder + "/" + name, error))
        throw InputFault(
            Fault{file, 0, 0, "--out",
                  "found a folder in which this file, which is read, would be overwritten, expected another folder"});
}

void write_together(const std::string& folder, std::span<const std::string> contents, TraceWriter& ridden) {
  WholeFiles files;
  for (std::size_t k = 0; k < contents.size(); ++k) files.add(folder + "/" + file_names[k], contents[k]);
  files.appear();
  ridden.appear();
}

int run(const Options& options) {
  std::vector<std::string> remarks;
  const DebriefInput input = read_debrief_input(options.asked, remarks);
  for (const std::string& remark : remarks) fmt::print(stderr, "leewheel: {}\n", remark);
  const std::string folder = !options.output.empty()               ? options.output
                             : options.asked.scenario_path.empty() ? "out/debrief"
                                                                   : usual_folder(options.asked.scenario_path) + "/debrief";
  keep_what_was_read(options, folder);
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  const Debrief told = debrief(input);
  refuse_other_day(input, told);
  refuse_effort(input, told);
  make_output_folder(folder);
  const Debriefed debriefed{input, told, options.units, options.heart_rate};
  const std::string json = debrief_json(input, told, options.heart_rate);
  const std::string contents[] = {debrief_html(debriefed), json, debrief_stretches_csv(input, told),
                                  learned_yaml(input, told)};
  const Writing writing;
  write_together(folder, contents,
                 *ridden_trace(folder + "/ridden.h5", input, told,
                               options.asked.scenario_path.empty() ? "" : read_text(options.asked.scenario_path)));
  if (options.quiet) return exit_ok;
  if (options.json)
    fmt::print("{}", json);
  else
    fmt::print("{}\nWritten to {}: {}\n", debrief_text(debriefed), folder, fmt::join(file_names, ", "));
  return exit_ok;
}

}  // namespace

Command add_debrief_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command = app.add_subcommand(
      "debrief", "after the ride: recordings beside the plan, where the time went, what the ride tells of the numbers");
  command->footer(examples);
  add_scenario(*command, options->asked.scenario_path, "; without it the road is the recorded one");
  command
      ->add_option("--recorded", options->asked.recorded, "rider and recording, NAME=FILE (GPX or CSV); once for each rider")
      ->required()
      ->allow_extra_args(false);
  command
      ->add_option("--alone", options->asked.alone,
                   "a recording, by file or rider, that was ridden without any company, recorded or not")
      ->allow_extra_args(false);
  command
      ->add_option("--all-out", options->asked.all_out,
                   "an effort that was all-out, NAME:FROM-TO by landmarks, metres or times of the ride")
      ->allow_extra_args(false);
  command->add_option("-o,--out", options->output, "folder for the files [out/<folder of the scenario>/debrief]");
  command->add_flag("--heart-rate", options->heart_rate, "tell how the heart rate rose, where it was recorded");
  add_imperial_flag(*command, options->units);
  command->add_option("--threads", options->threads, "threads; their number does not change the answer")
      ->check(whole_within(1, 1024));
  command->add_flag("--json", options->json, "print debrief.json instead of text");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  return [options] { return run(*options); };
}

}  // namespace leewheel
