/// `leewheel check`: what is odd before anything is run.

#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/oddities.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "io/scenario_reader.hpp"
#include "words/strength_words.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string scenario_path;
  bool json = false, quiet = false;
  ShownUnits units;
};

constexpr const char* examples = R"(Example:
  leewheel check scenarios/larkmoor/scenario.yaml

Exit codes: 0 nothing odd, 1 something is, 2 bad input or arguments.
)";

void print(const std::vector<Oddity>& list, const std::vector<std::string>& remarks) {
  for (const Oddity& odd : list)
    fmt::print("{}: {}\n    why     {}\n    change  {}\n", odd.where, odd.what, odd.why, odd.change);
  for (const std::string& remark : remarks) fmt::print("known less well: {}\n", remark);
  if (list.empty())
    fmt::print("Nothing odd. That is no promise: the program does not know the road, the riders or the traffic.\n");
  else
    fmt::print("{} odd; what is odd may still be meant.\n",
               list.size() == 1 ? std::string("1 thing is") : fmt::format("{} things are", list.size()));
}

std::string json_of(const std::vector<Oddity>& list, const std::vector<std::string>& remarks) {
  nlohmann::ordered_json out{
      {"layout_version", json_layout::check}, {"odd", nlohmann::ordered_json::array()}, {"known_less_well", remarks}};
  for (const Oddity& odd : list)
    out["odd"].push_back({{"where", odd.where}, {"what", odd.what}, {"why", odd.why}, {"change", odd.change}});
  return json_text(out);
}

int run(const Options& options) {
  const Scenario scenario = asked_scenario(options.scenario_path);
  const std::vector<Oddity> list = oddities(scenario, options.json ? ShownUnits{} : options.units);
  const std::vector<std::string> remarks = strength_remarks(scenario);
  if (!options.quiet && options.json) fmt::print("{}\n", json_of(list, remarks));
  if (!options.quiet && !options.json) print(list, remarks);
  return list.empty() ? exit_ok : exit_answer_no;
}

}  // namespace

Command add_check_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("check", "what looks wrong in a scenario before it is ridden, why, and what to change");
  command->footer(examples);
  add_scenario(*command, options->scenario_path)->required();
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print as JSON");
  command->add_flag("--quiet", options->quiet, "print nothing; the exit code gives the answer");
  return [options] { return run(*options); };
}

}  // namespace leewheel
