#pragma once
/// A ride recorded in other winds and other company, to be laid side by side: with no wind, as forecast and with half more;
/// each rider alone, in company as planned, and in company in the opposite order.

#include <array>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "leewheel/saved_along.hpp"
#include "leewheel/scenario.hpp"
#include "leewheel/trace.hpp"

namespace leewheel {

inline constexpr std::array<double, 3> wind_cases{0.0, 1.0, 1.5};  ///< factor on the forecast's wind
inline constexpr std::size_t wind_as_forecast = 1;
enum class CompanyCase { alone, as_planned, opposite_order };
inline constexpr std::size_t company_cases = 3;

/// What a further rider close behind would save, and where (`worth_behind`).
struct Worth {
  float saved_W, aside_m;  ///< aside: from the rider's own line, > 0 left
};

/// Samples at even times, the last one where the ride ends.
struct RecordedRide {
  std::vector<RideSample> samples;
  std::vector<std::vector<Worth>> worth;  ///< by sample, then rider
  SavedAlong saved{1.0, 0};
  std::vector<double> finish_s;  ///< by rider; NaN: did not get there
  std::vector<double> pedal_J, saved_J, mean_power_W;
  std::vector<Event> events;
};

struct WhatIfs {
  double interval_s = 1.0;
  std::vector<std::uint32_t> planned_order, opposite_order;                      ///< on the start line, from the front
  std::array<std::array<RecordedRide, company_cases>, wind_cases.size()> rides;  ///< [wind][company]
  const RecordedRide& as_planned() const {
    return rides[wind_as_forecast][static_cast<std::size_t>(CompanyCase::as_planned)];
  }
};

/// The scenario in a wind so many times as strong; 0: calm and without gusts.
Scenario in_wind(Scenario scenario, double factor);

/// Rides them all, on the threads the caller allows. Samples lie as close as `most_values` (samples times riders, all rides
/// together) lets them, at least a second apart. Nothing is filled in when `go_on` returns false.
WhatIfs ride_what_ifs(const Scenario& scenario, std::size_t most_values, const std::function<bool()>& go_on = {});

}  // namespace leewheel
