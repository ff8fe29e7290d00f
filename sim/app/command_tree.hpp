#pragma once
/// The commands and options as the parser knows them, for completion and manual pages: these can never tell of an option
/// that is not there.

#include <CLI/CLI.hpp>
#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

namespace leewheel {

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

}  // namespace leewheel
