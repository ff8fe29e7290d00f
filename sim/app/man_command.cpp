/// `leewheel man`: manual pages from the same tree that the parser uses.

#include <fmt/format.h>

#include <memory>
#include <string>

#include "app/command_tree.hpp"
#include "app/commands.hpp"
#include "io/atomic_file.hpp"

namespace leewheel {

namespace {

constexpr const char* examples = R"(Example:
  leewheel man -o man && man -l man/leewheel-ride.1
)";

/// A dash is a minus, a backslash itself, and no line begins a request.
std::string roff(const std::string& text) {
  std::string safe;
  bool line_begins = true;
  for (const char c : text) {
    if (line_begins && (c == '.' || c == '\'')) safe += "\\&";
    if (c == '\\')
      safe += "\\e";
    else if (c == '-')
      safe += "\\-";
    else
      safe += c;
    line_begins = c == '\n';
  }
  return safe;
}

std::string heading(const std::string& name, const std::string& about) {
  return fmt::format(".TH {} 1 \"\" \"leewheel {}\" \"leewheel\"\n.SH NAME\n{} \\- {}\n", roff(name), LEEWHEEL_VERSION,
                     roff(name), roff(about));
}

/// A footer as it stands: examples and exit codes.
std::string as_it_stands(const std::string& footer) {
  return footer.empty() ? "" : fmt::format(".SH EXAMPLES AND EXIT CODES\n.nf\n{}\n.fi\n", roff(footer));
}

std::string options_text(const CLI::App& command) {
  std::string text = ".SH OPTIONS\n";
  for (const CLI::Option* option : options_of(command)) {
    const auto names = spellings_of(*option);
    const std::string value = takes_value(*option) ? " " + value_word(*option) : "";
    const std::string name = names.empty() ? option->get_name() : fmt::format("{}{}", fmt::join(names, ", "), value);
    text += fmt::format(".TP\n.B {}\n{}\n", roff(name), roff(described(*option)));
  }
  return text;
}

std::string synopsis(const CLI::App& command) {
  std::string text = fmt::format(".SH SYNOPSIS\n.B leewheel {}\n", roff(command.get_name()));
  for (const CLI::Option* option : options_of(command))
    if (spellings_of(*option).empty())
      text += fmt::format("{}\n", roff(option->get_required() ? option->get_name() : "[" + option->get_name() + "]"));
  return text + "[options]\n";
}

std::string command_page(const CLI::App& command) {
  return heading("leewheel-" + command.get_name(), command.get_description()) + synopsis(command) + options_text(command) +
         as_it_stands(command.get_footer()) + ".SH SEE ALSO\n.BR leewheel (1)\n";
}

std::string main_page(const CLI::App& app) {
  std::string text =
      heading("leewheel", app.get_description()) + ".SH SYNOPSIS\n.B leewheel\ncommand [options]\n.SH COMMANDS\n";
  for (const CLI::App* command : commands_of(app))
    text += fmt::format(".TP\n.BR leewheel\\-{} (1)\n{}\n", roff(command->get_name()), roff(command->get_description()));
  return text + options_text(app) + as_it_stands(app.get_footer());
}

}  // namespace

Command add_man_command(CLI::App& app) {
  const auto folder = std::make_shared<std::string>();
  CLI::App* const command =
      app.add_subcommand("man", "manual pages: the main one on standard output, or all of them into a folder");
  command->footer(examples);
  command->add_option("-o,--out", *folder, "folder for leewheel.1 and a page for each command");
  return [folder, &app] {
    if (folder->empty()) {
      fmt::print("{}", main_page(app));
      return static_cast<int>(exit_ok);
    }
    make_output_folder(*folder);
    std::vector<std::pair<std::string, std::string>> pages{{*folder + "/leewheel.1", main_page(app)}};
    for (const CLI::App* each : commands_of(app))
      pages.emplace_back(fmt::format("{}/leewheel-{}.1", *folder, each->get_name()), command_page(*each));
    write_whole_files(pages);
    return static_cast<int>(exit_ok);
  };
}

}  // namespace leewheel
