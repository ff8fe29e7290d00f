#pragma once
/// Rides and what-ifs as the compact JSON inside the page that replays them. Columns are base64 of little-endian arrays, riders
/// side by side within a sample; docs/page.md describes them.

#include <string>
#include <utility>
#include <vector>

#include "leewheel/what_ifs.hpp"

namespace leewheel {

struct Caption {
  double time_s;
  std::string words;
};
/// `captions`: by wind, then company. '<' is escaped, so that the text can stand inside a script element.
std::string what_if_json(const Scenario& scenario, const WhatIfs& rides,
                         const std::array<std::array<std::vector<Caption>, company_cases>, wind_cases.size()>& captions);

}  // namespace leewheel
