#pragma once
/// Checks of arguments, each with one line for what is wrong: "found 5, expected a number from 0.02 to 1".

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "io/fault_words.hpp"
#include "io/plain_number.hpp"

namespace leewheel {

/// Ranges that also refuse NaN, which compares with nothing.
inline CLI::Validator number_within(double lowest, double highest) {
  return {[=](std::string& text) {
            const std::optional<double> value = number_in(text);
            if (value && *value >= lowest && *value <= highest) return std::string();
            return fmt::format("found {}, expected a number from {:g} to {:g}", text, lowest, highest);
          },
          fmt::format("{:g} to {:g}", lowest, highest)};
}

/// Without it a minus sign would wrap around to a huge number.
inline CLI::Validator whole_within(unsigned long long lowest, unsigned long long highest) {
  return {[=](std::string& text) {
            const bool digits =
                !text.empty() && text.size() < 20 && text.find_first_not_of("0123456789") == std::string::npos;
            const unsigned long long value = digits ? std::stoull(text) : 0;
            if (digits && value >= lowest && value <= highest) return std::string();
            return fmt::format("found {}, expected a whole number from {} to {}", text, lowest, highest);
          },
          fmt::format("{} to {}", lowest, highest)};
}
constexpr unsigned long long largest_seed = 9'000'000'000'000'000'000ULL;
inline CLI::Validator a_seed() { return {whole_within(0, largest_seed).description("")}; }

template <class Names>
std::vector<std::string> words_of(const Names& names) {
  return {std::begin(names), std::end(names)};
}

/// The description {a,b,c} tells help, completion and manual pages of the choices.
inline CLI::Validator one_of(const std::vector<std::string>& names) {
  return {[names](std::string& text) {
            if (std::find(names.begin(), names.end(), text) != names.end()) return std::string();
            const std::string nearest = nearest_name(text, names);
            return fmt::format("found {}, expected one of {}{}", text, fmt::join(names, ", "),
                               nearest.empty() ? "" : "; did you mean " + nearest + "?");
          },
          fmt::format("{{{}}}", fmt::join(names, ","))};
}

/// Capitals do not count: the text becomes the name as it stands in the list.
inline CLI::Validator one_of_any_case(const std::vector<std::string>& names) {
  const CLI::Validator exact = one_of(names);
  return {[names, exact](std::string& text) {
            for (const std::string& name : names)
              if (CLI::detail::to_lower(name) == CLI::detail::to_lower(text)) text = name;
            return exact(text);
          },
          exact.get_description()};
}

/// A folder that holds scenario.yaml stands for that file; "-" is standard input.
inline CLI::Validator a_scenario() {
  return {[](std::string& path) {
            const std::filesystem::path inside = std::filesystem::path(path) / "scenario.yaml";
            std::error_code error;
            if (std::filesystem::is_regular_file(inside, error)) path = inside.lexically_normal().string();
            return std::string();
          },
          ""};
}
inline CLI::Option* add_scenario(CLI::App& command, std::string& path, const std::string& more = "") {
  return command.add_option("scenario", path, "scenario file (YAML), its folder, or - for standard input" + more)
      ->transform(a_scenario());
}

/// An option's former name: read as before, told nowhere.
template <class Value>
void add_former_name(CLI::App& command, const std::string& name, Value& value) {
  command.add_option(name, value)->group("");
}

}  // namespace leewheel
