#pragma once
/// Groups as they stand on the road: how far apart, and where they are too near each other for the whole road's scale.

#include <optional>
#include <string>
#include <vector>

#include "viz/view/view.hpp"

namespace leewheel::view {

std::string size_words(const GroupView& group, const View& view);  ///< "group 2, 5 riders", "Fenn, alone"
/// "group 2, 3 riders: Dirk, Elin, Fenn"; of many the first six.
std::string members_words(const GroupView& group, const View& view);
const GroupView* group_of(const View& view, std::uint32_t rider);  ///< nullptr: home

/// From the last rear wheel of the group ahead to the first front wheel of the one behind; not below 0.
double gap_between_m(const GroupView& ahead, const GroupView& behind);

/// The other groups from the nearest on: "group 1, 4 riders: 120 m ahead". Of more than `most` a side the last line counts the rest.
struct OtherGroups {
  std::vector<std::string> ahead, behind;
};
OtherGroups other_groups(const View& view, std::uint32_t rider, Units units, std::size_t most);

struct CrowdedStretch {
  double from_m, to_m;
};
/// From the last to the first rider, with a little more, of groups whose middles are less than `bead_m` apart from one to the next. Of
/// several such stretches the one with that rider, else the one with most groups, the first on the road. Nothing when all stand apart.
std::optional<CrowdedStretch> crowded_stretch(const View& view, double bead_m, std::uint32_t rider);

}  // namespace leewheel::view
