#pragma once
/// What a wheel is worth to one rider, over grade, wind, speed, power and gap: the case, its words, its pictures.

#include <algorithm>
#include <array>
#include <optional>
#include <string>

#include "leewheel/uncertainty.hpp"
#include "leewheel/wheel_worth.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

inline constexpr std::array grades{0.0, 0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0.08, 0.10, 0.12};
inline constexpr std::array headwinds_mps{-3.0, 0.0, 2.0, 4.0, 6.0};

/// The rider asked about, and the road and air.
struct WheelCase {
  RiderSettings rider;
  WakeLaw wake_law;
  double wake_spread = Uncertainty{}.wake_scale;
  double power_W = 0.0;
  WheelPlace place;
  std::string air;
  ShownUnits units;

  WheelWorth at(double grade, double headwind_mps) const {
    return wheel_worth_at_power(rider, placed(grade, headwind_mps), wake_law, power_W);
  }
  WheelPlace placed(double grade, double headwind_mps) const {
    WheelPlace p = place;
    p.grade = grade;
    p.headwind_mps = headwind_mps;
    return p;
  }
  WakeLaw deeper(double by) const {
    WakeLaw other = wake_law;
    double& scale = wake_base(other).wake_scale;
    scale = std::max(0.0, scale + by);
    return other;
  }
};

/// Grade from which the wheel no longer pays, with the wake model's scale changed by `deeper_by`; nothing up to 25 %.
std::optional<double> stops_paying_at(const WheelCase& c, double headwind_mps, double deeper_by = 0.0);

std::string wheel_words(const WheelCase& c);

std::string wheel_grade_picture(const WheelCase& c);
std::string wheel_gap_picture(const WheelCase& c);

}  // namespace leewheel
