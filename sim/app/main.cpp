/// The program: parses the command line, runs the command asked for, and turns trouble into an exit code.

#include <fmt/format.h>

#include <utility>

#include "app/commands.hpp"
#include "io/fault.hpp"

namespace {

using namespace leewheel;

constexpr const char* examples = R"(Examples:
  leewheel new my-climb.gpx -o mine                       a commented scenario to start from
  leewheel check mine/scenario.yaml                       what is odd before anything is run
  leewheel ride scenarios/larkmoor/scenario.yaml          ride it, print the summary, write to out/larkmoor
  leewheel lineup mine/scenario.yaml -o planned.yaml      order, pulls and regroup points for the group
  leewheel sheet planned.yaml -o sheet.html               the plan as a page for the phone and for paper

Exit codes: 0 done, 1 the answer is no, 2 bad input or arguments, 3 stopped before the end.
)";

/// Trouble with the arguments is one clear line; asking for help or the version is no trouble.
int arguments_refused(const CLI::App& app, const CLI::ParseError& error) {
  if (error.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success)) return app.exit(error);
  const auto asked = app.get_subcommands();
  fmt::print(stderr, "leewheel: {} (see leewheel {}--help)\n", error.what(),
             asked.empty() ? "" : asked.front()->get_name() + " ");
  return exit_bad_input;
}

int run_command(const Command& command) {
  try {
    return command();
  } catch (const InputFault& faults) {
    for (const Fault& fault : faults.faults()) fmt::print(stderr, "{}\n", fault.text());
    return exit_bad_input;
  } catch (const std::exception& error) {
    fmt::print(stderr, "leewheel: stopped: {}\n", error.what());
    return exit_stopped;
  }
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("leewheel: what drafting saves on a climb, and how to order and pace a group", "leewheel");
  app.set_version_flag("--version", "leewheel " LEEWHEEL_VERSION);
  app.footer(examples);
  app.require_subcommand(1);

  std::vector<std::pair<CLI::App*, Command>> commands;
  for (const auto add : {add_new_command, add_road_command, add_wind_command, add_club_command, add_check_command,
                         add_ride_command, add_shelter_command, add_weigh_command, add_notes_command, add_pace_command,
                         add_lineup_command, add_spread_command, add_sheet_command, add_page_command, add_debrief_command,
                         add_fields_command, add_evidence_command, add_completion_command, add_man_command}) {
    Command command = add(app);
    commands.emplace_back(app.get_subcommands({}).back(), std::move(command));
  }

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return arguments_refused(app, error);
  }
  for (const auto& [subcommand, command] : commands)
    if (subcommand->parsed()) return run_command(command);
  return exit_bad_input;
}
