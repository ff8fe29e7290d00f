#pragma once
/// Numbers in JSON: rounded to what means something, null instead of NaN.

#include <cmath>
#include <nlohmann/json.hpp>

#include "leewheel/units.hpp"

namespace leewheel {

inline nlohmann::ordered_json json_number(double value, int decimals) {
  return std::isfinite(value) ? nlohmann::ordered_json(rounded(value, decimals)) : nlohmann::ordered_json(nullptr);
}

}  // namespace leewheel
