/// The table of the numbers of behaviour.

#include <cstring>
#include <set>
#include <string>

#include <catch2/catch.hpp>

#include "leewheel/tactics.hpp"

using namespace leewheel;

TEST_CASE("every number of behaviour has a name of its own, a default inside its range, a meaning and a source",
          "[fields]") {
  const TacticsSettings settings;
  std::set<std::string> names;
  for (const auto& f : tactics_fields()) {
    INFO(f.name);
    CHECK(names.insert(f.name).second);
    CHECK(settings.*f.member <= f.highest);
    CHECK((f.lowest_excluded ? settings.*f.member > f.lowest : settings.*f.member >= f.lowest));
    CHECK(std::strlen(f.meaning) > 0);
    CHECK(std::strlen(f.source) > 0);
  }
  CHECK(names.size() == sizeof(TacticsSettings) / sizeof(double));  // nothing but doubles: none is left out
}
