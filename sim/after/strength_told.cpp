#include "after/strength_told.hpp"

#include <algorithm>
#include <cmath>

#include "after/company.hpp"
#include "after/numbers.hpp"
#include "model/recover.hpp"

namespace leewheel {

namespace {

constexpr double least_spread_share = 0.05;
constexpr double most_missing_share = 0.05;  // of an effort, without power (assumed)

struct Span {
  std::size_t from, to;  ///< seconds of the way, `to` not included
  double mean_W;
  double length_s() const { return static_cast<double>(to - from); }
};

/// Sums of power up to each second, a second without power as the one before, and how many such seconds there are.
struct PowerSums {
  std::vector<double> J{0.0}, missing_s{0.0};
  explicit PowerSums(const RiddenWay& way) {
    double last_W = 0.0;
    for (const double power_W : way.power_W) {
      if (!std::isnan(power_W)) last_W = power_W;
      J.push_back(J.back() + last_W), missing_s.push_back(missing_s.back() + std::isnan(power_W));
    }
  }
  double mean_W(std::size_t from, std::size_t to) const { return (J[to] - J[from]) / static_cast<double>(to - from); }
  bool enough(std::size_t from, std::size_t to) const {
    return missing_s[to] - missing_s[from] <= most_missing_share * static_cast<double>(to - from);
  }
};

Span best_of_length(const PowerSums& sums, std::size_t length) {
  Span best{0, length, 0.0};
  for (std::size_t k = 0; k + length < sums.J.size(); ++k)
    if (const double mean_W = sums.mean_W(k, k + length); mean_W > best.mean_W && sums.enough(k, k + length))
      best = {k, k + length, mean_W};
  return best;
}

StrengthTold told_of(const RiddenWay& way, const Span& span, StrengthTold::Kind kind, double critical_W) {
  StrengthTold told;
  told.kind = kind, told.critical_power_W = critical_W, told.over_s = span.length_s();
  told.from_m = way.distance_m[span.from], told.to_m = way.distance_m[span.to - 1];
  return told;
}

/// An effort that the rider says was all-out, standing at its ends left out.
struct SaidEffort {
  Span span{0, 0, 0.0};
  EffortFault fault = EffortFault::none;
  double stood_s = 0.0;
};

/// Standing at either end is cut off; standing in between is no all-out effort.
void cut_standing(const RiddenWay& way, double& from_s, double& to_s, SaidEffort& effort) {
  constexpr double at_end_s = 30.0;  // rolling up to a stand or away from it (assumed)
  for (const Stand& stand : stands(way)) {
    const double overlap_s = std::min(stand.to_s, to_s) - std::max(stand.from_s, from_s);
    if (overlap_s <= 0.0) continue;
    const bool at_start = stand.from_s<from_s + at_end_s, at_end = stand.to_s> to_s - at_end_s;
    if (at_start) from_s = stand.to_s;
    if (at_end && !at_start) to_s = stand.from_s;
    if (!at_start && !at_end) effort.fault = EffortFault::stood;
    effort.stood_s += overlap_s;
  }
}

SaidEffort said_effort(const RiddenWay& way, const PowerSums& sums, const AllOut& said) {
  constexpr double beyond_s = 5.0;
  double from_s = said.by_time ? said.from : way.arrival_s(said.from);
  double to_s = said.by_time ? said.to : way.arrival_s(said.to);
  SaidEffort effort;
  const bool within = from_s >= way.begin_s - beyond_s && to_s <= way.end_s() + beyond_s;  // false for a place never reached
  if (!within) effort.fault = EffortFault::not_ridden;
  if (within) cut_standing(way, from_s, to_s, effort);
  if (effort.fault != EffortFault::none) return effort;
  const auto last = static_cast<double>(way.size());
  const auto from = static_cast<std::size_t>(std::clamp(std::round(from_s - way.begin_s), 0.0, last));
  const auto to = static_cast<std::size_t>(std::clamp(std::round(to_s - way.begin_s), 0.0, last));
  if (static_cast<double>(to) - static_cast<double>(from) < least_effort_s)
    effort.fault = EffortFault::too_short;
  else if (!sums.enough(from, to))
    effort.fault = EffortFault::no_power;
  else
    effort.span = {from, to, sums.mean_W(from, to)};
  return effort;
}

double believed_sd_W(const RiderSettings& rider, const Uncertainty& uncertainty) {
  return std::hypot(rider.critical_power_spread, uncertainty.critical_power_share) * rider.critical_power_W;
}

StrengthTold told_of_effort(const RiddenWay& way, const SaidEffort& effort, const RiderSettings& rider,
                            const Uncertainty& uncertainty, double scale, double scale_sd) {
  if (effort.fault != EffortFault::none) {
    StrengthTold told;
    told.fault = effort.fault, told.stood_s = effort.stood_s;
    return told;
  }
  const Span& span = effort.span;
  const double over_W = rider.w_prime_J / span.length_s(), critical_W = span.mean_W / scale - over_W;
  StrengthTold told = told_of(way, span, StrengthTold::Kind::all_out, critical_W);
  told.stood_s = effort.stood_s;
  told.sd_W = std::max(least_spread_share * critical_W,
                       std::hypot(uncertainty.w_prime_share * over_W, scale_sd * span.mean_W / scale));
  const double change_W = critical_W - rider.critical_power_W;
  if (std::abs(change_W) > contradiction_sd * std::hypot(believed_sd_W(rider, uncertainty), told.sd_W))
    told.sure = HowSure::contradiction;
  return told;
}

}  // namespace

StrengthTold strength_told(const RiddenWay& way, const RiderSettings& rider, const Uncertainty& uncertainty,
                           const std::optional<AllOut>& all_out, double scale, double scale_sd) {
  const PowerSums sums(way);
  StrengthTold best;
  if (all_out)
    best = told_of_effort(way, said_effort(way, sums, *all_out), rider, uncertainty, scale, scale_sd);
  else
    for (const double minutes : {10.0, 20.0, 30.0, 45.0, 60.0}) {
      const auto length = static_cast<std::size_t>(60.0 * minutes);
      if (length + 1 >= sums.J.size()) break;
      const Span span = best_of_length(sums, length);
      const double critical_W = span.mean_W / scale - rider.w_prime_J / span.length_s();
      if (critical_W > best.critical_power_W) best = told_of(way, span, StrengthTold::Kind::at_least, critical_W);
    }
  best.before_sd_W = believed_sd_W(rider, uncertainty);
  return best;
}

HeartTold heart_told(const RiddenWay& way) {
  constexpr std::size_t settled_from = 300, settled_to = 420, looks_until = 300;
  const auto quiet = [](HeartQuiet why) { return HeartTold{.quiet = why}; };
  const auto set_off = static_cast<std::size_t>(
      std::find_if(way.speed_mps.begin(), way.speed_mps.end(), [](double v) { return v > 1.0; }) - way.speed_mps.begin());
  if (set_off + settled_to > way.size()) return quiet(HeartQuiet::short_ride);
  double level = 0.0, count = 0.0, power_W = 0.0, early_W = 0.0, powered_s = 0.0;
  for (std::size_t k = settled_from; k < settled_to; ++k)
    if (!std::isnan(way.heart_rate_bpm[set_off + k])) level += way.heart_rate_bpm[set_off + k], ++count;
  for (std::size_t k = 30; k < settled_to; ++k) {
    const double p = way.power_W[set_off + k];
    if (!std::isnan(p)) (k < settled_from ? early_W : power_W) += p, ++powered_s;
  }
  early_W /= static_cast<double>(settled_from - 30), power_W /= static_cast<double>(settled_to - settled_from);
  const double first = way.heart_rate_bpm[set_off];
  if (count < 60.0 || std::isnan(first)) return quiet(HeartQuiet::none_recorded);
  level /= count;
  if (powered_s < 0.9 * static_cast<double>(settled_to - 30)) return quiet(HeartQuiet::no_power);
  if (!(std::abs(power_W - early_W) < 0.15 * std::max(power_W, 1.0))) return quiet(HeartQuiet::effort_changed);
  for (std::size_t k = 0; level - first >= 25.0 && k < looks_until; ++k)
    if (way.heart_rate_bpm[set_off + k] >= first + 0.632 * (level - first))
      return {HeartQuiet::told, static_cast<double>(k), heart_rise_s};
  return quiet(HeartQuiet::no_rise);
}

}  // namespace leewheel
