#pragma once
/// What a second of riding does to the riders' strength: W' left, fatigue, heart rate.

#include <cstdint>
#include <span>

#include "leewheel/scenario.hpp"
#include "model/riders.hpp"

namespace leewheel {

/// What heat takes by now, where the scenario counts it.
void warm(const Riders& riders, Strengths& strengths, const Scenario& scenario, std::span<const RiderIndex> order,
          double time_s, double interval_s);
inline constexpr double heart_rise_s = 55.0;  ///< of the heart rate, first order, from memory (+-40 %)

/// Which laws of recovery are kept: that of the ride, or beside it what the others would leave.
enum class LawsKept : std::uint8_t { own, all };

/// Brings strengths up to date with the work of the last `interval_s`.
void recover(const Riders& riders, Strengths& strengths, const RideSettings& ride, std::span<const RiderIndex> order,
             double interval_s, LawsKept laws = LawsKept::all);

/// All of them, if all were kept.
WbalByLaw wbal_by_law_J(const Riders& riders, const RideSettings& ride, RiderIndex i);

/// W' at a moment `interval_s` after it was last brought up to date, with `pedal_J` of work since the start.
double wbal_at_J(const Riders& riders, const RideSettings& ride, RiderIndex i, double pedal_J, double interval_s);

/// Heart rate as a share of the highest, settling behind the power (from memory, +-40 %).
void beat(const Riders& riders, Strengths& strengths, std::span<const RiderIndex> order, double interval_s);

}  // namespace leewheel
