/// The tables of the numbers of groups and of a ride.

#include <cstring>
#include <set>
#include <string>

#include <catch2/catch.hpp>

#include "leewheel/scenario.hpp"

using namespace leewheel;

namespace {

template <class Settings>
void check_fields(std::span<const NumberField<Settings>> fields) {
  const Settings settings;
  std::set<std::string> names;
  for (const auto& f : fields) {
    INFO(f.name);
    CHECK(names.insert(f.name).second);
    CHECK(settings.*f.member <= f.highest);
    CHECK((f.lowest_excluded ? settings.*f.member > f.lowest : settings.*f.member >= f.lowest));
    CHECK(std::strlen(f.meaning) > 0);
    CHECK(std::strlen(f.source) > 0);
  }
}

}  // namespace

TEST_CASE("every number of groups and of the ride has a name of its own, a default inside its range, a meaning and a source",
          "[fields]") {
  check_fields(group_fields());
  check_fields(ride_fields());
  CHECK(group_fields().size() == sizeof(GroupSettings) / sizeof(double));
}
