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
  return v * (air_N + weight_N * (std::sin(slope) + 0.004 * std::cos(slope)) + 0.091 + 0.0087 * v) /
         rider.drivetrain_efficiency;
}

}  // namespace

TEST_CASE("on the level the time to the finish is the way left over the speed at critical power", "[to_finish]") {
  Scene scene(2);
  scene.riders.settings[0].critical_power_W = critical_W(scene.riders.settings[0], 11.0, 0.0);
  scene.riders.settings[1].drivetrain_efficiency = 0.95;
  scene.riders.settings[1].critical_power_W = critical_W(scene.riders.settings[1], 9.0, 0.0);
  const ToFinish to_finish(Road(profile_from_stretches({even(2050.0, 0.0)}, 100.0)), scene.riders);
  CHECK(to_finish.s(0, 0.0) == Approx(2050.0 / 11.0).epsilon(1e-6));
  CHECK(to_finish.s(0, 777.0) == Approx(1273.0 / 11.0).epsilon(1e-6));
  CHECK(to_finish.s(1, 777.0) == Approx(1273.0 / 9.0).epsilon(1e-6));
  CHECK(to_finish.s(0, 2050.0) == 0.0);
  CHECK(to_finish.s(0, 2100.0) == 0.0);
  CHECK(to_finish.s(0, -50.0) == to_finish.s(0, 0.0));
}

TEST_CASE("the same on a grade", "[to_finish]") {
  Scene scene(1);
  scene.riders.settings[0].critical_power_W = critical_W(scene.riders.settings[0], 4.0, 0.08);
  const ToFinish to_finish(Road(profile_from_stretches({even(2050.0, 0.08)}, 100.0)), scene.riders);
  CHECK(to_finish.s(0, 0.0) == Approx(2050.0 / 4.0).epsilon(1e-6));
  CHECK(to_finish.s(0, 777.0) == Approx(1273.0 / 4.0).epsilon(1e-6));
}

TEST_CASE("each piece of road counts with its own grade", "[to_finish]") {
  Scene scene(1);
  const auto over = [&](const std::vector<Stretch>& stretches) {
    return ToFinish(Road(profile_from_stretches(stretches, 100.0)), scene.riders);
  };
  const ToFinish both = over({even(1000.0, 0.0), even(1000.0, 0.08)});
  const double level_s = over({even(1000.0, 0.0)}).s(0, 0.0), slope_s = over({even(1000.0, 0.08)}).s(0, 0.0);
  CHECK(slope_s > 1.5 * level_s);
  CHECK(both.s(0, 1000.0) == Approx(slope_s).epsilon(1e-6));
  CHECK(both.s(0, 0.0) == Approx(level_s + slope_s).epsilon(1e-6));
  CHECK(both.s(0, 1100.0) == Approx(0.9 * slope_s).epsilon(1e-6));
}

TEST_CASE("where no kind of ride asks for it there is no time to the finish", "[to_finish]") {
  CHECK(ToFinish().s(0, 500.0) == 0.0);
}
