#pragma once
/// Questions on a terminal, each with its usual answer.

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdio>
#include <iostream>
#include <optional>
#include <string>

#include "io/plain_number.hpp"

namespace leewheel {

inline std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return text;
}

inline std::string trimmed(const std::string& text) {
  const std::size_t first = text.find_first_not_of(" \t\r"), last = text.find_last_not_of(" \t\r");
  return first == std::string::npos ? std::string() : text.substr(first, last - first + 1);
}

/// Asks for as long as someone answers: an empty line, or the end of input (Ctrl-D) from there on, takes what is usual.
class Questions {
 public:
  explicit Questions(bool ask) : ask_(ask) {}

  /// `understand` makes a value of what was typed, or nothing.
  template <class Understand>
  auto answer(const std::string& question, const std::string& usual, const std::string& expected, Understand understand) {
    while (ask_) {
      fmt::print("{} [{}]: ", question, usual);
      std::fflush(stdout);
      std::string typed;
      if (!std::getline(std::cin, typed)) {
        fmt::print("\nNo more answers: the usual ones are taken from here on.\n");
        ask_ = false;
        break;
      }
      typed = trimmed(typed);
      if (typed.empty()) break;
      if (const auto value = understand(typed)) return *value;
      fmt::print("  found '{}', expected {}\n", typed, expected);
    }
    return *understand(usual);
  }

  std::string text(const std::string& question, const std::string& usual) {
    return answer(question, usual, "words", [](const std::string& typed) { return std::optional(typed); });
  }
  double number(const std::string& question, double usual, double lowest, double highest) {
    return answer(question, fmt::format("{:.3g}", usual), fmt::format("a number from {:.3g} to {:.3g}", lowest, highest),
                  [=](const std::string& typed) {
                    const std::optional<double> value = number_in(typed);
                    return value && *value >= lowest && *value <= highest ? value : std::nullopt;
                  });
  }
  int whole(const std::string& question, int usual, int lowest, int highest) {
    return answer(question, std::to_string(usual), fmt::format("a whole number from {} to {}", lowest, highest),
                  [=](const std::string& typed) {
                    const std::optional<double> value = number_in(typed);
                    const bool fits = typed.find('.') == std::string::npos && value && *value == std::floor(*value) &&
                                      *value >= lowest && *value <= highest;
                    return fits ? std::optional(static_cast<int>(*value)) : std::nullopt;
                  });
  }
  /// Capitals do not count.
  template <class Names>
  std::string one_of(const std::string& question, const std::string& usual, const Names& names) {
    return answer(question, usual, fmt::format("one of {}", fmt::join(names, ", ")), [&](const std::string& typed) {
      for (const auto& name : names)
        if (lower(std::string(name)) == lower(typed)) return std::optional(std::string(name));
      return std::optional<std::string>();
    });
  }

 private:
  bool ask_;
};

}  // namespace leewheel
