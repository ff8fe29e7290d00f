#pragma once
/// The commands and options as the parser knows them, for completion and manual pages: these can never tell of an option
/// that is not there.

#include <CLI/CLI.hpp>
#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

namespace leewheel {

/// Former names of options are read and told nowhere.
inline std::vector<const CLI::Option*> options_of(const CLI::App& command) {
  return command.get_options([](const CLI::Option* option) { return !option->get_group().empty(); });
}

inline std::vector<const CLI::App*> commands_of(const CLI::App& app) {
  const auto list = app.get_subcommands([](const CLI::App*) { return true; });
  return {list.begin(), list.end()};
}

/// "-o", "--out"; empty for one given by place.
inline std::vector<std::string> spellings_of(const CLI::Option& option) {
  std::vector<std::string> names;
  for (const std::string& name : option.get_snames()) names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) names.push_back("--" + name);
  return names;
}

inline bool takes_value(const CLI::Option& option) { return option.get_items_expected_max() > 0; }

/// The words of a choice such as {a,b,c}; empty when anything goes.
inline std::vector<std::string> choices_of(const CLI::Option& option) {
  const std::string type = option.get_type_name();
  const std::size_t open = type.find('{'), close = type.find('}', open == std::string::npos ? 0 : open);
  if (open == std::string::npos || close == std::string::npos) return {};
  std::vector<std::string> choices;
  std::istringstream list(type.substr(open + 1, close - open - 1));
  for (std::string choice; std::getline(list, choice, ',');) choices.push_back(choice);
  return choices;
}

/// What a value is, in a word for people: "NUMBER", "N", "TEXT"; the choices themselves where they are few.
inline std::string value_word(const CLI::Option& option) {
  const std::string type = option.get_type_name().substr(0, option.get_type_name().find(':'));
  std::string choices;
  for (const std::string& choice : choices_of(option)) choices += (choices.empty() ? "" : "|") + choice;
  if (!choices.empty() && choices.size() <= 24) return choices;
  return type == "FLOAT" ? "NUMBER" : type == "UINT" || type == "INT" ? "N" : "TEXT";
}

/// Its meaning, what is allowed and what is taken without it: "days to ride, 1 to 1000000 [1000]".
inline std::string described(const CLI::Option& option) {
  std::string text = option.get_description(), allowed, usual;
  const std::string type = option.get_type_name();
  if (const std::size_t colon = type.find(':'); colon != std::string::npos) allowed = type.substr(colon + 1);
  if (!allowed.empty() && allowed.front() == '{') {
    allowed.clear();
    const std::string word = value_word(option);
    for (const std::string& choice : choices_of(option))
      if (word == "TEXT") allowed += (allowed.empty() ? "" : ", ") + choice;
  }
  if (!option.get_default_str().empty() && takes_value(option)) usual = " [" + option.get_default_str() + "]";
  if (!allowed.empty()) {  // what is taken without it stays last
    const std::size_t bracket = text.find(" [");
    text.insert(bracket == std::string::npos ? text.size() : bracket, ", " + allowed);
  }
  return text + usual + (option.get_required() && option.nonpositional() ? " (must be given)" : "");
}

}  // namespace leewheel
