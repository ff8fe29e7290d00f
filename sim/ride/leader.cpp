#include "ride/leader.hpp"

#include <vector>

namespace leewheel {

std::optional<std::size_t> leader_of(const RideView& view) {
  std::vector<std::size_t> size_of;  // by group id
  for (std::size_t i = 0; i < view.riders(); ++i) {
    if (view.group(i) == no_group) continue;
    const auto id = static_cast<std::size_t>(view.group(i));
    if (size_of.size() <= id) size_of.resize(id + 1, 0);
    ++size_of[id];
  }
  std::optional<std::size_t> best;
  std::size_t largest = 0;
  for (std::size_t i = 0; i < view.riders(); ++i) {
    if (!view.on_road(i) || view.role(i) == Role::waiting) continue;
    const std::size_t size = view.group(i) == no_group ? 1 : size_of[static_cast<std::size_t>(view.group(i))];
    if (size > largest || (size == largest && view.distance_m(i) > view.distance_m(*best))) best = i, largest = size;
  }
  return best;
}

}  // namespace leewheel
