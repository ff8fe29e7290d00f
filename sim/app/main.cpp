/// The program: parses the command line, runs the command asked for, and turns trouble into an exit code.

#include <fmt/format.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>
#include <string_view>
#include <utility>

#include "app/asking.hpp"
#include "app/command_line.hpp"
#include "app/commands.hpp"
#include "commit.hpp"
#include "io/atomic_file.hpp"
#include "io/fault.hpp"

namespace {

using namespace leewheel;

constexpr const char* examples = R"(Examples:
  leewheel new my-climb.gpx -o mine                       a commented scenario to start from
  leewheel check mine/scenario.yaml                       what is odd before anything is run
  leewheel ride scenarios/larkmoor/scenario.yaml          ride it, print the summary, write to out/larkmoor
  leewheel lineup mine/scenario.yaml -o planned.yaml      order, pulls and regroup points for the group
  leewheel sheet planned.yaml -o sheet.html               the plan as a page for the phone and for paper

leewheel help COMMAND tells the options of a command.

Exit codes: 0 done, 1 the answer is no, 2 bad input or arguments, 3 stopped before the end.
)";

constexpr const char* exit_codes = "Exit codes: 0 done, 2 bad input or arguments, 3 stopped before the end.\n";

/// Every help ends with examples and exit codes.
void end_help_with_exit_codes(CLI::App& command) {
  std::string footer = command.get_footer();
  if (footer.find("Exit codes:") != std::string::npos) return;
  if (!footer.ends_with('\n')) footer += '\n';
  command.footer(footer + "\n" + exit_codes);
}

/// Ctrl-C or SIGTERM, where no command asks for it between two steps: nothing is half done but what is being written, and that
/// becomes whole.
void stop_at_once(int) {
  if (Writing::now()) return;
  constexpr std::string_view told = "leewheel: stopped\n";
  static_cast<void>(!write(STDERR_FILENO, told.data(), told.size()));
  _exit(exit_stopped);
}

/// What was printed may wait in memory until here.
int printed(int code) {
  if (std::fflush(stdout) == 0 && std::ferror(stdout) == 0) return code;
  fmt::print(stderr, "leewheel: standard output cannot be written; is the disk full?\n");
  return exit_stopped;
}

int run_command(const Command& command) {
  std::signal(SIGINT, stop_at_once);
  std::signal(SIGTERM, stop_at_once);
  try {
    return printed(command());
  } catch (const WriteFault& fault) {
    print_all(fault.faults());
    return exit_stopped;
  } catch (const InputFault& faults) {
    print_all(faults.faults());
    return exit_bad_input;
  } catch (const std::exception& error) {  // of the machine: no room, no memory
    fmt::print(stderr, "leewheel: stopped: {}\n", error.what());
    return exit_stopped;
  }
}

}  // namespace

int main(int argc, char** argv) {
  CLI::App app("leewheel: what drafting saves on a climb, and how to order and pace a group", "leewheel");
  app.set_help_flag("-h,--help", "print this help");
  app.formatter(std::make_shared<HelpFormat>());
  app.set_version_flag("-V,--version", "leewheel " LEEWHEEL_VERSION LEEWHEEL_COMMIT, "print version and commit");
  app.footer(examples);
  app.require_subcommand(1);

  std::vector<std::pair<CLI::App*, Command>> commands;
  for (const auto add :
       {add_new_command,    add_road_command,     add_wind_command,       add_club_command,  add_check_command,
        add_ride_command,   add_shelter_command,  add_weigh_command,      add_notes_command, add_pace_command,
        add_lineup_command, add_spread_command,   add_sheet_command,      add_page_command,  add_debrief_command,
        add_fields_command, add_evidence_command, add_completion_command, add_man_command,   add_help_command}) {
    Command command = add(app);
    commands.emplace_back(app.get_subcommands({}).back(), std::move(command));
    end_help_with_exit_codes(*commands.back().first);
  }

  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return arguments_refused(app, error, argc, argv);
  }
  for (const auto& [subcommand, command] : commands)
    if (subcommand->parsed()) return run_command(command);
  return exit_bad_input;
}
