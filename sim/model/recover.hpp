#pragma once
/// What a second of riding does to the riders' strength: W' left, fatigue, heart rate.

#include <span>

#include "leewheel/scenario.hpp"
#include "model/riders.hpp"

namespace leewheel {

/// Brings strengths up to date with the work of the last `interval_s`. Every `law_comparison_every` of them (`compare_laws`)
/// W' under each published law too.
inline constexpr std::uint64_t law_comparison_every = 10;
void recover(const Riders& riders, Strengths& strengths, const RideSettings& ride, std::span<const RiderIndex> order,
             double interval_s, bool compare_laws);

/// Heart rate as a share of the highest, settling behind the power (from memory, +-40 %).
void beat(const Riders& riders, Strengths& strengths, std::span<const RiderIndex> order, double interval_s);

}  // namespace leewheel
