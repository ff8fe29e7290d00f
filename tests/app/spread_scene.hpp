#pragma once
/// A hill small enough for many runs of `leewheel spread`.

#include <string>

#include "app/support.hpp"

namespace app_test {

inline constexpr const char* small_hill = R"(title: A small hill
road:
  start_elevation_m: 100
  stretches:
    - {name: flat, length_m: 800, grade_percent: 1, heading_deg: 0, exposure: open_slope}
    - {name: wood, length_m: 600, grade_percent: 14, exposure: wood}
  landmarks: [{name: Foot, at_m: 800}]
wind: {forecast: [{time_min: 0, speed_mps: 5, from_deg: 0}]}
riders:
  - {name: Ada}
  - {name: Ben, critical_power_W: 230}
  - {name: Cas}
)";

inline Answer spread(const Folder& folder, const std::string& more) {
  return leewheel(folder, "spread small.yaml --seed 3 " + more);
}

inline bool same_files(const Folder& folder, const std::string& one, const std::string& other,
                       std::initializer_list<const char*> names = {"spread.json", "spread.csv", "spread_runs.ndjson"}) {
  for (const char* name : names) {
    const std::string text = text_of(folder / (one + "/" + name));
    if (text.empty() || text != text_of(folder / (other + "/" + name))) return false;
  }
  return true;
}

inline std::string line_of(const std::string& text, std::size_t number) {
  std::istringstream lines(text);
  std::string line;
  for (std::size_t k = 0; k <= number; ++k) std::getline(lines, line);
  return line;
}

inline std::string with(std::string text, const std::string& old, const std::string& now) {
  return text.replace(text.find(old), old.size(), now);
}

}  // namespace app_test
