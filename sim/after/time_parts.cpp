#include "after/time_parts.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <functional>

namespace leewheel {

namespace {

constexpr std::size_t changeable = factors - 1;  // but the rest
constexpr std::size_t combinations = std::size_t{1} << changeable;

std::vector<double> rerun_with(const RideAir& air, const BothRides& rides, std::size_t mask) {
  static const WindChange as_forecast;
  const auto ridden = [mask](Factor factor) { return (mask >> static_cast<std::size_t>(factor) & 1u) != 0; };
  const RerunParts parts{ridden(Factor::effort) ? &rides.ridden : &rides.planned,
                         ridden(Factor::waits) ? &rides.ridden : &rides.planned,
                         ridden(Factor::company) ? &rides.ridden_factor : &rides.planned.drag_factor,
                         ridden(Factor::wind) ? &rides.wind : &as_forecast,
                         ridden(Factor::numbers) ? &rides.ridden_numbers : &rides.planned_numbers};
  return rerun_s(air, *rides.rider, parts, rides.from_m, rides.to_m, 0.0);
}

/// Of a subset of that size among the other factors.
double shapley_weight(int size) {
  constexpr double weight[] = {1.0 / 5.0, 1.0 / 20.0, 1.0 / 30.0, 1.0 / 20.0, 1.0 / 5.0};
  return weight[size];
}

AlongRoad both_along(const BothRides& rides) {
  AlongRoad along;
  const auto first = static_cast<std::size_t>(std::ceil(rides.from_m / cell_length_m - 1e-9));
  for (std::size_t edge = first; edge < rides.planned.arrival_s.size(); ++edge) {
    const double planned_s = rides.planned.arrival_s[edge], ridden_s = rides.ridden.arrival_s[edge];
    const double at_m = std::min(cell_length_m * static_cast<double>(edge), rides.to_m);
    if (std::isnan(planned_s) || std::isnan(ridden_s)) continue;
    along.distance_m.push_back(at_m);
    along.planned_s.push_back(planned_s), along.ridden_s.push_back(ridden_s);
    const std::size_t cell = std::min(edge, rides.planned.power_W.size() - 1);
    along.planned_power_W.push_back(rides.planned.power_W[cell]),
        along.power_W.push_back(rides.ridden.measured[cell] ? rides.ridden.power_W[cell] : not_recorded);
    along.part_s.emplace_back();
    if (at_m >= rides.to_m) break;
  }
  return along;
}

/// Change of the time at the end with one number moved by its spread, both factors beside it as ridden.
double moved_s(const RideAir& air, const BothRides& rides, const std::function<void(BothRides&)>& move, double base_s) {
  BothRides moved = rides;
  move(moved);
  return rerun_with(air, moved, combinations - 1).back() - base_s;
}

TimeParts spreads(const RideAir& air, const BothRides& rides, const Fit& fit, std::size_t index, double base_s) {
  TimeParts variance{};
  const auto add = [&](Factor factor, const std::function<void(BothRides&)>& move) {
    const double moved = moved_s(air, rides, move, base_s);
    variance[static_cast<std::size_t>(factor)] += moved * moved;
  };
  const auto move_power = [&](double share) {
    add(Factor::effort, [&](BothRides& b) {
      for (double& p : b.ridden.power_W) p *= 1.0 - share;
    });
  };
  for (const FittedNumber& n : fit.numbers) {
    const bool shared = n.what == Learnt::rolling || n.what == Learnt::wind_east || n.what == Learnt::wind_north;
    if (!shared && n.of != index) continue;
    const double sd = n.after_sd;
    switch (n.what) {
      case Learnt::drag_area: add(Factor::numbers, [&](BothRides& b) { b.ridden_numbers.drag_area += sd; }); break;
      case Learnt::mass: add(Factor::numbers, [&](BothRides& b) { b.ridden_numbers.mass_kg += sd; }); break;
      case Learnt::rolling: add(Factor::numbers, [&](BothRides& b) { b.ridden_numbers.rolling[n.of] += sd; }); break;
      case Learnt::power_scale: move_power(std::hypot(sd, rides.scale_doubt)); break;
      case Learnt::company:
        add(Factor::company, [&](BothRides& b) {
          for (double& k : b.ridden_factor) k -= sd * (1.0 - k);
        });
        break;
      default: {
        const int axis = n.what == Learnt::wind_north;
        add(Factor::wind, [&](BothRides& b) { b.wind.by_hour_mps[n.of][axis] += sd; });
      }
    }
  }
  if (!fit.find(Learnt::power_scale, index)) move_power(FitPriors{}.power_scale);  // a meter that nothing was learned of
  TimeParts sd{};
  for (std::size_t k = 0; k < factors; ++k) sd[k] = std::sqrt(variance[k]);
  return sd;
}

}  // namespace

TimeParted part_time(const RideAir& air, const BothRides& rides, const Fit& fit, std::size_t index) {
  TimeParted out;
  out.along = both_along(rides);
  std::vector<std::vector<double>> at_s;
  for (std::size_t mask = 0; mask < combinations; ++mask) at_s.push_back(rerun_with(air, rides, mask));
  const auto first = static_cast<std::size_t>(std::lround(std::floor(out.along.distance_m.front() / cell_length_m)));
  const double apart_s = out.along.ridden_s.front() - out.along.planned_s.front();
  for (std::size_t k = 0; k < out.along.distance_m.size(); ++k) {
    const std::size_t edge = std::min(first + k, at_s[0].size() - 1);
    TimeParts& part = out.along.part_s[k];
    double sum_s = 0.0;
    for (std::size_t f = 0; f < changeable; ++f) {
      for (std::size_t mask = 0; mask < combinations; ++mask) {
        if (mask >> f & 1u) continue;
        part[f] += shapley_weight(std::popcount(mask)) * (at_s[mask | std::size_t{1} << f][edge] - at_s[mask][edge]);
      }
      sum_s += part[f];
    }
    part[changeable] = out.along.ridden_s[k] - out.along.planned_s[k] - apart_s - sum_s;
  }
  out.part_s = out.along.part_s.back();
  out.part_sd_s = spreads(air, rides, fit, index, at_s[combinations - 1].back());
  return out;
}

std::array<bool, factors> told_parts(const TimeParts& part_s, const TimeParts& sd_s, double planned_s) {
  std::array<bool, factors> told{};
  for (std::size_t k = 0; k < factors; ++k)
    told[k] = std::abs(part_s[k]) >= 0.01 * planned_s && std::abs(part_s[k]) > sd_s[k];
  told[static_cast<std::size_t>(Factor::rest)] = true;
  return told;
}

}  // namespace leewheel
