#pragma once
/// The commands, one file each. A command registers itself with the parser; main.cpp runs the one that was asked for.

#include <CLI/CLI.hpp>
#include <functional>

namespace leewheel {

/// Exit codes of the program, told in docs/commands.md.
enum ExitCode : int { exit_ok = 0, exit_answer_no = 1, exit_bad_input = 2, exit_stopped = 3 };

/// Registers a command; the returned function does the work after parsing and gives the exit code.
using Command = std::function<int()>;
Command add_check_command(CLI::App& app);
Command add_club_command(CLI::App& app);
Command add_completion_command(CLI::App& app);
Command add_debrief_command(CLI::App& app);
Command add_evidence_command(CLI::App& app);
Command add_fields_command(CLI::App& app);
Command add_help_command(CLI::App& app);
Command add_lineup_command(CLI::App& app);
Command add_man_command(CLI::App& app);
Command add_new_command(CLI::App& app);
Command add_notes_command(CLI::App& app);
Command add_page_command(CLI::App& app);
Command add_pace_command(CLI::App& app);
Command add_ride_command(CLI::App& app);
Command add_road_command(CLI::App& app);
Command add_sheet_command(CLI::App& app);
Command add_shelter_command(CLI::App& app);
Command add_spread_command(CLI::App& app);
Command add_weigh_command(CLI::App& app);
Command add_wind_command(CLI::App& app);

}  // namespace leewheel
