#include "after/strength_told.hpp"

#include <algorithm>
#include <cmath>

#include "model/recover.hpp"

namespace leewheel {

namespace {

constexpr double least_spread_share = 0.05;

struct Span {
  std::size_t from, to;  ///< seconds of the way, `to` not included
  double mean_W;
  double length_s() const { return static_cast<double>(to - from); }
};

/// Sums of power up to each second; a second without power counts as the one before.
std::vector<double> sums_J(const RiddenWay& way) {
  std::vector<double> sums{0.0};
  double last_W = 0.0;
  for (const double power_W : way.power_W) {
    if (!std::isnan(power_W)) last_W = power_W;
    sums.push_back(sums.back() + last_W);
  }
  return sums;
}

Span best_of_length(const std::vector<double>& sums, std::size_t length) {
  Span best{0, length, 0.0};
  for (std::size_t k = 0; k + length < sums.size(); ++k)
    if (const double mean_W = (sums[k + length] - sums[k]) / static_cast<double>(length); mean_W > best.mean_W)
      best = {k, k + length, mean_W};
  return best;
}

StrengthTold told_of(const RiddenWay& way, const Span& span, StrengthTold::Kind kind, double critical_W) {
  StrengthTold told;
  told.kind = kind, told.critical_power_W = critical_W, told.over_s = span.length_s();
  told.from_m = way.distance_m[span.from], told.to_m = way.distance_m[span.to - 1];
  return told;
}

Span said_span(const RiddenWay& way, const std::vector<double>& sums, const AllOut& said) {
  const double from_s = said.by_time ? said.from : way.arrival_s(said.from);
  const double to_s = said.by_time ? said.to : way.arrival_s(said.to);
  if (std::isnan(from_s) || std::isnan(to_s)) return {0, 0, 0.0};
  const auto last = static_cast<double>(way.size());
  const auto from = static_cast<std::size_t>(std::clamp(std::round(from_s - way.begin_s), 0.0, last));
  const auto to = static_cast<std::size_t>(std::clamp(std::round(to_s - way.begin_s), 0.0, last));
  if (to <= from) return {0, 0, 0.0};
  return {from, to, (sums[to] - sums[from]) / static_cast<double>(to - from)};
}

}  // namespace

StrengthTold strength_told(const RiddenWay& way, const RiderSettings& rider, const Uncertainty& uncertainty,
                           const std::optional<AllOut>& all_out, double scale, double scale_sd) {
  const auto measured = std::count_if(way.power_W.begin(), way.power_W.end(), [](double p) { return !std::isnan(p); });
  if (static_cast<double>(measured) < least_effort_s) return {};
  const std::vector<double> sums = sums_J(way);
  if (all_out) {
    const Span span = said_span(way, sums, *all_out);
    if (span.length_s() < least_effort_s) return {};
    const double over_W = rider.w_prime_J / span.length_s(), critical_W = span.mean_W / scale - over_W;
    StrengthTold told = told_of(way, span, StrengthTold::Kind::all_out, critical_W);
    told.sd_W = std::max(least_spread_share * critical_W,
                         std::hypot(uncertainty.w_prime_share * over_W, scale_sd * span.mean_W / scale));
    return told;
  }
  StrengthTold best;
  for (const double minutes : {10.0, 20.0, 30.0, 45.0, 60.0}) {
    const auto length = static_cast<std::size_t>(60.0 * minutes);
    if (length + 1 >= sums.size()) break;
    const Span span = best_of_length(sums, length);
    const double critical_W = span.mean_W / scale - rider.w_prime_J / span.length_s();
    if (critical_W > best.critical_power_W) best = told_of(way, span, StrengthTold::Kind::at_least, critical_W);
  }
  return best;
}

HeartTold heart_told(const RiddenWay& way) {
  constexpr std::size_t settled_from = 300, settled_to = 420, looks_until = 300;
  if (way.size() < settled_to) return {};
  const auto set_off = static_cast<std::size_t>(
      std::find_if(way.speed_mps.begin(), way.speed_mps.end(), [](double v) { return v > 1.0; }) - way.speed_mps.begin());
  if (set_off + settled_to > way.size()) return {};
  double level = 0.0, count = 0.0, power_W = 0.0, early_W = 0.0;
  for (std::size_t k = settled_from; k < settled_to; ++k)
    if (!std::isnan(way.heart_rate_bpm[set_off + k])) level += way.heart_rate_bpm[set_off + k], ++count;
  for (std::size_t k = 30; k < settled_to; ++k) {
    const double p = way.power_W[set_off + k];
    if (!std::isnan(p)) (k < settled_from ? early_W : power_W) += p;
  }
  early_W /= static_cast<double>(settled_from - 30), power_W /= static_cast<double>(settled_to - settled_from);
  const double first = way.heart_rate_bpm[set_off];
  if (count < 60.0 || std::isnan(first)) return {};
  level /= count;
  const bool steady = std::abs(power_W - early_W) < 0.15 * std::max(power_W, 1.0);
  if (level - first < 25.0 || !steady) return {};  // no rise to be seen, or the effort changed meanwhile
  for (std::size_t k = 0; k < looks_until; ++k)
    if (way.heart_rate_bpm[set_off + k] >= first + 0.632 * (level - first))
      return {true, static_cast<double>(k), heart_rise_s};
  return {};
}

}  // namespace leewheel
