#pragma once
/// Numbers in JSON: rounded to what means something, whole where they have no decimals, null instead of NaN.

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

#include "leewheel/units.hpp"

namespace leewheel {

inline nlohmann::ordered_json json_number(double value, int decimals) {
  if (!std::isfinite(value)) return nullptr;
  constexpr double whole_below = 9e15;  // above it a double holds no fractions, and an integer might not hold it
  if (decimals <= 0 && std::abs(value) < whole_below) return std::llround(rounded(value, decimals));
  return rounded(value, decimals);
}

/// As text. Whatever bytes a name may hold, it ends with text: what is not UTF-8 becomes U+FFFD. `indent` -1: all in one line.
inline std::string json_text(const nlohmann::ordered_json& json, int indent = 2) {
  return json.dump(indent, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

}  // namespace leewheel
