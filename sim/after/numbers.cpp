#include "after/numbers.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace leewheel {

namespace {

/// The verdict from spread and shift alone.
HowSure verdict(double before_sd, double shift, double after_sd) {
  if (std::abs(shift) > contradiction_sd * before_sd) return HowSure::contradiction;
  if (after_sd < learned_share * before_sd) return HowSure::learned;
  return after_sd < hint_share * before_sd ? HowSure::hint : HowSure::not_learned;
}

/// Within what riders, roads and weather can be; false for NaN.
bool can_be(const LearnedNumber& n) {
  struct {
    double lowest, highest;
  } constexpr within[] = {{0.05, 1.5},    {0.5, 1.5},  {20.0, 400.0}, {0.05, 1.3},  // areas as in `rider_fields`
                          {0.0005, 0.05}, {0.0, 25.0}, {-7.0, 7.0}};  // 24.5 m/s: storm (WMO, Beaufort 10); others assumed
  const auto& range = within[static_cast<std::size_t>(n.what)];
  return n.after >= range.lowest && n.after <= range.highest && std::isfinite(n.after_sd);
}

/// Factor from the fit's unit to that of the number told, and what stands at 1.
struct Unit {
  double scale, zero;
};

class Numbers {
 public:
  Numbers(const Fit& fit, const RideAir& air, const std::vector<std::size_t>& riders, const std::vector<double>& saved)
      : fit_(fit), air_(air), riders_(riders), saved_(saved) {}

  std::vector<LearnedNumber> all() {
    for (std::size_t k = 0; k < fit_.numbers.size(); ++k) {
      const Learnt what = fit_.numbers[k].what;
      if (what == Learnt::wind_north) continue;
      from_.push_back(k);
      what == Learnt::wind_east ? add_wind(k) : add(k);
    }
    for (std::size_t i = 0; i < out_.size(); ++i) tie(i), untie_far(i);
    withhold_impossible();
    return std::move(out_);
  }

 private:
  /// A number that would have to move far beyond belief to do alone is no help.
  void untie_far(std::size_t i) {
    constexpr double far_sd = 3.0;
    LearnedNumber& n = out_[i];
    if (!n.with || std::abs(n.alone_value - n.before) <= far_sd * n.before_sd) return;
    n.with.reset();
    if (n.sure == HowSure::only_together) n.sure = verdict(n.before_sd, n.after - n.before, n.after_sd);
  }

  /// One number that cannot be spoils those that were fitted with it.
  void withhold_impossible() {
    if (std::all_of(out_.begin(), out_.end(), can_be)) return;
    for (LearnedNumber& n : out_) {
      n.wants = can_be(n) ? Missing::beside_impossible : Missing::impossible;
      n.sure = HowSure::not_learned, n.with.reset();
    }
  }

  const RiderSettings& rider(std::size_t of) const { return air_.scenario().riders[riders_[of]]; }

  Unit unit(const FittedNumber& n) const {
    switch (n.what) {
      case Learnt::drag_area: return {rider(n.of).drag_area_hoods_m2, 0.0};
      case Learnt::company: return {-saved_[n.of], 1.0};
      case Learnt::rolling: return {rolling_coefficient(static_cast<Surface>(n.of)), 0.0};
      default: return {1.0, 0.0};
    }
  }

  void add(std::size_t k) {
    const FittedNumber& n = fit_.numbers[k];
    static constexpr Number names[] = {Number::drag_area, Number::power_scale, Number::mass, Number::company,
                                       Number::rolling};
    const Unit u = unit(n);
    const bool own = n.what != Learnt::rolling;
    LearnedNumber told{names[static_cast<std::size_t>(n.what)], own ? riders_[n.of] : n.of, u.zero + u.scale * n.before,
                       std::abs(u.scale) * n.before_sd,         u.zero + u.scale * n.after, std::abs(u.scale) * n.after_sd};
    told.sure = verdict(n.before_sd, n.after - n.before, n.after_sd);
    if (n.what == Learnt::drag_area && fit_.alone_s[n.of] < least_alone_s)
      told.sure = HowSure::not_learned,
      told.wants = fit_.used_s[n.of] < least_alone_s ? Missing::short_ride : Missing::time_alone;
    out_.push_back(told);
  }

  /// Speed and direction; their spreads along the wind and across it.
  void add_wind(std::size_t k) {
    const FittedNumber &east = fit_.numbers[k], &north = fit_.numbers[k + 1];
    const Eigen::Vector2d forecast = air_.forecast_enu_mps(0.0, 3600.0 * static_cast<double>(east.of));
    const Eigen::Vector2d found = forecast + Eigen::Vector2d(east.after, north.after);
    const auto i = static_cast<Eigen::Index>(k);
    const Eigen::Matrix2d spread = fit_.covariance.block<2, 2>(i, i);
    const Eigen::Vector2d along = found.norm() > 0.01 ? Eigen::Vector2d(found.normalized()) : Eigen::Vector2d(0.0, 1.0);
    const Eigen::Vector2d across(along.y(), -along.x());
    const auto sd = [&](const Eigen::Vector2d& axis) { return std::sqrt(axis.dot(spread * axis)); };
    const auto from_rad = [](const Eigen::Vector2d& enu) {
      const double rad = std::atan2(-enu.x(), -enu.y());
      return rad < 0.0 ? rad + 2.0 * std::numbers::pi : rad;
    };
    const double strong_mps = std::max(0.5, found.norm()), known_mps = std::max(0.5, forecast.norm());
    LearnedNumber speed{Number::wind_speed, east.of, forecast.norm(), east.before_sd, found.norm(), sd(along)};
    LearnedNumber from{Number::wind_from,  east.of,
                       from_rad(forecast), std::min(1.8, east.before_sd / known_mps),
                       from_rad(found),    std::min(1.8, sd(across) / strong_mps)};
    const Eigen::Vector2d change = found - forecast;
    speed.sure = verdict(east.before_sd, change.dot(along), sd(along));
    from.sure = verdict(east.before_sd, change.dot(across), sd(across));
    out_.push_back(speed), out_.push_back(from);
    from_.push_back(k);
  }

  /// Two numbers that the ride moves only one against the other.
  void tie(std::size_t i) {
    const FittedNumber& a = fit_.numbers[from_[i]];
    const bool open = out_[i].sure != HowSure::learned && out_[i].wants == Missing::nothing;
    if (!open || out_[i].what == Number::wind_from || out_[i].what == Number::wind_speed) return;
    double most = tied_from;
    for (std::size_t j = 0; j < out_.size(); ++j) {
      const FittedNumber& b = fit_.numbers[from_[j]];
      if (i == j || from_[i] == from_[j] || out_[j].what == Number::wind_from) continue;
      if (out_[j].what == Number::wind_speed) {
        tie_to_wind(i, j, most);
        continue;
      }
      const double tie = fit_.correlation(from_[i], from_[j]);
      if (std::abs(tie) <= most) continue;
      most = std::abs(tie);
      out_[i].with = j;
      const double slope = tie * a.after_sd / b.after_sd, back = tie * b.after_sd / a.after_sd;
      const Unit u = unit(a), v = unit(b);
      out_[i].alone_value = u.zero + u.scale * (a.after - slope * (b.after - b.before));
      out_[i].other_value = v.zero + v.scale * (b.after - back * (a.after - a.before));
      if (out_[i].sure != HowSure::contradiction) out_[i].sure = HowSure::only_together;
    }
  }

  /// The wind is two numbers: what counts is the direction in which it stands in for the other.
  void tie_to_wind(std::size_t i, std::size_t j, double& most) {
    const FittedNumber& a = fit_.numbers[from_[i]];
    const auto k = static_cast<Eigen::Index>(from_[i]), w = static_cast<Eigen::Index>(from_[j]);
    const Eigen::Vector2d both = fit_.covariance.block<2, 1>(w, k);
    const Eigen::Vector2d weight = fit_.covariance.block<2, 2>(w, w).ldlt().solve(both);
    const double tie = std::sqrt(both.dot(weight)) / a.after_sd;
    if (tie <= most) return;
    most = tie;
    const Eigen::Vector2d change(fit_.numbers[from_[j]].after, fit_.numbers[from_[j] + 1].after);
    const Unit u = unit(a);
    out_[i].with = j;
    out_[i].alone_value = u.zero + u.scale * (a.after - weight.dot(change));
    const Eigen::Vector2d forecast = air_.forecast_enu_mps(0.0, 0.0);
    const Eigen::Vector2d needed = change - both * ((a.after - a.before) / (a.after_sd * a.after_sd));
    out_[i].other_value = forecast.norm() > 0.1 ? needed.dot(forecast.normalized()) : needed.norm();
    if (out_[i].sure != HowSure::contradiction) out_[i].sure = HowSure::only_together;
  }

  const Fit& fit_;
  const RideAir& air_;
  const std::vector<std::size_t>& riders_;
  const std::vector<double>& saved_;
  std::vector<LearnedNumber> out_;
  std::vector<std::size_t> from_;  // by number told: its place in the fit; of the wind that of its east
};

}  // namespace

std::vector<LearnedNumber> numbers_of(const Fit& fit, const RideAir& air, const std::vector<std::size_t>& riders,
                                      const std::vector<double>& company_saved) {
  return Numbers(fit, air, riders, company_saved).all();
}

}  // namespace leewheel
