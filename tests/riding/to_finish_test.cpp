/// How long it still is to the finish.

#include "riding/to_finish.hpp"

#include <cmath>

#include "leewheel/units.hpp"
#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

Stretch even(double length_m, double grade) {
  Stretch s;
  s.length_m = length_m, s.grade = grade;
  return s;
}

/// Critical power that holds this speed on this grade, by the published equation.
double critical_W(const RiderSettings& rider, double v, double grade) {
  const double weight_N = rider.total_mass_kg() * standard_gravity_mps2, slope = std::atan(grade);
  const double air_N = 0.5 * 1.225 * rider.drag_area_hoods_m2 * v * v;
  return v * (air_N + weight_N * (std::sin(slope) + 0.004 * std::cos(slope)) + 0.091 + 0.0087 * v) / 0.976;
}

}  // namespace

TEST_CASE("on one grade the time to the finish is the way left over the speed at critical power", "[to_finish]") {
  const double v = GENERATE(4.0, 5.0), grade = GENERATE(0.0, 0.08);
  Scene scene(2);
  scene.riders.settings[0].critical_power_W = critical_W(scene.riders.settings[0], v, grade);
  scene.riders.settings[1].critical_power_W = critical_W(scene.riders.settings[1], 3.0, grade);
  const ToFinish to_finish(Road(profile_from_stretches({even(2050.0, grade)}, 100.0)), scene.riders);
  CHECK(to_finish.s(0, 0.0) == Approx(2050.0 / v).epsilon(1e-5));
  CHECK(to_finish.s(0, 777.0) == Approx(1273.0 / v).epsilon(1e-5));
  CHECK(to_finish.s(1, 777.0) == Approx(1273.0 / 3.0).epsilon(1e-5));
  CHECK(to_finish.s(0, 2050.0) == 0.0);
  CHECK(to_finish.s(0, 2100.0) == 0.0);
  CHECK(to_finish.s(0, -50.0) == to_finish.s(0, 0.0));
}

TEST_CASE("each piece of road counts with its own grade", "[to_finish]") {
  Scene scene(1);
  scene.riders.settings[0].critical_power_W = critical_W(scene.riders.settings[0], 4.0, 0.08);
  const Road both(profile_from_stretches({even(1000.0, 0.0), even(1000.0, 0.08)}, 100.0));
  const Road level(profile_from_stretches({even(1000.0, 0.0)}, 100.0));
  const ToFinish to_finish(both, scene.riders), over_level(level, scene.riders);
  CHECK(to_finish.s(0, 1000.0) == Approx(250.0).epsilon(1e-5));
  CHECK(to_finish.s(0, 0.0) == Approx(250.0 + over_level.s(0, 0.0)).epsilon(1e-5));
  CHECK(over_level.s(0, 0.0) < 150.0);
}

TEST_CASE("where no kind of ride asks for it there is no time to the finish", "[to_finish]") {
  CHECK(ToFinish().s(0, 500.0) == 0.0);
}
