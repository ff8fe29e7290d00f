/// What tells the kinds of ride apart.

#include "riding/kind.hpp"

#include <set>

#include <catch2/catch.hpp>

using namespace leewheel;
using namespace leewheel::riding;

namespace {
using Kinds = std::set<RideKind>;
Kinds kinds_that(bool KindLaws::*column) {
  Kinds found;
  for (const KindLaws& laws : kind_laws)
    if (laws.*column) found.insert(laws.kind);
  return found;
}
}  // namespace

TEST_CASE("each kind finds its own row", "[kind]") {
  for (std::size_t k = 0; k < ride_kind_names.size(); ++k) {
    const auto kind = static_cast<RideKind>(k);
    CHECK(laws_of(kind).kind == kind);
  }
}

TEST_CASE("the pace suits all together, 85 % in a steady ride, and nobody in a free ride or a race", "[kind]") {
  const TacticsSettings t;
  CHECK(t.*laws_of(RideKind::together).pace_share == 1.0);
  CHECK(t.*laws_of(RideKind::steady).pace_share == 0.85);
  CHECK(t.*laws_of(RideKind::by_strength).pace_share == 0.85);
  CHECK(laws_of(RideKind::free).pace_share == nullptr);
  CHECK(laws_of(RideKind::race).pace_share == nullptr);
}

TEST_CASE("each law holds in these kinds of ride and in no other", "[kind]") {
  CHECK(kinds_that(&KindLaws::keeps_whole) == Kinds{RideKind::together});
  CHECK(kinds_that(&KindLaws::waits) == Kinds{RideKind::together, RideKind::steady, RideKind::by_strength});
  CHECK(kinds_that(&KindLaws::climbs_freely) == Kinds{RideKind::steady, RideKind::by_strength});
  CHECK(kinds_that(&KindLaws::own_pace) == Kinds{RideKind::free});
  CHECK(kinds_that(&KindLaws::own_way) == Kinds{RideKind::steady, RideKind::free, RideKind::race, RideKind::by_strength});
  CHECK(kinds_that(&KindLaws::spends) == Kinds{RideKind::race});
  CHECK(kinds_that(&KindLaws::fights_for_shelter) == Kinds{RideKind::race});
}
