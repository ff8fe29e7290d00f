#include "app/command_line.hpp"

#include <fmt/format.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <sstream>
#include <string_view>
#include <vector>

#include "app/command_tree.hpp"
#include "app/commands.hpp"
#include "io/fault_words.hpp"

namespace leewheel {

namespace {

constexpr std::size_t narrowest = 40, usual_columns = 80, names_columns = 26;

/// Lines of at most so many columns, broken at blanks.
std::string wrapped(const std::string& text, std::size_t columns) {
  std::istringstream words(text);
  std::string lines;
  std::size_t used = 0;
  for (std::string word; words >> word;) {
    const bool fits = used + 1 + word.size() <= columns;
    if (used > 0) lines += fits ? ' ' : '\n';
    used = used > 0 && fits ? used + 1 + word.size() : word.size();
    lines += word;
  }
  return lines;
}

int refused(const std::string& what, const std::string& command) {
  fmt::print(stderr, "leewheel: {} (see leewheel {})\n", what, command.empty() ? "help" : "help " + command);
  return exit_bad_input;
}

std::vector<std::string> names_of(const std::vector<const CLI::App*>& commands) {
  std::vector<std::string> names;
  for (const CLI::App* command : commands) names.push_back(command->get_name());
  return names;
}

/// What stands where no option and no value is expected.
std::string not_expected(const CLI::App& command, const std::vector<std::string>& rest) {
  const auto option = std::find_if(rest.begin(), rest.end(), [](const std::string& text) { return text.starts_with("-"); });
  if (option == rest.end()) return fmt::format("found '{}' besides what {} takes", shown(rest.front()), command.get_name());
  const std::string name = option->substr(0, option->find('='));
  std::vector<std::string> known;
  for (const CLI::Option* each : options_of(command))
    for (const std::string& spelling : spellings_of(*each)) known.push_back(spelling);
  const std::string nearest = name.starts_with("--") ? nearest_name(name, known) : "";
  return fmt::format("unknown option '{}'{}", shown(name), nearest.empty() ? "" : "; did you mean " + nearest + "?");
}

/// Nothing, or something that is no command, stands where one is expected.
int no_command(const CLI::App& app, int argc, const char* const* argv) {
  const std::string first = argc > 1 ? argv[1] : "";
  if (!first.empty() && first.front() != '-') return unknown_command(app, first);
  const std::string found =
      first.empty() ? "a command is missing" : fmt::format("found '{}' before a command", shown(first));
  return refused(fmt::format("{}, expected leewheel COMMAND{}, such as leewheel ride my.yaml{}", found,
                             first.empty() ? "" : " " + shown(first), first == "--json" ? " --json" : ""),
                 "");
}

}  // namespace

std::size_t terminal_columns() {
  winsize size{};
  const bool known = ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
  return std::max<std::size_t>(known ? size.ws_col : usual_columns, narrowest);
}

HelpFormat::HelpFormat() {
  column_width(names_columns);
  label("Subcommands", "Commands");
  label("Positionals", "Arguments");
}

std::string HelpFormat::make_usage(const CLI::App* app, std::string name) const {
  std::string text = "Usage: " + name;
  if (!commands_of(*app).empty()) return text + " COMMAND [options]\n";
  for (const CLI::Option* option : options_of(*app))
    if (spellings_of(*option).empty()) text += " " + make_option_usage(option);
  return text + " [options]\n";
}

std::string HelpFormat::make_option_opts(const CLI::Option* option) const {
  return takes_value(*option) && option->nonpositional() ? " " + value_word(*option) : "";
}

std::string HelpFormat::make_option_desc(const CLI::Option* option) const {
  return wrapped(described(*option), terminal_columns() - std::min(names_columns, terminal_columns() / 2));
}

std::string HelpFormat::make_subcommand(const CLI::App* command) const {
  std::ostringstream out;
  CLI::detail::format_help(out, command->get_name(), wrapped(command->get_description(), terminal_columns() - 14), 14);
  return out.str();
}

std::string HelpFormat::make_description(const CLI::App* app) const {
  return wrapped(app->get_description(), terminal_columns()) + "\n";
}

int unknown_command(const CLI::App& app, const std::string& name) {
  const std::vector<std::string> names = names_of(commands_of(app));
  const std::string nearest = nearest_name(name, names);
  return refused(fmt::format("unknown command '{}'{}", shown(name),
                             nearest.empty() ? fmt::format(", expected one of {}", fmt::join(names, ", "))
                                             : "; did you mean " + nearest + "?"),
                 "");
}

int arguments_refused(const CLI::App& app, const CLI::ParseError& error, int argc, const char* const* argv) {
  if (error.get_exit_code() == static_cast<int>(CLI::ExitCodes::Success)) return app.exit(error);
  const auto asked = app.get_subcommands();
  if (asked.empty()) return no_command(app, argc, argv);
  const CLI::App& command = *asked.front();
  const std::string what = error.what();
  if (error.get_exit_code() == static_cast<int>(CLI::ExitCodes::ExtrasError))
    return refused(not_expected(command, app.remaining(true)), command.get_name());
  if (error.get_exit_code() == static_cast<int>(CLI::ExitCodes::ArgumentMismatch))
    return refused(what.substr(0, what.find(':')) + ": found nothing, expected a value", command.get_name());
  return refused(what, command.get_name());
}

}  // namespace leewheel
