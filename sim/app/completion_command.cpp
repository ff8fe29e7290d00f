/// `leewheel completion`: what a shell needs to complete commands, options and choices.

#include <fmt/format.h>

#include <memory>
#include <string>

#include "app/checks.hpp"
#include "app/command_tree.hpp"
#include "app/commands.hpp"

namespace leewheel {

namespace {

constexpr const char* examples = R"(Examples:
  leewheel completion bash > ~/.local/share/bash-completion/completions/leewheel
  leewheel completion zsh  > ~/.zfunc/_leewheel      with fpath+=(~/.zfunc) before compinit
  leewheel completion fish > ~/.config/fish/completions/leewheel.fish
)";

/// Words of a command: its options, and the choices of what stands by place.
std::string words_of(const CLI::App& command) {
  std::vector<std::string> words;
  for (const CLI::Option* option : options_of(command)) {
    const auto names = spellings_of(*option);
    const auto more = names.empty() ? choices_of(*option) : names;
    words.insert(words.end(), more.begin(), more.end());
  }
  return fmt::format("{}", fmt::join(words, " "));
}

/// After "COMMAND OPTION" the choices of that option.
std::string bash_choices(const CLI::App& app) {
  std::string cases;
  for (const CLI::App* command : commands_of(app))
    for (const CLI::Option* option : options_of(*command)) {
      const auto names = spellings_of(*option), choices = choices_of(*option);
      if (choices.empty()) continue;
      for (const std::string& name : names)
        cases += fmt::format("    '{} {}') COMPREPLY=($(compgen -W '{}' -- \"$now\")); return;;\n", command->get_name(),
                             name, fmt::join(choices, " "));
    }
  return cases;
}

std::string bash(const CLI::App& app) {
  std::vector<std::string> names;
  std::string cases;
  for (const CLI::App* command : commands_of(app)) {
    names.push_back(command->get_name());
    cases += fmt::format("    {}) words='{}';;\n", command->get_name(), words_of(*command));
  }
  return fmt::format(R"sh(# bash completion for leewheel, written by `leewheel completion bash`
_leewheel() {{
  local now="${{COMP_WORDS[COMP_CWORD]}}" before="${{COMP_WORDS[COMP_CWORD-1]}}" words=''
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W '{} {}' -- "$now"))
    return
  fi
  case "${{COMP_WORDS[1]}} $before" in
{}  esac
  case "${{COMP_WORDS[1]}}" in
{}  esac
  case "$now" in
    -*) COMPREPLY=($(compgen -W "$words" -- "$now"));;
    *) COMPREPLY=($(compgen -W "$(printf '%s\n' $words | grep -v '^-')" -- "$now") $(compgen -f -- "$now"));;
  esac
}}
complete -o filenames -F _leewheel leewheel
)sh",
                     fmt::join(names, " "), words_of(app), bash_choices(app), cases);
}

/// Text inside a zsh specification in single quotes.
std::string zsh_safe(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    if (c == '\'')
      safe += "'\\''";
    else if (c == '[' || c == ']' || c == ':' || c == '\\')
      safe += std::string("\\") + c;
    else
      safe += c;
  }
  return safe;
}

std::string zsh_argument(const CLI::Option& option) {
  const auto names = spellings_of(option), choices = choices_of(option);
  const std::string value = choices.empty() ? ":value:_files" : fmt::format(":value:({})", fmt::join(choices, " "));
  if (names.empty()) return fmt::format(" '{}'", choices.empty() ? ":file:_files" : value);
  std::string text;
  for (const std::string& name : names)
    text += fmt::format(" '{}[{}]{}'", name, zsh_safe(option.get_description()), takes_value(option) ? value : "");
  return text;
}

std::string zsh(const CLI::App& app) {
  std::string names, cases;
  for (const CLI::App* command : commands_of(app)) {
    names += fmt::format("    '{}:{}'\n", command->get_name(), zsh_safe(command->get_description()));
    cases += fmt::format("    {}) _arguments", command->get_name());
    for (const CLI::Option* option : options_of(*command)) cases += zsh_argument(*option);
    cases += ";;\n";
  }
  return fmt::format(R"sh(#compdef leewheel
# zsh completion for leewheel, written by `leewheel completion zsh`
_leewheel() {{
  local -a commands=(
{}  )
  if (( CURRENT == 2 )); then
    _describe command commands
    return
  fi
  local command="$words[2]"
  shift words
  (( CURRENT-- ))
  case "$command" in
{}  esac
}}
if [ "$funcstack[1]" = _leewheel ]; then _leewheel "$@"; else compdef _leewheel leewheel; fi
)sh",
                     names, cases);
}

/// Text in single quotes.
std::string fish_safe(const std::string& text) {
  std::string safe;
  for (const char c : text) safe += c == '\'' || c == '\\' ? std::string("\\") + c : std::string(1, c);
  return safe;
}

std::string fish(const CLI::App& app) {
  std::string text = "# fish completion for leewheel, written by `leewheel completion fish`\n";
  for (const CLI::App* command : commands_of(app)) {
    text += fmt::format("complete -c leewheel -n __fish_use_subcommand -f -a {} -d '{}'\n", command->get_name(),
                        fish_safe(command->get_description()));
    for (const CLI::Option* option : options_of(*command)) {
      const auto choices = choices_of(*option);
      std::string line = fmt::format("complete -c leewheel -n '__fish_seen_subcommand_from {}'", command->get_name());
      for (const std::string& name : option->get_snames()) line += " -s " + name;
      for (const std::string& name : option->get_lnames()) line += " -l " + name;
      if (takes_value(*option) && option->nonpositional()) line += " -r";
      if (!choices.empty()) line += fmt::format(" -f -a '{}'", fmt::join(choices, " "));
      if (option->nonpositional()) line += fmt::format(" -d '{}'", fish_safe(option->get_description()));
      if (option->nonpositional() || !choices.empty()) text += line + "\n";
    }
  }
  return text;
}

}  // namespace

Command add_completion_command(CLI::App& app) {
  const auto shell = std::make_shared<std::string>();
  CLI::App* const command = app.add_subcommand("completion", "completion for bash, zsh or fish, on standard output");
  command->footer(examples);
  command->add_option("shell", *shell, "which shell")->required()->check(one_of({"bash", "zsh", "fish"}));
  return [shell, &app] {
    fmt::print("{}", *shell == "bash" ? bash(app) : *shell == "zsh" ? zsh(app) : fish(app));
    return static_cast<int>(exit_ok);
  };
}

}  // namespace leewheel
