/// How far groups are apart, who is told of, and which stretch is magnified.

#include "viz/view/groups_apart.hpp"

#include <catch2/catch.hpp>

using namespace leewheel::view;

namespace {

/// Groups from the first on; riders are named A, B, ... in that order.
View riding(const std::vector<std::pair<GroupView, std::size_t>>& groups) {
  View view;
  for (auto [group, riders] : groups) {
    for (std::size_t k = 0; k < riders; ++k) {
      group.riders.push_back(static_cast<std::uint32_t>(view.riders.size()));
      RiderView rider;
      rider.name = std::string(1, static_cast<char>('A' + view.riders.size()));
      view.riders.push_back(rider);
    }
    view.groups.push_back(group);
  }
  return view;
}

GroupView group(std::int32_t id, double first_m, double last_m) {
  GroupView g;
  g.id = id, g.first_m = first_m, g.last_m = last_m;
  return g;
}

/// A to D, E and F alone 100 m and 106 m behind, G to O 3 km further back.
View four() {
  return riding(
      {{group(1, 5000, 4990), 4}, {group(-1, 4890, 4888), 1}, {group(-1, 4884, 4882), 1}, {group(2, 1900, 1880), 9}});
}

}  // namespace

TEST_CASE("groups are told with size and gap, from the nearest on", "[groups_apart]") {
  const View view = four();
  const OtherGroups of_e = other_groups(view, 4, Units::metric, 3);
  CHECK(of_e.ahead == std::vector<std::string>{"group 1, 4 riders: 100 m ahead"});
  CHECK(of_e.behind == std::vector<std::string>{"F, alone: 4 m behind", "group 2, 9 riders: 2.99 km behind"});
  CHECK(other_groups(view, 6, Units::metric, 3).ahead ==
        std::vector<std::string>{"F, alone: 2.98 km ahead", "E, alone: 2.99 km ahead", "group 1, 4 riders: 3.09 km ahead"});
  CHECK(other_groups(view, 6, Units::metric, 2).ahead ==
        std::vector<std::string>{"F, alone: 2.98 km ahead", "2 more, up to 3.09 km ahead"});
  CHECK(other_groups(view, 4, Units::imperial, 1).behind == std::vector<std::string>{"2 more, up to 1.86 mi behind"});
  CHECK(members_words(view.groups[0], view) == "group 1, 4 riders: A, B, C, D");
  CHECK(members_words(view.groups[3], view) == "group 2, 9 riders: G, H, I, J, K, L and 3 more");
  CHECK(members_words(view.groups[1], view) == "E, alone");
}

TEST_CASE("who is home has no groups beside", "[groups_apart]") {
  View view = four();
  view.groups.erase(view.groups.begin());
  CHECK(group_of(view, 0) == nullptr);
  CHECK(other_groups(view, 0, Units::metric, 3).behind.empty());
}

TEST_CASE("the stretch with the chosen rider is magnified, else the one with most groups", "[groups_apart]") {
  const View view = four();
  const auto stretch = crowded_stretch(view, 150.0, 0);  // middles at 4995, 4889, 4883 and 1890 m
  REQUIRE(stretch.has_value());
  CHECK(stretch->from_m == Approx(4882 - 0.06 * 118));
  CHECK(stretch->to_m == Approx(5000 + 0.06 * 118));
  const auto narrow = crowded_stretch(view, 50.0, 0);  // only E and F touch
  REQUIRE(narrow.has_value());
  CHECK(narrow->from_m == 4882 - 3.0);
  CHECK(narrow->to_m == 4890 + 3.0);
  CHECK_FALSE(crowded_stretch(view, 6.0, 0).has_value());

  const View two = riding({{group(1, 900, 890), 2},
                           {group(2, 880, 870), 2},
                           {group(3, 860, 850), 2},
                           {group(4, 300, 290), 2},
                           {group(5, 280, 270), 2}});
  CHECK(crowded_stretch(two, 30.0, 8)->to_m == 303.0);
  CHECK(crowded_stretch(two, 30.0, 0)->from_m == 850 - 3.0);
  CHECK(crowded_stretch(two, 30.0, 99)->from_m == 850 - 3.0);
}
