#pragma once
/// Who rode with whom, waited, came off and came back. Places tell how far riders are apart, to a few metres: never who led.

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "after/match.hpp"

namespace leewheel {

inline constexpr double join_m = 8.0, leave_m = 20.0, leave_after_s = 15.0;  ///< of being together (assumed)
inline constexpr double waiting_mps = 0.8;                                   ///< slower is standing (assumed)
inline constexpr double least_wait_s = 10.0;                                 ///< a shorter stand is no stop (assumed)

/// Times are after the common zero; ways have their clocks set.
struct TogetherSpan {
  std::uint32_t a, b;  ///< riders, a < b
  double from_s, to_s;
};
/// Together from below `join_m` on, until above `leave_m` for `leave_after_s`; both on the road and known, and moving apart or not.
std::vector<TogetherSpan> together(std::span<const RiddenWay> ways);

/// By second of a rider's way: with any other rider.
std::vector<bool> in_company(std::span<const RiddenWay> ways, std::span<const TogetherSpan> spans, std::size_t rider);

/// By second of a rider's way: the distance to the nearest other rider (m).
std::vector<double> nearest_m(std::span<const RiddenWay> ways, std::size_t rider);

struct Stand {
  double at_m, from_s, to_s;
  double stood_s() const { return to_s - from_s; }
};
std::vector<Stand> stands(const RiddenWay& way);
/// Riders who came to the place of a rider's stand while it lasted, in its last three quarters of a minute or just after it.
std::vector<std::size_t> stood_until(std::span<const RiddenWay> ways, std::size_t rider, const Stand& stand);

/// A rider came off the others.
struct CameOff {
  std::uint32_t rider;
  std::vector<std::uint32_t> from;  ///< those who rode on together
  double at_m, time_s;
  double power_minute_W;  ///< mean of the minute before; NaN without power
  double back_s;          ///< with one of them again; NaN: never
  std::uint32_t back_with = 0;
};
std::vector<CameOff> came_off(std::span<const RiddenWay> ways, std::span<const TogetherSpan> spans);

}  // namespace leewheel
