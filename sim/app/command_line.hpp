#pragma once
/// The command line as a whole: its help for people, and one line for what is wrong with it.

#include <CLI/CLI.hpp>
#include <string>

namespace leewheel {

/// Help in the width of the terminal, with words for values instead of names of types.
class HelpFormat : public CLI::Formatter {
 public:
  HelpFormat();
  std::string make_usage(const CLI::App* app, std::string name) const override;
  std::string make_option_opts(const CLI::Option* option) const override;
  std::string make_option_desc(const CLI::Option* option) const override;
  std::string make_subcommand(const CLI::App* command) const override;
  std::string make_description(const CLI::App* app) const override;
};

/// Columns of the terminal that standard output goes to, 80 without one; at least 40.
std::size_t terminal_columns();

/// Says which command was meant, on standard error. Gives the exit code.
int unknown_command(const CLI::App& app, const std::string& name);

/// Says in one line what is wrong with the arguments; asking for help or the version is no trouble. Gives the exit code.
int arguments_refused(const CLI::App& app, const CLI::ParseError& error, int argc, const char* const* argv);

}  // namespace leewheel
