/// `leewheel page`: the ride as one HTML file to send.

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <memory>
#include <thread>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "io/atomic_file.hpp"
#include "io/scenario_reader.hpp"
#include "io/what_if_json.hpp"
#include "pages/ride_page.hpp"
#include "words/event_sentence.hpp"

namespace leewheel {

namespace {

/// Samples times riders of all rides: about 1.3 MB on the page.
constexpr std::size_t most_values = 72'000;

struct Options {
  std::string scenario_path, output;
  std::optional<std::uint64_t> seed;
  bool quiet = false;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

constexpr const char* examples = R"(Example:
  leewheel page scenarios/larkmoor/scenario.yaml -o larkmoor.html

The page needs no other file and no network. It holds nine rides: no wind, wind as forecast and half more, each with everyone
alone, in company as planned, and in the opposite order.
)";

/// What changes groups, and who is home. Turns would bury the rest.
std::vector<Caption> captions_of(const Scenario& scenario, const RecordedRide& ride) {
  const NameOf name = rider_names(scenario);
  std::vector<Caption> captions;
  for (const Event& event : ride.events)
    if (const EventClass kind = event_class(event.kind); kind == EventClass::group || kind == EventClass::finish)
      captions.push_back({event.time_s, event_sentence(event, name)});
  return captions;
}

int run(const Options& options) {
  Scenario scenario = asked_scenario(options.scenario_path);
  if (options.seed) scenario.ride.seed = *options.seed;
  scenario = surveyed(with_named_waits(std::move(scenario)));
  const std::string path = options.output.empty() ? usual_folder(options.scenario_path) + "/ride.html" : options.output;
  if (options.output.empty()) make_output_folder(usual_folder(options.scenario_path));
  const StopAsked stop;
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  const WhatIfs rides = ride_what_ifs(scenario, most_values, [] { return !StopAsked::yes(); });
  if (StopAsked::yes()) {
    fmt::print(stderr, "leewheel: stopped; nothing was written\n");
    return exit_stopped;
  }
  std::array<std::array<std::vector<Caption>, company_cases>, wind_cases.size()> captions;
  for (std::size_t wind = 0; wind < wind_cases.size(); ++wind)
    for (std::size_t company = 0; company < company_cases; ++company)
      captions[wind][company] = captions_of(scenario, rides.rides[wind][company]);
  const std::string page = ride_page_html(scenario, rides, what_if_json(scenario, rides, captions));
  write_whole_file(path, page);
  if (!options.quiet)
    fmt::print("Written to {}: {}, {} rides, a moment every {:g} s, {:.1f} MB\n", path,
               counted(scenario.riders.size(), "rider"), wind_cases.size() * company_cases, rides.interval_s,
               static_cast<double>(page.size()) / 1e6);
  return exit_ok;
}

}  // namespace

Command add_page_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("page", "the ride as one HTML file to send: replay, and what-ifs to switch between");
  command->footer(examples);
  command->add_option("scenario", options->scenario_path, "scenario file (YAML)")->required();
  command->add_option("-o,--out", options->output, "file for the page (HTML) [out/<folder of the scenario>/ride.html]");
  command->add_option("--seed", options->seed, "seed of the random numbers, instead of the scenario's")->check(a_seed());
  command->add_option("--threads", options->threads, "threads; their number does not change the page")
      ->check(whole_within(1, 1024));
  command->add_flag("--quiet", options->quiet, "print nothing; the page is still written");
  return [options] { return run(*options); };
}

}  // namespace leewheel
