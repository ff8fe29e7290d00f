#pragma once
/// What company is worth to riders on one stretch, by riding it: sitting in, taking turns, waiting for the group behind, letting
/// go, and what the rider would do anyway, each beside the same rider alone on the road. Every choice is ridden on the same
/// days, so that only the choice differs.

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel {

/// The scenario's own behaviour, then `Choice` in its order. `Choice::alone` is ridden with nobody else on the road.
inline constexpr std::size_t ways_to_ride = 1 + choice_names.size();
inline constexpr std::size_t as_planned = 0;
constexpr std::size_t way_of(Choice choice) { return 1 + static_cast<std::size_t>(choice); }
inline constexpr std::size_t by_oneself = way_of(Choice::alone);

struct WeighSettings {
  std::vector<std::size_t> riders;  ///< whom to answer
  double from_m = 0.0, to_m = 0.0;  ///< 0 <= from_m < to_m <= road length
  std::size_t runs = 16;            ///< days; the first is the scenario as it stands
  std::uint64_t seed = 1;
  bool to_finish = true;  ///< ride on behind the stretch, for `end_later_s`; changes nothing else
};

/// Where a stretch is timed: one that begins or ends at a regroup point keeps clear of the riders who stop and set off there.
struct TimedStretch {
  double from_m, to_m;
};
TimedStretch timed_stretch(const Scenario& scenario, double from_m, double to_m);

/// One way ridden on one day, between the two marks of the timed stretch; standing at regroup points counts nowhere. Alone on
/// the road means: the same rider, nobody else there, comes to the stretch at the same hour and has the same speeds at its ends.
struct WayRidden {
  bool reached = false;     ///< the end of the stretch, and alone the rider can ride at that power and in that time
  double comes_at_s = 0.0;  ///< at the stretch, since the start
  double time_s = 0.0;
  double power_W = 0.0;        ///< mean, at the cranks
  double slowing_W = 0.0;      ///< what the speed lost between the two marks would have been at the cranks, over that time
  double alone_time_s = 0.0;   ///< alone on the road at the same mean power
  double alone_power_W = 0.0;  ///< alone on the road in the same time
  double behind_s = 0.0;       ///< on a wheel
  double chased_s = 0.0;       ///< closing the gap to one
  double chased_J = 0.0;       ///< work of that
  double wbal_share = 1.0;     ///< of W', left at the end of the stretch
  double finish_time_s = 0.0;  ///< of the whole ride; 0 when it was not ridden so far
  double driving_W() const { return power_W + slowing_W; }
};

/// Mean of the days and the range that holds 8 of 10 of them (10th to 90th percentile).
struct DayRange {
  double low, mean, high;
};

/// One way over the days on which it and riding alone could be compared. Gain and saving are one thing in two currencies,
/// read off one curve of time over power of the rider alone on that day, so they always have the same sign.
struct WayWeighed {
  std::size_t way;
  std::size_t days = 0;
  DayRange time_s{}, power_W{}, alone_time_s{}, alone_power_W{};
  DayRange gain_s{};             ///< alone_time_s - time_s: sooner than alone at the same mean power; 0 for riding alone
  DayRange saved_W{};            ///< alone_power_W - power_W: less than alone in the same time
  DayRange end_later_s{};        ///< at the end of the whole ride, against the same day as planned; not for riding alone
  double gain_end_s = 0.0;       ///< standard error of the ends of `gain_s`: how still they stand
  double behind_share = 0.0;     ///< of the time, on a wheel
  double chase_s = 0.0;          ///< mean of the days
  double chase_W = 0.0;          ///< mean power of it
  std::size_t reach_days = 0;    ///< on a wheel for at least half of the time
  std::size_t spent_days = 0;    ///< W' at the end of the stretch below a tenth
  double same_as_planned = 0.0;  ///< share of days on which it changed nothing at all
};

/// The explanation: the stretch as this rider meets it alone, in the scenario as it stands. Means over the seconds, so that on a
/// road that rises and falls `power_W * air_share * wheel_takes_share` is what a wheel saves.
struct WeighReason {
  double speed_mps, grade, headwind_mps, crosswind_mps, power_W;
  double air_share;  ///< of the work at the cranks, asked by the air while pedalling; above 1 where the slope gives a part
  double wheel_takes_share;  ///< of that, with a wheel at the rider's own gap all the way
  double wheel_saves_W;      ///< at the same speeds
  double rolls_share;        ///< of the time, without pedalling: there a wheel saves no power
};

enum class Verdict : std::uint8_t { no_difference, uncertain, pays, nobody_there };

struct Weighing {
  std::size_t rider = 0;
  std::vector<WayWeighed> ways;  ///< in the order of `way`
  WeighReason reason{};
  std::size_t best =
      0;  ///< way of the greatest mean gain among the choices that can be made; of those that are not told apart
          ///< the plainer
  std::size_t company = 0;  ///< the choice in company that the verdict speaks of: `best`, or the next if that is alone
  std::vector<std::size_t> as_good;  ///< other ways within `felt_s` of the best
  Verdict verdict = Verdict::no_difference;
  double felt_s = 0.0;
  std::size_t days = 0;        ///< on which every way was ridden
  std::size_t reach_days = 0;  ///< on which the rider, sitting in where it can be done, holds a wheel for half of the time

  const WayWeighed& in_company() const { return ways[company]; }
  double own_power_W() const { return ways[by_oneself].power_W.mean; }
  double above_own_W() const {
    return in_company().power_W.mean - own_power_W();
  }  ///< > 0: company asks more than the own pace
  double wheel_saves_percent() const { return reason.power_W > 0.0 ? 100.0 * reason.wheel_saves_W / reason.power_W : 0.0; }
};

/// Smallest difference a rider feels: 1 % of the stretch's time, at least 3 s (assumed).
double felt_difference_s(double stretch_s);

/// The number of steps that `after_each` of `weigh` counts.
std::size_t steps_of_weighing(const WeighSettings& settings);

/// One answer for each rider asked about. The rule: the best choice is compared with riding alone; if alone is best, the next
/// best is. Nobody is there when no wheel is within reach on more than half of the days, neither sitting in nor by the choice
/// itself. Else it pays when the mean gain is at least `felt_difference_s` and the range that holds 8 of 10 days does not hold
/// 0; else it is uncertain when the mean gain is felt, and no difference when it is not. `after_each` as in `ride_days`; a stopped weighing has fewer days.
std::vector<Weighing> weigh(const Scenario& scenario, const WeighSettings& settings,
                            const std::function<bool(std::size_t done)>& after_each);

}  // namespace leewheel
