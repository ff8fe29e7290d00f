#include "evidence/kinds.hpp"

#include <algorithm>

namespace leewheel::evidence {

std::span<const Kind> kinds() {
  static const std::vector<Kind> all = [] {
    std::vector<Kind> kinds;
    for (const auto part : {power_kinds, motion_kinds, air_kinds, wind_kinds, wake_kinds, strength_kinds, group_kinds,
                            group_ride_kinds, company_kinds, setting_kinds}) {
      const std::vector<Kind> some = part();
      kinds.insert(kinds.end(), some.begin(), some.end());
    }
    return kinds;
  }();
  return all;
}

const Kind* kind_named(std::string_view name) {
  const auto all = kinds();
  const auto found = std::find_if(all.begin(), all.end(), [&](const Kind& kind) { return kind.name == name; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace leewheel::evidence
