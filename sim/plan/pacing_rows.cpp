#include "plan/pacing_rows.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace leewheel {

namespace {

constexpr double recovered_share = 0.01;  // of W': less is not called recovery (assumed)

/// A row and what tells whether its neighbour is like it.
struct Row {
  PacedSection told;
  bool rises, falls;  ///< somewhere in it
  double regained_J, regaining_s, falling_J;
};

std::string name_at(const Road& road, double at_m) {
  if (at_m <= 0.0) return "start";
  for (const Landmark& mark : road.landmarks())
    if (std::abs(mark.distance_m - at_m) < 1.0) return mark.name;
  return "";
}

double mean_headwind_mps(const Wind& wind, double from_m, double to_m, double time_s) {
  double sum = 0.0;
  constexpr int places = 8;
  for (int k = 0; k < places; ++k) sum -= wind.at(from_m + (k + 0.5) / places * (to_m - from_m), time_s).along_mps;
  return sum / places;
}

Row row_of(const Course& course, const Wind& wind, const RiddenPlan& plan, std::size_t first, std::size_t end) {
  const Layout& layout = course.layout;
  const Road& road = course.solo.road;
  const PacedRide& ride = plan.ride;
  const double from_m = layout.cuts_m[first], to_m = layout.cuts_m[end], time_s = ride.passed_s[end] - ride.passed_s[first];
  Row row{{from_m, to_m, name_at(road, from_m), (road.elevation_m(to_m) - road.elevation_m(from_m)) / (to_m - from_m),
           mean_headwind_mps(wind, from_m, to_m, 0.5 * (ride.passed_s[first] + ride.passed_s[end])), plan.powers_W[first],
           false, plan.powers_W[first], true, (ride.pedal_J[end] - ride.pedal_J[first]) / time_s, time_s, ride.wbal_J[end]},
          false,
          false,
          0.0,
          0.0,
          0.0};
  for (std::size_t k = first; k < end; ++k) {
    (layout.falls[k] ? row.falls : row.rises) = true;
    (layout.falls[k] ? row.told.falling_W : row.told.power_W) = plan.powers_W[k];
    row.told.held = row.told.held && course.held[k];
    const double regained_J = ride.wbal_J[k + 1] - ride.wbal_J[k];
    if (regained_J <= 0.0) continue;
    row.regained_J += regained_J;
    row.regaining_s += ride.passed_s[k + 1] - ride.passed_s[k];
    if (layout.falls[k]) row.falling_J += regained_J;
  }
  if (!row.rises) row.told.power_W = row.told.falling_W;
  if (!row.falls) row.told.falling_W = row.told.power_W;
  row.told.by_rule = row.told.falling_W != row.told.power_W;
  return row;
}

/// What rises only is told like a rule that says the same of rises.
bool alike(const Row& a, const Row& b) {
  if (!b.told.name.empty() || a.told.held != b.told.held) return false;
  const bool rises_alike = !a.rises || !b.rises || a.told.power_W == b.told.power_W;
  const bool falls_alike = !a.falls || !b.falls || a.told.falling_W == b.told.falling_W;
  return rises_alike && falls_alike && ((a.rises && b.rises) || (a.falls && b.falls));
}

void join(Row& a, const Row& b) {
  PacedSection &to = a.told, s = b.told;
  const double before_m = to.to_m - to.from_m, this_m = s.to_m - s.from_m, both_s = to.time_s + s.time_s;
  to.grade = (to.grade * before_m + s.grade * this_m) / (before_m + this_m);
  to.headwind_mps = (to.headwind_mps * to.time_s + s.headwind_mps * s.time_s) / both_s;
  to.ridden_W = (to.ridden_W * to.time_s + s.ridden_W * s.time_s) / both_s;
  to.time_s = both_s;
  to.to_m = s.to_m;
  to.wbal_end_J = s.wbal_end_J;
  if (b.rises) to.power_W = s.power_W;
  if (b.falls) to.falling_W = s.falling_W;
  a.rises = a.rises || b.rises, a.falls = a.falls || b.falls;
  if (!a.falls) to.falling_W = to.power_W;
  if (!a.rises) to.power_W = to.falling_W;
  to.by_rule = to.power_W != to.falling_W;
  a.regained_J += b.regained_J, a.regaining_s += b.regaining_s, a.falling_J += b.falling_J;
}

Easing easing_of(const Row& row, double mean_headwind_mps) {
  if (row.falling_J > 0.5 * row.regained_J) return Easing::dip;
  return row.told.headwind_mps < mean_headwind_mps - 1.0 && row.told.grade > 0.02 ? Easing::lull : Easing::flat;
}

}  // namespace

void tell_rows(Pacing& pacing, const Course& course, const RiddenPlan& plan) {
  const Wind wind(course.solo.wind, course.solo.road);
  std::vector<Row> rows;
  for (std::size_t i = 0; i < course.layout.begins.size(); ++i) {
    const Row row = row_of(course, wind, plan, course.layout.begins[i], course.layout.end_of(i));
    if (!rows.empty() && alike(rows.back(), row))
      join(rows.back(), row);
    else
      rows.push_back(row);
  }
  double wind_sum = 0.0;
  for (const Row& row : rows) wind_sum += row.told.headwind_mps * row.told.time_s;
  for (const Row& row : rows) {
    pacing.sections.push_back(row.told);
    if (row.regained_J > recovered_share * course.solo.riders[0].w_prime_J)
      pacing.recoveries.push_back(
          {row.told.from_m, row.told.to_m, easing_of(row, wind_sum / plan.ride.time_s), row.regaining_s, row.regained_J});
  }
  pacing.easiest.resize(rows.size());
  std::iota(pacing.easiest.begin(), pacing.easiest.end(), std::size_t{0});
  std::stable_sort(pacing.easiest.begin(), pacing.easiest.end(),
                   [&](std::size_t a, std::size_t b) { return rows[a].told.ridden_W < rows[b].told.ridden_W; });
  pacing.easiest.resize(std::min<std::size_t>(3, pacing.easiest.size()));
}

}  // namespace leewheel
