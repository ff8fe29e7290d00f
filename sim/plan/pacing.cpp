#include "leewheel/pacing.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numeric>

#include "plan/pacing_days.hpp"
#include "plan/pacing_ride.hpp"
#include "plan/pacing_search.hpp"
#include "plan/pacing_sections.hpp"

namespace leewheel {

namespace {

constexpr double recovered_share = 0.01;  // of W': less is not called recovery (assumed)

/// The hardest constant power, in whole watts, that keeps the reserve; 0 if none does.
double even_power(const Scenario& solo, const std::vector<double>& cuts, double reserve_J) {
  const Strength s = solo.riders[0].strength();
  const auto keeps = [&](double power) {
    const std::vector<double> powers(cuts.size() - 1, power);
    return keeps_reserve(ride_timed(solo, cuts, powers), powers, s, reserve_J);
  };
  double low = 1.0, high = std::floor(s.peak_power_W);
  if (const double near = std::floor(0.98 * s.critical_power_W); near > low && keeps(near))
    low = near;
  else if (!keeps(low = std::floor(0.5 * s.critical_power_W)))
    return 0.0;
  for (double step = 4.0; low + step < high; step *= 2.0) {
    if (!keeps(low + step)) {
      high = low + step;
      break;
    }
    low += step;
  }
  while (high - low > 1.0) {
    const double middle = std::floor(0.5 * (low + high));
    (keeps(middle) ? low : high) = middle;
  }
  return low;
}

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

std::vector<PacedSection> sections_of(const Course& course, const Road& road, const std::vector<double>& powers,
                                      const PacedRide& ride) {
  const Wind wind(course.solo.wind, road);
  std::vector<PacedSection> sections;
  for (std::size_t k = 0; k < powers.size(); ++k) {
    const double from = course.cuts[k], to = course.cuts[k + 1];
    sections.push_back({from, to, name_at(road, from), (road.elevation_m(to) - road.elevation_m(from)) / (to - from),
                        mean_headwind_mps(wind, from, to, 0.5 * (ride.passed_s[k] + ride.passed_s[k + 1])), powers[k],
                        powers[k], powers[k], ride.passed_s[k + 1] - ride.passed_s[k], ride.wbal_J[k + 1]});
  }
  return sections;
}

Easing easing_of(const PacedSection& section, double mean_headwind) {
  if (section.grade < -0.005) return Easing::dip;
  return section.headwind_mps < mean_headwind - 1.0 && section.grade > 0.02 ? Easing::lull : Easing::flat;
}

void find_recoveries(Pacing& pacing, double w_prime_J) {
  double wind_sum = 0.0, before_J = w_prime_J;
  for (const PacedSection& s : pacing.sections) wind_sum += s.headwind_mps * s.time_s;
  for (std::size_t k = 0; k < pacing.sections.size(); ++k) {
    const PacedSection& s = pacing.sections[k];
    const double regained_J = s.wbal_end_J - before_J;
    if (regained_J > recovered_share * w_prime_J)
      pacing.recoveries.push_back({s.from_m, s.to_m, easing_of(s, wind_sum / pacing.time_s), s.time_s, regained_J});
    before_J = s.wbal_end_J;
  }
  pacing.easiest.resize(pacing.sections.size());
  std::iota(pacing.easiest.begin(), pacing.easiest.end(), std::size_t{0});
  std::stable_sort(pacing.easiest.begin(), pacing.easiest.end(),
                   [&](std::size_t a, std::size_t b) { return pacing.sections[a].power_W < pacing.sections[b].power_W; });
  pacing.easiest.resize(std::min<std::size_t>(3, pacing.easiest.size()));
}

/// Neighbours ridden alike become one row, unless a landmark or the place to decide parts them.
void join_alike(Pacing& pacing) {
  std::vector<PacedSection> joined_sections;
  for (const PacedSection& s : pacing.sections) {
    PacedSection* last = joined_sections.empty() ? nullptr : &joined_sections.back();
    const bool alike = last && s.name.empty() && s.from_m != pacing.decide_at_m && s.power_W == last->power_W &&
                       s.good_day_W == last->good_day_W && s.bad_day_W == last->bad_day_W;
    if (!alike) {
      joined_sections.push_back(s);
      continue;
    }
    const double before_m = last->to_m - last->from_m, this_m = s.to_m - s.from_m;
    last->grade = (last->grade * before_m + s.grade * this_m) / (before_m + this_m);
    last->headwind_mps = (last->headwind_mps * last->time_s + s.headwind_mps * s.time_s) / (last->time_s + s.time_s);
    last->time_s += s.time_s;
    last->to_m = s.to_m;
    last->wbal_end_J = s.wbal_end_J;
  }
  pacing.sections = std::move(joined_sections);
}

void fill(Pacing& pacing, const Course& course, const Road& road, const std::vector<double>& powers, const PacedRide& ride,
          const PacingSettings& settings) {
  pacing.sections = sections_of(course, road, powers, ride);
  pacing.time_s = ride.time_s;
  pacing.mean_power_W = ride.pedal_J.back() / ride.time_s;
  pacing.wbal_least_J = ride.wbal_least_J;
  pacing.wbal_end_J = ride.wbal_J.back();
  const auto decide = static_cast<std::size_t>(std::lower_bound(course.cuts.begin(), course.cuts.end(), pacing.decide_at_m) -
                                               course.cuts.begin());
  pacing.decide_at_s = ride.passed_s[decide];
  std::vector<double> good, bad;
  pacing.good_day = outcome_on(course, powers, decide, 1.0 + settings.good_day_share, good);
  pacing.bad_day = outcome_on(course, powers, decide, 1.0 + settings.bad_day_share, bad);
  for (std::size_t k = 0; k < powers.size(); ++k) {
    pacing.sections[k].good_day_W = good[k];
    pacing.sections[k].bad_day_W = bad[k];
  }
  join_alike(pacing);
  find_recoveries(pacing, course.solo.riders[0].w_prime_J);
  pacing.heart = heart_rise(course, powers.front());
  find_range(pacing, course, powers, settings.days);
}

/// A section that holds the place is parted there, ridden alike on both sides unless the day says otherwise. False: the
/// place is a cut already.
bool part_at(double place_m, std::vector<double>& cuts, std::vector<double>& powers) {
  const auto after = std::lower_bound(cuts.begin(), cuts.end(), place_m);
  if (after != cuts.end() && *after == place_m) return false;
  const auto k = after - cuts.begin();
  cuts.insert(after, place_m);
  powers.insert(powers.begin() + k, powers[static_cast<std::size_t>(k - 1)]);
  return true;
}

}  // namespace

std::vector<PlanStep> Pacing::steps(double critical_power_W) const {
  std::vector<double> from_m, powers;
  for (const PacedSection& s : sections) from_m.push_back(s.from_m), powers.push_back(s.power_W);
  return steps_of(from_m, powers, critical_power_W);
}

Pacing best_pacing(const Scenario& scenario, std::size_t rider, const PacingSettings& settings) {
  assert(rider < scenario.riders.size() && settings.step_W > 0.0 && settings.least_section_m > 0.0);
  assert(settings.reserve_share >= 0.0 && settings.reserve_share < 1.0);
  const Scenario solo = with_strength(rehearsal(scenario, rider), settings.sustained_share);
  Pacing pacing{};
  pacing.rider = scenario.riders[rider].name;
  pacing.recovery_law = solo.ride.recovery_law;
  pacing.reserve_J = reserve_J(solo.riders[0].strength(), settings);
  std::vector<double> cuts = section_cuts_m(solo, std::floor(solo.riders[0].critical_power_W), settings);
  pacing.even_power_W = even_power(solo, cuts, pacing.reserve_J);
  if (pacing.even_power_W <= 0.0) {
    pacing.why_not =
        "no constant power brings the rider to the top with that reserve: too steep for the lowest gear, or over the ride's "
        "time limit";
    return pacing;
  }
  Course course = course_of(solo, cuts, pacing.even_power_W, settings);
  const std::vector<double> even(cuts.size() - 1, pacing.even_power_W);
  pacing.even_time_s = ride_timed(course.solo, cuts, even).time_s;
  std::vector<double> powers = best_powers_from(course, {}, solo.riders[0].w_prime_J);
  PacedRide ride = ride_timed(course.solo, cuts, powers.empty() ? even : powers);
  pacing.even_is_best = powers.empty() || ride.time_s >= pacing.even_time_s;
  if (pacing.even_is_best) {
    powers = even;
    ride = ride_timed(course.solo, cuts, even);
  }
  pacing.found = true;
  pacing.decide_at_m = place_to_decide_m(course, powers, ride, settings);
  if (part_at(pacing.decide_at_m, cuts, powers)) {
    course = course_of(solo, cuts, pacing.even_power_W, settings);
    ride = ride_timed(course.solo, cuts, powers);
  }
  fill(pacing, course, scenario.road, powers, ride, settings);
  return pacing;
}

}  // namespace leewheel
