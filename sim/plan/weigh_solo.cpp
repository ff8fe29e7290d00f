#include "plan/weigh_solo.hpp"

#include <algorithm>
#include <cmath>

#include "plan/weigh_ride.hpp"

namespace leewheel {

namespace {

void move_clock(std::vector<ForecastPoint>& forecast, double later_s) {
  for (ForecastPoint& point : forecast) point.time_s -= later_s;
}

/// The rider's plan with the effort of the stretch scaled. What comes behind the stretch is not ridden.
std::vector<PlanStep> scaled_plan(const Scenario& solo, const TimedStretch& stretch, double scale) {
  std::vector<PlanStep> plan{{0.0, solo.riders[0].target_effort}};
  double effort = solo.riders[0].target_effort;
  for (const PlanStep& step : solo.plans[0])
    if (step.from_m <= stretch.from_m) plan.push_back(step), effort = step.effort;
  plan.push_back({stretch.from_m, effort * scale});
  for (const PlanStep& step : solo.plans[0])
    if (step.from_m > stretch.from_m) plan.push_back({step.from_m, step.effort * scale});
  return plan;
}

}  // namespace

Scenario solo_at_hour(const Scenario& day, std::size_t rider, const TimedStretch& stretch, double comes_at_s) {
  Scenario solo = alone(day, rider);
  const bool changes = day.wind.forecast.size() > 1 || !day.wind.stations.empty() || day.wind.gusty();
  if (!changes || stretch.from_m <= 0.0) return solo;
  const double later_s = comes_at_s - ride_stretch(solo, stretch, {})[0].comes_at_s;
  move_clock(solo.wind.forecast, later_s);
  for (WindStation& station : solo.wind.stations) move_clock(station.forecast, later_s);
  return solo;
}

SoloCurve::SoloCurve(const Scenario& solo, const TimedStretch& stretch, double own_power_W)
    : solo_(solo), stretch_(stretch) {
  constexpr double no_bottom_J = 1e9;
  RiderSettings& rider = solo_.riders[0];
  if (solo_.ride.kind == RideKind::race && solo_.plans[0].empty())
    solo_.plans[0] = {{stretch.from_m, own_power_W / rider.critical_power_W}};
  rider.w_prime_J = no_bottom_J;
  ride_at(0.0);
  ride_at(std::log(0.9));
}

bool SoloCurve::ride_at(double effort) {
  Scenario scaled = solo_;
  scaled.plans[0] = scaled_plan(solo_, stretch_, std::exp(effort));
  const WayRidden one = ride_stretch(scaled, stretch_, {})[0];
  if (!one.reached || one.driving_W() <= 0.0) return false;
  const Ridden found{effort, std::log(one.driving_W()), std::log(one.time_s)};
  const auto next = std::lower_bound(ridden_.begin(), ridden_.end(), found,
                                     [](const Ridden& a, const Ridden& b) { return a.power < b.power; });
  const bool orderly = (next == ridden_.end() || (next->power > found.power && next->time < found.time)) &&
                       (next == ridden_.begin() || (next - 1)->time > found.time);
  if (orderly) ridden_.insert(next, found);
  return orderly;
}

double SoloCurve::effort_for(Of what, double wanted) const {
  const bool rises = what == &Ridden::power;
  std::size_t k = 1;  // the end of the piece, the outermost beyond the ends
  while (k + 1 < ridden_.size() && (rises ? ridden_[k].*what < wanted : ridden_[k].*what > wanted)) ++k;
  const Ridden &a = ridden_[k - 1], &b = ridden_[k];
  return a.effort + (b.effort - a.effort) * (wanted - a.*what) / (b.*what - a.*what);
}

void SoloCurve::look_near(Of what, double wanted) {
  constexpr double near = 2e-4, furthest = 1.6;  // of the logarithms: 0.02 %, and a fifth to five times the own effort
  constexpr int most_rides = 6;
  for (int k = 0; k < most_rides && ridden_.size() > 1; ++k) {
    for (const Ridden& one : ridden_)
      if (std::abs(one.*what - wanted) < near) return;
    const double effort = effort_for(what, wanted);
    if (std::abs(effort) > furthest || !ride_at(effort)) return;
  }
}

void SoloCurve::look_near_power(double power_W) { look_near(&Ridden::power, std::log(power_W)); }
void SoloCurve::look_near_time(double time_s) { look_near(&Ridden::time, std::log(time_s)); }

std::optional<double> SoloCurve::read(Of given, double value, Of wanted) const {
  constexpr double beyond = 1e-3;  // of the logarithm: a line may be drawn on by that much
  if (ridden_.size() < 2) return std::nullopt;
  const auto [low, high] = std::minmax(ridden_.front().*given, ridden_.back().*given);
  if (value < low - beyond || value > high + beyond) return std::nullopt;
  const bool rises = given == &Ridden::power;
  std::size_t k = 1;
  while (k + 1 < ridden_.size() && (rises ? ridden_[k].*given < value : ridden_[k].*given > value)) ++k;
  const Ridden &a = ridden_[k - 1], &b = ridden_[k];
  return std::exp(a.*wanted + (b.*wanted - a.*wanted) * (value - a.*given) / (b.*given - a.*given));
}

std::optional<double> SoloCurve::time_s(double power_W) const {
  return read(&Ridden::power, std::log(power_W), &Ridden::time);
}
std::optional<double> SoloCurve::power_W(double time_s) const {
  return read(&Ridden::time, std::log(time_s), &Ridden::power);
}

}  // namespace leewheel
