#include "after/debrief_parts.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel {

namespace {
constexpr double finish_near_m = 60.0;  // a recording that ends so near the finish reached it (assumed)
constexpr double in_wake_m = 40.0;      // farther behind another a rider is alone (assumed)
constexpr double same_stand_m = 100.0;  // riders wait in a file (assumed)

/// Mean power while moving, and time stood, between two places.
struct Sum {
  double energy_J = 0.0, power_s = 0.0, moving_s = 0.0, alone_s = 0.0;
  double power_W() const { return power_s > 0.0 ? energy_J / power_s : not_recorded; }
};

template <class Distance, class Speed, class Power>
Sum summed(double from_m, double to_m, const Distance& distance_m, const Speed& speed_mps, const Power& power_W,
           const std::vector<bool>* with) {
  Sum sum;
  for (std::size_t k = 0; k < distance_m.size(); ++k) {
    if (distance_m[k] < from_m || distance_m[k] >= to_m || speed_mps[k] < waiting_mps) continue;
    ++sum.moving_s;
    if (with && !(*with)[k]) ++sum.alone_s;
    if (!std::isnan(power_W[k])) sum.energy_J += power_W[k], ++sum.power_s;
  }
  return sum;
}

double stood_between_s(const std::vector<Stand>& stands, double from_m, double to_m) {
  double sum_s = 0.0;
  for (const Stand& stand : stands)
    if (stand.at_m >= from_m && stand.at_m < to_m) sum_s += stand.stood_s();
  return sum_s;
}

}  // namespace

Company company_of(const RiddenWay& way, const PlannedRider& planned, const std::vector<bool>& with,
                   const std::vector<double>& nearest_m, bool alone, bool unrecorded) {
  Company company{std::vector<float>(way.size(), 0.0f), std::vector<bool>(way.size(), true)};
  for (std::size_t k = 0; !alone && k < way.size(); ++k) {
    const std::size_t cell =
        std::min(static_cast<std::size_t>(way.distance_m[k] / cell_length_m), planned.saved_share.size() - 1);
    const double in_plan = planned.saved_share[cell];
    const bool near = nearest_m[k] < in_wake_m, perhaps = unrecorded && (planned.in_company[cell] || in_plan > 0.0);
    company.alone[k] = !with[k] && !near && !perhaps;
    if (with[k])
      company.saved_share[k] = static_cast<float>(planned.in_company[cell] ? in_plan : planned.usual_saved_share);
    else if (near || unrecorded)
      company.saved_share[k] = static_cast<float>(in_plan);
  }
  return company;
}

void close_profile(const RiddenWay& way, double length_m, PaceProfile& profile) {
  for (double& arrival : profile.arrival_s) arrival += way.begin_s;
  const double left_m = length_m - profile.end_m;
  if (left_m > finish_near_m || !std::isnan(profile.arrival_s.back())) return;
  double last_mps = 0.0, count = 0.0;
  for (std::size_t k = way.size() > 10 ? way.size() - 10 : 0; k < way.size(); ++k) last_mps += way.speed_mps[k], ++count;
  last_mps = std::max(1.0, last_mps / count);
  for (std::size_t edge = 0; edge < profile.arrival_s.size(); ++edge) {
    const double at_m = std::min(length_m, cell_length_m * static_cast<double>(edge));
    if (std::isnan(profile.arrival_s[edge]) && at_m > profile.end_m)
      profile.arrival_s[edge] = way.end_s() + (at_m - profile.end_m) / last_mps;
  }
  profile.end_m = length_m;
}

std::vector<DebriefStretch> stretches_told(const Road& road, const AlongRoad& along) {
  std::vector<DebriefStretch> told;
  const auto at = [&](double distance_m) {
    const auto found = std::lower_bound(along.distance_m.begin(), along.distance_m.end(), distance_m - 1e-6);
    const auto k = static_cast<double>(std::min<std::ptrdiff_t>(found - along.distance_m.begin(),
                                                                static_cast<std::ptrdiff_t>(along.distance_m.size()) - 1));
    const auto i = static_cast<std::size_t>(k);
    if (i == 0) return k;
    const double cell_m = along.distance_m[i] - along.distance_m[i - 1];
    return k - std::clamp((along.distance_m[i] - distance_m) / cell_m, 0.0, 1.0);
  };
  const auto value = [](const auto& values, double position) {
    const auto i = std::min(static_cast<std::size_t>(position), values.size() - 2);
    return std::lerp(values[i], values[i + 1], position - static_cast<double>(i));
  };
  for (const RoadStretch& where : stretches_of(road)) {
    const double from_m = std::max(where.from_m, along.distance_m.front()),
                 to_m = std::min(where.to_m, along.distance_m.back());
    if (to_m - from_m < 0.5 * (where.to_m - where.from_m)) continue;
    DebriefStretch stretch{where.from, where.to, from_m, to_m};
    const double a = at(from_m), b = at(to_m);
    stretch.planned_s = value(along.planned_s, b) - value(along.planned_s, a);
    stretch.ridden_s = value(along.ridden_s, b) - value(along.ridden_s, a);
    for (std::size_t f = 0; f < factors; ++f) {
      std::vector<double> part;
      for (const TimeParts& one : along.part_s) part.push_back(one[f]);
      stretch.part_s[f] = value(part, b) - value(part, a);
    }
    told.push_back(stretch);
  }
  return told;
}

void tell_sums(const RiddenWay& way, const PlannedRider& planned, const Road& road, const std::vector<bool>& with,
               RiderDebrief& told) {
  PaceProfile ridden_profile, plan_profile;  // for their stands only
  ridden_profile.stands = stands(way), plan_profile.stands = planned.stands;
  stand_before_landmarks(road, ridden_profile), stand_before_landmarks(road, plan_profile);
  const std::vector<Stand>&stood = ridden_profile.stands, &planned_stood = plan_profile.stands;
  const auto ridden = [&](double from_m, double to_m) {
    return summed(from_m, to_m, way.distance_m, way.speed_mps, way.power_W, &with);
  };
  const auto plan = [&](double from_m, double to_m) {
    return summed(from_m, to_m, planned.distance_m, planned.speed_mps, planned.power_W, nullptr);
  };
  for (DebriefStretch& s : told.stretches) {
    const Sum sum = ridden(s.from_m, s.to_m);
    s.power_W = sum.power_W(), s.planned_power_W = plan(s.from_m, s.to_m).power_W();
    s.alone_share = sum.moving_s > 0.0 ? sum.alone_s / sum.moving_s : 1.0;
    s.stood_s = stood_between_s(stood, s.from_m, s.to_m);
    s.planned_stood_s = stood_between_s(planned_stood, s.from_m, s.to_m);
  }
  told.power_W = ridden(told.from_m, told.to_m).power_W();
  told.planned_power_W = plan(told.from_m, told.to_m).power_W();
  told.stood_s = stood_between_s(stood, told.from_m - 1.0, told.to_m);
  told.planned_stood_s = stood_between_s(planned_stood, told.from_m - 1.0, told.to_m);
}

double planned_stand_s(const PlannedRider& planned, double at_m) {
  double sum_s = 0.0;
  for (const Stand& stand : planned.stands)
    if (std::abs(stand.at_m - at_m) < same_stand_m) sum_s += stand.stood_s();
  return sum_s;
}

}  // namespace leewheel
