#pragma once
/// Where riders leave room instead of holding a wheel: everything that advises a wheel asks here.

namespace leewheel {

/// Mean grade of a stretch below which it is a descent, and mean speed above which any stretch is ridden like one (assumed; the rule
/// itself, single file with room to brake, is common practice, no source).
inline constexpr double descent_below_grade = -0.02, descent_above_mps = 12.5;
/// Mean grade of 100 m below which they are a descent within a stretch that may climb as a whole (assumed).
inline constexpr double descent_100m_below_grade = -0.03;

/// `speed_mps`: 0 where it is not known.
inline bool is_descent(double grade, double speed_mps) {
  return grade < descent_below_grade || speed_mps > descent_above_mps;
}

}  // namespace leewheel
