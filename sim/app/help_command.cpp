/// `leewheel help`: the same words as --help.

#include <fmt/format.h>

#include <memory>
#include <string>

#include "app/command_line.hpp"
#include "app/command_tree.hpp"
#include "app/commands.hpp"

namespace leewheel {

namespace {

constexpr const char* examples = R"(Example:
  leewheel help ride
)";

}  // namespace

Command add_help_command(CLI::App& app) {
  const auto name = std::make_shared<std::string>();
  CLI::App* const command = app.add_subcommand("help", "what there is to ask, or how to use one command");
  command->footer(examples);
  command->add_option("command", *name, "one command");
  return [name, &app] {
    const auto print_help = [](const CLI::App& about, const std::string& typed) {
      fmt::print("{}", about.get_formatter()->make_help(&about, typed, CLI::AppFormatMode::Normal));
      return static_cast<int>(exit_ok);
    };
    if (name->empty()) return print_help(app, "leewheel");
    for (const CLI::App* each : commands_of(app))
      if (each->get_name() == *name) return print_help(*each, "leewheel " + *name);
    return unknown_command(app, *name);
  };
}

}  // namespace leewheel
