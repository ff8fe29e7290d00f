#include "words/effort_words.hpp"

#include <catch2/catch.hpp>

#include "support/scenes.hpp"

using namespace leewheel;

TEST_CASE("efforts that change are told with their places, and those that do not are not told", "[words]") {
  Scenario s = scenes::scene(scenes::with_landmarks(scenes::flat_road(3000.0), {1000.0}), scenes::club(2));
  const std::string mark = s.road.landmarks().front().name;
  s.riders[1].critical_power_W = 200.0;
  s.plans = {{}, {{0.0, 0.9}, {1010.0, 0.75}, {2300.0, 0.9}}};
  CHECK(effort_changes_text(s, 0, {}).empty());
  CHECK(effort_changes_text(s, 1, {}) ==
        "75 % of critical power (150 W); 90 % (180 W) from the start to " + mark + " and from km 2.3 to the finish");
  s.plans[1][2].effort = 0.8;
  CHECK(effort_changes_text(s, 1, {}) ==
        "90 % of critical power (180 W); from " + mark + " 75 % (150 W); from km 2.3 80 % (160 W)");
  s.plans[1][2].effort = 0.9;
  CHECK(harder_text(s, {}).empty());  // the first has no plan
  CHECK(lean_text(0.1, s, {}) == "up to 10 % harder from the start to " + mark +
                                     " and from km 2.3 to the finish, easier elsewhere, the same on average");
  s.plans.front() = s.plans.back();
  CHECK(harder_text(s, {}) ==
        "harder from the start to " + mark + " and from km 2.3 to the finish, easier elsewhere; watts on each card");
  s.plans = {};
  CHECK(lean_text(0.1, s, {}) == "as usual: no steep part is long enough to ride it harder");
}
