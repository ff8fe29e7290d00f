#pragma once
/// Numbers in JSON: rounded to what means something, whole where they have no decimals, null instead of NaN.

#include <cmath>
#include <nlohmann/json.hpp>

#include "leewheel/units.hpp"

namespace leewheel {

inline nlohmann::ordered_json json_number(double value, int decimals) {
  if (!std::isfinite(value)) return nullptr;
  constexpr double whole_below = 9e15;  // above it a double holds no fractions, and an integer might not hold it
  if (decimals <= 0 && std::abs(value) < whole_below) return std::llround(rounded(value, decimals));
  return rounded(value, decimals);
}

}  // namespace leewheel
