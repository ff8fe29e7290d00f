#include "after/company.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace leewheel {

namespace {

/// One pair, second by second.
void pair_spans(const RiddenWay& a, const RiddenWay& b, std::uint32_t i, std::uint32_t j, std::vector<TogetherSpan>& spans) {
  const double from_s = std::max(a.begin_s, b.begin_s), to_s = std::min(a.end_s(), b.end_s());
  bool with = false;
  double begun_s = 0.0, far_since_s = not_recorded;
  for (double t = from_s; t <= to_s; t += 1.0) {
    const double apart_m = std::abs(a.distance_at_m(t) - b.distance_at_m(t));
    const bool known = a.known[static_cast<std::size_t>(t - a.begin_s)] && b.known[static_cast<std::size_t>(t - b.begin_s)];
    if (!with) {
      if (known && apart_m < join_m) with = true, begun_s = t, far_since_s = not_recorded;
      continue;
    }
    if (apart_m <= leave_m)
      far_since_s = not_recorded;
    else if (std::isnan(far_since_s))
      far_since_s = t;
    if (!std::isnan(far_since_s) && t - far_since_s >= leave_after_s) {
      spans.push_back({i, j, begun_s, far_since_s});
      with = false;
    }
  }
  if (with) spans.push_back({i, j, begun_s, std::isnan(far_since_s) ? to_s : far_since_s});
}

double mean_power_W(const RiddenWay& way, double from_s, double to_s) {
  double sum = 0.0, count = 0.0;
  for (double t = std::max(from_s, way.begin_s); t <= std::min(to_s, way.end_s()); t += 1.0)
    if (const double power_W = way.power_W[static_cast<std::size_t>(t - way.begin_s)]; !std::isnan(power_W))
      sum += power_W, ++count;
  return count > 0.0 ? sum / count : not_recorded;
}

bool holds(const TogetherSpan& span, std::uint32_t rider) { return span.a == rider || span.b == rider; }
std::uint32_t other(const TogetherSpan& span, std::uint32_t rider) { return span.a == rider ? span.b : span.a; }

/// When two riders were next together after a span; NaN: never.
double again_s(std::span<const TogetherSpan> spans, const TogetherSpan& span, std::uint32_t a, std::uint32_t b) {
  double back_s = not_recorded;
  for (const TogetherSpan& later : spans)
    if (later.from_s > span.to_s && holds(later, a) && holds(later, b) && !(back_s <= later.from_s)) back_s = later.from_s;
  return back_s;
}

}  // namespace

std::vector<TogetherSpan> together(std::span<const RiddenWay> ways) {
  std::vector<TogetherSpan> spans;
  for (std::uint32_t i = 0; i < ways.size(); ++i)
    for (std::uint32_t j = i + 1; j < ways.size(); ++j) pair_spans(ways[i], ways[j], i, j, spans);
  return spans;
}

std::vector<bool> in_company(std::span<const RiddenWay> ways, std::span<const TogetherSpan> spans, std::size_t rider) {
  const RiddenWay& way = ways[rider];
  std::vector<bool> with(way.size(), false);
  for (const TogetherSpan& span : spans) {
    if (!holds(span, static_cast<std::uint32_t>(rider))) continue;
    for (double t = std::max(span.from_s, way.begin_s); t <= std::min(span.to_s, way.end_s()); t += 1.0)
      with[static_cast<std::size_t>(t - way.begin_s)] = true;
  }
  return with;
}

std::vector<double> nearest_m(std::span<const RiddenWay> ways, std::size_t rider) {
  const RiddenWay& way = ways[rider];
  std::vector<double> nearest(way.size(), 1e9);
  for (std::size_t other = 0; other < ways.size(); ++other)
    for (std::size_t k = 0; other != rider && k < way.size(); ++k)
      if (const double t = way.time_s(k); t >= ways[other].begin_s && t <= ways[other].end_s())
        nearest[k] = std::min(nearest[k], std::abs(ways[other].distance_at_m(t) - way.distance_m[k]));
  return nearest;
}

std::vector<Stand> stands(const RiddenWay& way) {
  constexpr double one_stand_m = 20.0, one_stand_s = 20.0;  // a place that wanders is no ride (assumed)
  std::vector<Stand> found;
  for (std::size_t k = 0; k < way.size();) {
    std::size_t end = k;
    while (end < way.size() && way.speed_mps[end] < waiting_mps) ++end;
    if (end > k) {
      const double from_s = way.time_s(k), to_s = way.time_s(k) + static_cast<double>(end - k);
      const double at_m = way.distance_m[(k + end - 1) / 2];
      if (!found.empty() && from_s - found.back().to_s < one_stand_s && at_m - found.back().at_m < one_stand_m)
        found.back().to_s = to_s;
      else
        found.push_back({at_m, from_s, to_s});
    }
    k = std::max(end, k + 1);
  }
  std::erase_if(found, [](const Stand& stand) { return stand.stood_s() < least_wait_s; });
  return found;
}

std::vector<std::size_t> stood_until(std::span<const RiddenWay> ways, std::size_t rider, const Stand& stand) {
  constexpr double near_m = 20.0, before_end_s = 45.0, after_end_s = 10.0, least_waiting_s = 15.0;  // (assumed)
  std::vector<std::size_t> until;
  for (std::size_t other = 0; other < ways.size(); ++other) {
    const double came_s = other == rider ? not_recorded : ways[other].arrival_s(stand.at_m - near_m);
    if (came_s > stand.from_s + least_waiting_s && came_s > stand.to_s - before_end_s && came_s < stand.to_s + after_end_s)
      until.push_back(other);
  }
  return until;
}

std::vector<CameOff> came_off(std::span<const RiddenWay> ways, std::span<const TogetherSpan> spans) {
  constexpr double least_company_s = 30.0, same_moment_s = 90.0;  // (assumed)
  std::vector<CameOff> found;
  for (const TogetherSpan& span : spans) {
    const double end_s = std::min(ways[span.a].end_s(), ways[span.b].end_s());
    if (span.to_s - span.from_s < least_company_s || span.to_s >= end_s - leave_after_s) continue;
    const double look_s = std::min(end_s, span.to_s + leave_after_s);
    const bool a_behind = ways[span.a].distance_at_m(look_s) < ways[span.b].distance_at_m(look_s);
    const std::uint32_t rider = a_behind ? span.a : span.b, ahead = other(span, rider);
    const double back_s = again_s(spans, span, rider, ahead);
    const auto same = std::find_if(found.begin(), found.end(), [&](const CameOff& c) {
      return c.rider == rider && std::abs(c.time_s - span.to_s) < same_moment_s;
    });
    if (same != found.end()) {
      same->from.push_back(ahead);
      same->time_s = std::min(same->time_s, span.to_s);
      same->at_m = ways[rider].distance_at_m(same->time_s);
      if (!std::isnan(back_s) && !(same->back_s <= back_s)) same->back_s = back_s, same->back_with = ahead;
    } else {
      found.push_back({rider,
                       {ahead},
                       ways[rider].distance_at_m(span.to_s),
                       span.to_s,
                       mean_power_W(ways[rider], span.to_s - 60.0, span.to_s),
                       back_s,
                       ahead});
    }
  }
  std::sort(found.begin(), found.end(), [](const CameOff& x, const CameOff& y) {
    return std::tuple(x.time_s, x.rider) < std::tuple(y.time_s, y.rider);
  });
  return found;
}

}  // namespace leewheel
