#pragma once
/// Compares one rider's choices over one stretch by riding them: alone, sitting in, taking turns,
/// waiting for the group behind, letting go, and what the rider would do anyway. Every choice is ridden on the same days, so
/// that only the choice differs.

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel {

/// The scenario's own behaviour, then `Choice` in its order.
inline constexpr std::size_t ways_to_ride = 1 + choice_names.size();
inline constexpr std::size_t as_planned = 0;
constexpr std::size_t way_of(Choice choice) { return 1 + static_cast<std::size_t>(choice); }

struct WeighSettings {
  std::size_t rider = 0;
  double from_m = 0.0, to_m = 0.0;  ///< 0 <= from_m < to_m <= road length
  std::size_t runs = 16;            ///< days; the first is the scenario as it stands
  std::uint64_t seed = 1;
};

/// One way ridden on one day.
struct WayRidden {
  bool reached = false;     ///< the end of the stretch
  double time_s = 0.0;      ///< over the stretch, waiting included
  double work_J = 0.0;      ///< at the cranks, over the stretch
  double alone_J = 0.0;     ///< work of the same motion without drafting
  double wbal_J = 0.0;      ///< at the end of the stretch
  double top_time_s = 0.0;  ///< from the start to the top
  double top_wbal_J = 0.0;
  bool operator==(const WayRidden&) const = default;
};

/// Middle and the range that holds 8 of 10 days (10th to 90th percentile).
struct DayRange {
  double low, middle, high;
};

/// Result of one way over the days. `worth_s`: seconds gained over riding alone on the same day, plus the saved work
/// converted to seconds at the rider's own price: dT = T (dE/E) dlnv/dlnP.
struct WayWeighed {
  std::size_t way;
  std::size_t reached = 0;  ///< days
  DayRange time_s{}, work_J{}, wbal_J{}, top_time_s{}, top_wbal_J{}, gain_s{}, saved_J{}, worth_s{};
  double same_as_planned = 0.0;  ///< share of days on which it changed nothing at all
};

/// The explanation: the stretch as this rider meets it alone, in the scenario as it stands.
struct WeighReason {
  double speed_mps, grade, headwind_mps, crosswind_mps, power_W;
  double air_share;        ///< of the power that goes into the air
  double wheel_factor_of;  ///< drag factor behind a wheel at the rider's own gap there
  double wheel_saves_W;    ///< at that speed
  double price_exponent;   ///< dlnv/dlnP
};

enum class Verdict : std::uint8_t { no_difference, uncertain, pays };

struct Weighing {
  std::vector<WayWeighed> ways;  ///< in the order of `way`
  WeighReason reason{};
  std::size_t best = 0;              ///< way of the greatest middle worth among the choices that can be made; of those that
                                     ///< are not told apart the plainer
  std::size_t rival = 0;             ///< the choice it is compared with
  std::vector<std::size_t> as_good;  ///< other ways within `felt_s` of the best
  Verdict verdict = Verdict::no_difference;
  double felt_s = 0.0;
  std::size_t days = 0;  ///< on which every way was ridden
};

/// Smallest difference a rider feels: 1 % of the stretch's time, at least 3 s (assumed).
double felt_difference_s(double stretch_s);

/// The rule. The best choice is compared with riding alone; if alone is best, with the next best. No difference: the median
/// of the days differs by less than `felt_difference_s`. Uncertain: it differs more, but the range that holds 8 of 10 days
/// holds 0 as well. Else it pays. A stretch that ends at a regroup point is measured to 30 m before it, and one that begins
/// there from 5 m after it: the wait belongs to no stretch. `after_each` as in `ride_days`; a stopped weighing has
/// fewer days.
Weighing weigh(const Scenario& scenario, const WeighSettings& settings,
               const std::function<bool(std::size_t done)>& after_each);

}  // namespace leewheel
