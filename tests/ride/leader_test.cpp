#include "ride/leader.hpp"

#include <catch2/catch.hpp>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

struct Someone {
  float distance_m, group;
  Role role = Role::following;
};
constexpr float alone_id = no_group;

std::optional<std::size_t> leader(const std::vector<Someone>& riders) {
  static const Ride ride(scenes::scene(scenes::flat_road(1000.0), {scenes::plain_rider("Una")}));
  RideSample now;
  for (const Someone& r : riders) {
    now.distance_m.push_back(r.distance_m);
    now.group_id.push_back(r.group);
    now.role.push_back(static_cast<float>(r.role));
  }
  return leader_of({ride, now, true});
}

}  // namespace

TEST_CASE("the largest group leads, whoever is ahead of it", "[leader]") {
  CHECK(leader({{500, alone_id}, {300, 1}, {310, 1}, {305, 1}, {400, 0}, {405, 0}}) == 2u);
}

TEST_CASE("of groups as large the one further up the road leads, in any order of the file", "[leader]") {
  CHECK(leader({{300, 0}, {305, 0}, {400, 1}, {405, 1}}) == 3u);
  CHECK(leader({{400, 1}, {405, 1}, {300, 0}, {305, 0}}) == 1u);
}

TEST_CASE("side by side the first of the scenario leads", "[leader]") {
  CHECK(leader({{300, 0}, {310, 0}, {310, 0}}) == 1u);
}

TEST_CASE("where all are alone the first on the road leads", "[leader]") {
  CHECK(leader({{100, alone_id}, {300, alone_id}, {200, alone_id}}) == 1u);
}

TEST_CASE("who stands waiting leads nothing, and counts in the size of the group", "[leader]") {
  CHECK(leader({{500, 0, Role::waiting}, {290, 0}, {300, 1}, {305, 1}}) == 3u);  // as large, and its first who rides
  CHECK(leader({{500, 0, Role::waiting}, {490, 0, Role::waiting}, {485, 0}, {300, 1}, {600, 1}}) == 2u);
}

TEST_CASE("who has finished leads nothing; nobody leads when all wait or have finished", "[leader]") {
  CHECK(leader({{1000, alone_id, Role::finished}, {300, alone_id}}) == 1u);
  CHECK(leader({{1000, alone_id, Role::finished}, {300, 0, Role::waiting}}) == std::nullopt);
}
