#include "leewheel/ride.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numeric>

#include "leewheel/motion.hpp"
#include "model/state.hpp"

namespace leewheel {

std::span<const NumberField<RideSettings>> ride_fields() {
  using R = RideSettings;
  static constexpr const char* ours = "assumed";
  static constexpr NumberField<R> fields[] = {
      {"step_s", &R::step_s, 0.02, 1.0, "time step (s)", ours},
      {"lee_interval_s", &R::lee_interval_s, 0.02, 2.0,
       "lee, wind, air density and rolling at a rider are looked up this often, at least every step (s)", ours},
      {"record_interval_s", &R::record_interval_s, 0.1, 600.0, "a sample of the trace this often (s)", ours},
      {"time_limit_s", &R::time_limit_s, 1.0, 7 * 86400.0, "the ride ends here at the latest (s)", ours},
      {"start_speed_mps", &R::start_speed_mps, 0.0, 20.0, "rolling start (m/s)", ours},
      {"start_gap_m", &R::start_gap_m, 0.1, 50.0, "wheel gap at the start (m)", ours},
  };
  return fields;
}

namespace {
constexpr double climbing_from_grade = 0.03, climbing_blend = 0.02;  // sits up between 3 and 5 % (assumed)
constexpr double grade_window_m = 40.0;                              // slope as a rider feels it (assumed)
constexpr double easing_effective_grade = 0.015;                     // "clearly easier" (assumed)
constexpr double easing_window_m = 150.0;
constexpr double easing_speed_mps = 6.0, easing_area_per_kg = 0.34 / 82.0;
constexpr double stalled_after_s = 120.0;
constexpr double touching_m = beside_m - 1e-6;  // riders closer than this sideways are in each other's way
constexpr double look_ahead_m = 60.0;
constexpr int look_ahead_riders = 8;
constexpr double quiet_after_gust_s = 120.0;  // a rider is warned of gusts no more often (assumed)
constexpr double density_interval_s = 60.0;
constexpr double heart_rise_s = 55.0, heart_fall_s = 75.0;  // first order, from memory (+-40 %)

double mean_slope(const Road& road, double from_m, double to_m) {
  return (road.elevation_m(to_m) - road.elevation_m(from_m)) / (to_m - from_m);
}
}  // namespace

bool closed_to_traffic(const Scenario& scenario, double distance_m) {
  constexpr double back_m = 150.0;  // (assumed)
  const Road& road = scenario.road;
  return scenario.ride.closed_road || (road.closed(distance_m) && road.closed(distance_m + back_m));
}

Lane lane_at(const Scenario& scenario, double distance_m) {
  constexpr double edge_m = 0.4, middle_m = 0.2;  // kept from the road's edge and from oncoming traffic (assumed)
  const double outer_m = std::max(0.2, 0.5 * scenario.road.width_m(distance_m) - edge_m);
  if (closed_to_traffic(scenario, distance_m)) return {-outer_m, outer_m};
  return scenario.ride.keep_right ? Lane{-outer_m, -middle_m} : Lane{middle_m, outer_m};
}

bool room_for_two(const Scenario& scenario, double distance_m) {
  const Lane lane = lane_at(scenario, distance_m);
  const bool allowed = closed_to_traffic(scenario, distance_m) || scenario.road.abreast(distance_m) > 1;
  return allowed && lane.high_m - lane.low_m >= scenario.tactics.swing_off_m;
}

Track::Track(const Scenario& scenario, const Wind& wind) {
  const Road& road = scenario.road;
  const TacticsSettings& t = scenario.tactics;
  const std::size_t n = road.profile().elevation_m.size();
  const double spacing = road.spacing_m();
  per_m_ = 1.0 / spacing;
  last_ = static_cast<double>(n - 2);
  length_m_ = road.length_m();
  cells_.resize(n);
  rules_.resize(n);
  std::vector<double> effective(n);
  Wind::Moment start;
  wind.look_at(0.0, start);
  for (std::size_t k = 0; k < n; ++k) {
    const double x = std::min(static_cast<double>(k) * spacing, length_m_);
    RoadCell& cell = cells_[k];
    rules_[k] = {lane_at(scenario, x), closed_to_traffic(scenario, x), room_for_two(scenario, x)};
    cell.elevation_m = road.profile().elevation_m[k];
    const double inside = std::min(x, length_m_ - 0.5 * spacing);
    cell.rolling_cos = static_cast<float>(road.rolling(x) * std::cos(std::atan(road.grade(inside))));
    const double slope =
        mean_slope(road, std::max(0.0, x - 0.5 * grade_window_m), std::min(length_m_, x + 0.5 * grade_window_m) + 1e-9);
    cell.climbing = static_cast<float>(std::clamp((slope - climbing_from_grade) / climbing_blend, 0.0, 1.0));
    const double bend = std::abs(road.curvature_1pm(x));
    cell.speed_limit_mps = static_cast<float>(
        std::min(slope < -0.005 ? t.descent_speed_mps : 40.0, std::sqrt(t.cornering_mps2 / std::max(bend, 1e-6))));
    cell.half_density = static_cast<float>(
        0.5 * air_density_kgpm3(air_at_altitude(scenario.air, scenario.air_station_altitude_m, cell.elevation_m)));
    const RoadWind air = wind.at(x, wind.mean_enu_mps(x, start));
    const double along = easing_speed_mps - air.along_mps;
    effective[k] =
        slope + cell.half_density * easing_area_per_kg * along * std::hypot(along, air.cross_mps) / scenario.gravity_mps2;
  }
  for (std::size_t k = n - 1; k-- > 0;) {  // room to brake for what comes
    const double next = cells_[k + 1].speed_limit_mps;
    cells_[k].speed_limit_mps = std::min(
        cells_[k].speed_limit_mps, static_cast<float>(std::sqrt(next * next + 2.0 * t.comfort_braking_mps2 * spacing)));
  }
  // Where road and wind together next ask clearly less, for a while.
  std::vector<double> sum(n + 1, 0.0);
  for (std::size_t k = 0; k < n; ++k) sum[k + 1] = sum[k] + effective[k];
  const auto window = static_cast<std::size_t>(std::max(1.0, easing_window_m / spacing));
  const auto mean_from = [&](std::size_t k) {
    const std::size_t end = std::min(n, k + window);
    return (sum[end] - sum[k]) / static_cast<double>(end - k);
  };
  easing_at_m_.resize(n);
  std::vector<double> least_ahead(n + 1,
                                  std::numeric_limits<double>::infinity());  // spares a search that would find nothing
  for (std::size_t k = n; k-- > 0;) least_ahead[k] = std::min(least_ahead[k + 1], mean_from(k));
  std::size_t found = n - 1;
  for (std::size_t k = 0; k < n; ++k) {
    const double here = mean_from(k > window ? k - window : 0);
    if (least_ahead[k + 1] > here - easing_effective_grade)
      found = n - 1;
    else if (found <= k || mean_from(found) > here - easing_effective_grade)
      for (found = k + 1; found < n - 1 && mean_from(found) > here - easing_effective_grade; found += 10) {
      }
    found = std::min(found, n - 1);
    easing_at_m_[k] = static_cast<float>(static_cast<double>(found) * spacing);
  }
}

void Riders::resize(std::size_t n) {
  const std::size_t filled = filled_up(n);
  count = n;
  settings.resize(n);
  plans.resize(n);
  for (auto* v : {&weight_N,
                  &moving_mass_kg,
                  &per_moving_mass,
                  &efficiency,
                  &per_efficiency,
                  &wheel_area_m2,
                  &rolling_multiplier,
                  &pedal_limit_N,
                  &area_hoods_m2,
                  &area_drops_m2,
                  &area_upright_m2,
                  &own_gap_m,
                  &wish_gap_m,
                  &x_m,
                  &y_m,
                  &v_mps,
                  &area_m2,
                  &wind_along_mps,
                  &wind_cross_mps,
                  &elevation_m,
                  &half_density,
                  &rolling_N,
                  &climbing,
                  &rides_freely,
                  &on_road,
                  &ordered_W,
                  &most_W,
                  &pace_mps,
                  &y_target_m,
                  &y_low_m,
                  &y_high_m,
                  &power_W,
                  &alone_W,
                  &accel_mps2,
                  &wbal_J,
                  &wbal_least_J,
                  &pedal_before_J,
                  &critical_W,
                  &peak_per_J,
                  &sheltered_s,
                  &overlap_s,
                  &side_force_N,
                  &largest_side_force_N})
    v->assign(filled, 0.0);
  for (auto* v : {&lee, &yaw_factor, &side_lee}) v->assign(filled, 1.0);
  for (auto* v : {&weight_N, &moving_mass_kg, &per_moving_mass, &efficiency, &per_efficiency})
    std::fill(v->begin() + static_cast<std::ptrdiff_t>(n), v->end(), 1.0);
  stop_at_m.assign(n, 1e12);
  wheel_of.assign(n, nobody);
  blocker.assign(n, nobody);
  front_of.resize(n);
  std::iota(front_of.begin(), front_of.end(), 0u);
  for (auto* v : {&books.pedal_J, &books.drivetrain_J, &books.air_J, &books.rolling_J, &books.bearings_J, &books.braking_J,
                  &books.potential_J, &books.kinetic_J, &books.alone_J})
    v->assign(filled, 0.0);
  riding.assign(n, 1);
  std::fill_n(on_road.begin(), n, 1.0);
}

namespace {

/// Start line: named riders first, the others by name.
std::vector<RiderIndex> start_order(const Scenario& scenario, const Riders& r) {
  std::vector<RiderIndex> order;
  for (const std::string& name : scenario.ride.order)
    for (RiderIndex i = 0; i < r.count; ++i)
      if (r.settings[i].name == name) order.push_back(i);
  for (RiderIndex i = 0; i < r.count; ++i)
    if (std::find(order.begin(), order.end(), i) == order.end()) order.push_back(i);
  return order;
}

void fill_constants(Riders& r, const Scenario& scenario) {
  for (std::size_t i = 0; i < r.count; ++i) {
    const RiderSettings& s = r.settings[i];
    r.weight_N[i] = s.total_mass_kg() * scenario.gravity_mps2;
    r.moving_mass_kg[i] = s.total_mass_kg() + s.wheel_inertia_kgm2 / (s.wheel_radius_m * s.wheel_radius_m);
    r.per_moving_mass[i] = 1.0 / r.moving_mass_kg[i];
    r.efficiency[i] = s.drivetrain_efficiency;
    r.per_efficiency[i] = 1.0 / s.drivetrain_efficiency;
    r.wheel_area_m2[i] = s.wheel_drag_area_m2;
    r.rolling_multiplier[i] = s.rolling_multiplier;
    r.pedal_limit_N[i] = s.pedal_force_N * 2.0 * std::numbers::pi * s.crank_length_m / s.lowest_development_m;
    r.area_hoods_m2[i] = s.drag_area_hoods_m2;
    r.area_drops_m2[i] = s.drag_area_drops_m2;
    r.area_upright_m2[i] = s.drag_area_upright_m2;
    r.area_m2[i] = s.drag_area_hoods_m2;
    r.own_gap_m[i] =
        scenario.tactics.gap_wary_m + s.wheel_skill * (scenario.tactics.gap_skilled_m - scenario.tactics.gap_wary_m);
    r.wbal_J[i] = r.wbal_least_J[i] = s.w_prime_J;
    r.critical_W[i] = s.critical_power_W;
    r.peak_per_J[i] = (s.peak_power_W - s.critical_power_W) / s.w_prime_J;
  }
}

/// Two groups of like strength: by the speed each holds alone on the road's mean grade, cut at the largest step between
/// the first and the last quarter.
void part_by_strength(const Scenario& scenario, const Riders& r, std::vector<Mind>& minds) {
  if (r.count < 4) return;
  std::vector<std::pair<double, RiderIndex>> speeds;
  for (RiderIndex i = 0; i < r.count; ++i) {
    const RiderSettings& s = r.settings[i];
    RoadLoad load;
    load.mass_kg = s.total_mass_kg();
    load.drag_area_m2 = s.drag_area_hoods_m2;
    load.grade = std::max(0.0, scenario.road.facts().mean_grade);
    speeds.emplace_back(-steady_speed_mps(load, s.target_effort * s.critical_power_W), i);
  }
  std::sort(speeds.begin(), speeds.end());
  std::size_t cut = r.count / 2;
  double widest = -1.0;
  for (std::size_t k = (r.count + 3) / 4; k <= r.count - (r.count + 3) / 4; ++k)
    if (const double step = speeds[k].first - speeds[k - 1].first; step > widest) {
      widest = step;
      cut = k;
    }
  for (std::size_t k = cut; k < r.count; ++k) minds[speeds[k].second].squad = 1;
}

void line_up(Riders& r, const Scenario& scenario, const std::vector<RiderIndex>& order, const std::vector<Mind>& minds) {
  const int abreast = std::max(1, scenario.ride.start_abreast);
  const double row_m = bicycle_length_m + scenario.ride.start_gap_m;
  const std::size_t rows = (order.size() + abreast - 1) / abreast;
  const double width_m = scenario.road.width_m(0.0);
  for (std::size_t place = 0; place < order.size(); ++place) {
    const RiderIndex i = order[place];
    const std::size_t row = place / abreast, column = place % abreast;
    const bool two_groups = minds[order.back()].squad == 1;
    r.x_m[i] = static_cast<double>(rows - 1 - row) * row_m +
               (two_groups && minds[i].squad == 0 ? scenario.tactics.second_group_gap_m : 0.0);
    const double middle_m = (scenario.ride.keep_right ? -0.25 : 0.25) * width_m;
    const double from_edge_m = (static_cast<double>(column) + 0.5) * width_m / abreast;  // the edge of the side kept
    r.y_m[i] = abreast == 1 ? middle_m : (scenario.ride.keep_right ? 1.0 : -1.0) * (from_edge_m - 0.5 * width_m);
    r.y_target_m[i] = r.y_m[i];
    r.v_mps[i] = scenario.ride.start_speed_mps;
  }
}

}  // namespace

Ride::State::State(const Scenario& given, bool with_debts)
    : scenario(given),
      notes_debts(with_debts),
      wind(scenario.wind, scenario.road),
      track(scenario, wind),
      bunch(scenario.bunch, scenario.riders.size()),
      debts(scenario.riders.size()),
      step_s(scenario.ride.step_s) {
  const std::size_t n = scenario.riders.size();
  assert(n > 0);
  scenario_index.resize(n);
  std::iota(scenario_index.begin(), scenario_index.end(), 0u);
  std::sort(scenario_index.begin(), scenario_index.end(),
            [&](RiderIndex a, RiderIndex b) { return scenario.riders[a].name < scenario.riders[b].name; });
  file_order.resize(n);
  for (RiderIndex i = 0; i < n; ++i) file_order[scenario_index[i]] = i;
  riders.resize(n);
  for (RiderIndex i = 0; i < n; ++i) {
    riders.settings[i] = scenario.riders[scenario_index[i]];
    if (scenario_index[i] < scenario.plans.size()) riders.plans[i] = scenario.plans[scenario_index[i]];
  }
  fill_constants(riders, scenario);
  minds.resize(n);
  if (scenario.ride.kind == RideKind::by_strength) part_by_strength(scenario, riders, minds);
  order = start_order(scenario, riders);
  std::stable_sort(order.begin(), order.end(), [&](RiderIndex a, RiderIndex b) { return minds[a].squad < minds[b].squad; });
  line_up(riders, scenario, order, minds);
  for (RiderIndex i = 0; i < n; ++i) riders.elevation_m[i] = track.elevation_m(riders.x_m[i]);
  rank_of.resize(n);
  sort_along_road();
  for (RiderIndex i = 0; i < n; ++i) {
    minds[i].pull_s = scenario.tactics.turn_s;
    while (minds[i].next_regroup < scenario.ride.regroup_at_m.size() &&
           scenario.ride.regroup_at_m[minds[i].next_regroup] <= riders.x_m[i] + 1.0)
      ++minds[i].next_regroup;
  }
  lee_every = std::max<std::uint64_t>(1, std::llround(scenario.ride.lee_interval_s / step_s));
  decide_every = std::max<std::uint64_t>(1, std::llround(1.0 / step_s));
  lee_every = std::min(lee_every, decide_every);
  while (decide_every % lee_every != 0) --lee_every;  // decisions and debts need the lee of their own moment
  for (auto* v : {&lee_x_m, &lee_y_m, &lee_area_m2, &lee_along_mps, &lee_cross_mps, &lee_turbulence, &lee_factor, &lee_side})
    v->resize(n);
  passages.resize(n);
  next_landmark.assign(n, 0);
  next_mark_m.assign(n, 0.0);
  last_group.assign(n, no_group);
  finish_s.assign(n, 0.0);
  heart_share.assign(n, 0.5);
  heavy_s.assign(n, 0.0);
  waited_s.assign(n, 0.0);
  in_group_s.assign(n, 0.0);
  pedal_by_law_J.assign(n, 0.0);
  wbal_by_law_J.resize(n);
  for (RiderIndex i = 0; i < n; ++i) wbal_by_law_J[i].fill(riders.settings[i].w_prime_J);
  reaction_steps = static_cast<std::uint64_t>(std::llround(scenario.tactics.reaction_s / step_s));
  riders.past_mps.assign(reaction_steps * n, static_cast<float>(scenario.ride.start_speed_mps));
  wind.raise_gusts(scenario.ride.seed);
  local_wind = wind.is_local();
  const double middle_m = scenario.road.elevation_m(0.5 * scenario.road.length_m());
  density_factors =
      station_density_factors(scenario.wind, scenario.air, scenario.air_station_altitude_m, middle_m, density_interval_s);
  side_told_until_s.assign(n, 0.0);
}

void Ride::State::sort_along_road() {
  // Nearly sorted at every step: insertion costs about one comparison a rider. Ties go by name.
  const auto before = [&](RiderIndex a, RiderIndex b) {
    return riders.x_m[a] > riders.x_m[b] || (riders.x_m[a] == riders.x_m[b] && a < b);
  };
  bool sorted = tick > 0;
  for (std::size_t k = 1; k < order.size(); ++k) {
    const RiderIndex moving = order[k];
    if (!before(moving, order[k - 1])) continue;
    sorted = false;
    std::size_t to = k;
    while (to > 0 && before(moving, order[to - 1])) {
      order[to] = order[to - 1];
      --to;
    }
    order[to] = moving;
  }
  if (sorted) return;
  for (std::size_t k = 0; k < order.size(); ++k) rank_of[order[k]] = static_cast<RiderIndex>(k);
}

void Ride::State::look_around() {
  Riders& r = riders;
  const double interval_s = static_cast<double>(lee_every) * step_s;
  for (const RiderIndex i : order) {
    const Lane lane = track.rules(r.x_m[i]).lane;
    r.y_low_m[i] = lane.low_m;
    r.y_high_m[i] = lane.high_m;
    r.blocker[i] = nobody;
  }
  for (std::size_t place = 1; place < order.size(); ++place) {
    const RiderIndex i = order[place];
    bool overlapped = false;
    for (std::size_t k = 1; k <= place && k <= look_ahead_riders; ++k) {
      const RiderIndex j = order[place - k];
      const double ahead_m = r.x_m[j] - r.x_m[i], aside_m = r.y_m[j] - r.y_m[i];
      if (ahead_m > look_ahead_m) break;
      if (std::abs(aside_m) < touching_m && r.blocker[i] == nobody && ahead_m > 0.5 * bicycle_length_m) r.blocker[i] = j;
      if (ahead_m < bicycle_length_m)
        overlapped = overlapped || (ahead_m > 0.5 && std::abs(aside_m) < 0.6 && r.v_mps[i] > 1.0);
      else if (r.blocker[i] != nobody)
        break;
    }
    if (overlapped) r.overlap_s[i] += interval_s;
  }
}

/// What riders meet until the next time, taken from where they will be half-way there, and what the others' wakes make of it.
void Ride::State::find_lee() {
  Riders& r = riders;
  const std::size_t n = order.size();
  const double half_interval_s = 0.5 * static_cast<double>(lee_every) * step_s, middle_s = time_s() + half_interval_s;
  const Eigen::Vector2d forecast = wind.forecast_enu_mps(middle_s);  // all there is to know, unless the wind is local
  if (local_wind) wind.look_at(middle_s, wind_now);
  const WakeBase& law = wake_base(scenario.lee);
  for (std::size_t k = 0; k < n; ++k) {
    const RiderIndex i = order[k];
    lee_x_m[k] = r.x_m[i];
    lee_y_m[k] = r.y_m[i];
    lee_area_m2[k] = r.area_m2[i];
    const Track::Place at = track.place(r.x_m[i] + r.v_mps[i] * half_interval_s);
    const RoadCell& cell = track.cell(at);
    const RoadWind air =
        wind.at(at.cell, at.part, local_wind ? wind.local_enu_mps(track.distance_m(at), wind_now, r.y_m[i]) : forecast);
    r.wind_along_mps[i] = air.along_mps;
    r.wind_cross_mps[i] = air.cross_mps;
    r.half_density[i] = density_factor * cell.half_density;
    r.rolling_N[i] = r.weight_N[i] * r.rolling_multiplier[i] * cell.rolling_cos;
    r.climbing[i] = cell.climbing;
    lee_along_mps[k] = r.v_mps[i] - air.along_mps;
    lee_cross_mps[k] = air.cross_mps;
    if (scenario.wind.yaw_drag) r.yaw_factor[i] = yaw_drag_factor(std::atan2(std::abs(air.cross_mps), lee_along_mps[k]));
    const double cross2 = air.cross_mps * air.cross_mps;
    const double wind2 = air.along_mps * air.along_mps + cross2, met2 = lee_along_mps[k] * lee_along_mps[k] + cross2;
    lee_turbulence[k] = wake_turbulence(law, wind.turbulence_intensity(at.cell, at.part), wind2, met2);
  }
  const auto part = [n](std::vector<double>& v) { return std::span<double>(v.data(), n); };
  const bool book = notes_debts && tick % decide_every == 0;
  wake_factors(
      scenario.lee,
      {part(lee_x_m), part(lee_y_m), part(lee_area_m2), part(lee_along_mps), part(lee_cross_mps), part(lee_turbulence)},
      {part(lee_factor), part(lee_side)}, book ? &links : nullptr);
  for (std::size_t k = 0; k < n; ++k) {
    const RiderIndex i = order[k];
    r.lee[i] = lee_factor[k];
    r.side_lee[i] = lee_side[k];
  }
  if (!book) return;
  const double interval_s = static_cast<double>(decide_every) * step_s;
  for (const LeeLink& link : links) {
    const RiderIndex giver = order[link.giver], receiver = order[link.receiver];
    const double saved_J = (r.alone_W[receiver] - r.power_W[receiver]) * interval_s * link.share;
    if (saved_J != 0.0) debts.book(scenario_index[giver], scenario_index[receiver], saved_J);
  }
}

void Ride::State::note_passages(double before_s) {
  const auto& landmarks = scenario.road.landmarks();
  const double length_m = scenario.road.length_m();
  bool finished = false;
  for (const RiderIndex i : order) {
    const double x1 = riders.x_m[i], v = riders.v_mps[i];
    if (x1 < next_mark_m[i]) continue;
    const auto note = [&](const std::string& name, double at_m) {
      const double back_s = v > 0.1 ? std::min(step_s, (x1 - at_m) / v) : 0.0;
      const EnergyLedger book = riders.books.of(i);
      passages[i].push_back({name, at_m, before_s + step_s - back_s, riders.power_W[i], riders.wbal_J[i], book.pedal_J,
                             book.saved_J, book.alone_J, riders.sheltered_s[i]});
    };
    while (next_landmark[i] < landmarks.size() && x1 >= landmarks[next_landmark[i]].distance_m) {
      note(landmarks[next_landmark[i]].name, landmarks[next_landmark[i]].distance_m);
      ++next_landmark[i];
    }
    next_mark_m[i] =
        next_landmark[i] < landmarks.size() ? std::min(landmarks[next_landmark[i]].distance_m, length_m) : length_m;
    if (x1 < length_m) continue;
    note("finish", length_m);
    finish_s[i] = passages[i].back().time_s;
    riders.riding[i] = 0;
    riders.on_road[i] = 0.0;
    minds[i].role = Role::finished;
    finished = true;
    events.push_back({EventKind::finished, finish_s[i], length_m, {i}, bunch.group_of()[i], {Reason::at_the_top}});
  }
  if (!finished) return;
  std::erase_if(order, [&](RiderIndex i) { return riders.riding[i] == 0; });
  for (std::size_t k = 0; k < order.size(); ++k) rank_of[order[k]] = static_cast<RiderIndex>(k);
  for (const RiderIndex i : order) {
    for (RiderIndex* other : {&riders.wheel_of[i], &riders.blocker[i]})
      if (*other != nobody && !riders.riding[*other]) *other = nobody;
    if (!riders.riding[riders.front_of[i]]) riders.front_of[i] = i;
  }
}

void Ride::State::regroup() {
  std::vector<BunchRider>& seen = bunch_scratch;
  seen.resize(riders.count);
  for (RiderIndex i = 0; i < riders.count; ++i) seen[i] = {riders.x_m[i], riders.v_mps[i], riders.riding[i] != 0};
  bunch.update(
      time_s(), static_cast<double>(decide_every) * step_s, seen, order, [&](std::uint32_t i) { return standing(i); },
      events);
  std::vector<std::uint32_t>& size = size_scratch;
  size.assign(groups.size(), 0);
  for (RiderIndex i = 0; i < riders.count; ++i) {
    const std::int32_t id = bunch.group_of()[i];
    if (id == no_group) continue;
    if (group_row.size() <= static_cast<std::size_t>(id)) group_row.resize(id + 1, -1);
    if (group_row[id] < 0) {
      group_row[id] = static_cast<std::int32_t>(groups.size());
      groups.push_back({id, time_s(), time_s(), 0, {}});
    }
    GroupSpan& group = groups[group_row[id]];
    size.resize(groups.size(), 0);
    group.largest = std::max(group.largest, ++size[group_row[id]]);
    group.to_s = time_s();
    if (last_group[i] == id) continue;
    last_group[i] = id;
    if (std::find(group.riders.begin(), group.riders.end(), i) == group.riders.end()) group.riders.push_back(i);
  }
  const double interval_s = static_cast<double>(decide_every) * step_s;
  bool moving = false;
  for (const RiderIndex i : order) {
    const double effort = riders.power_W[i] / riders.settings[i].critical_power_W;
    const double towards = std::clamp(0.35 + 0.57 * effort, 0.35, 1.0);  // share of the highest rate, from memory
    heart_share[i] += (towards - heart_share[i]) * interval_s / (towards > heart_share[i] ? heart_rise_s : heart_fall_s);
    if (minds[i].role == Role::waiting) waited_s[i] += interval_s;
    if (bunch.group_of()[i] != no_group) in_group_s[i] += interval_s;
    moving = moving || riders.v_mps[i] > 0.2 || minds[i].role == Role::waiting;
  }
  feel_side_force();
  if (moving || order.empty()) still_since_s = time_s();
}

double Ride::State::density_now() const {
  const double middle_m = 0.5 * (riders.x_m[order.front()] + riders.x_m[order.back()]);
  const auto minute = static_cast<std::size_t>(time_s() / density_interval_s);
  double factor = 0.0;
  for (std::size_t station = 0; station < density_factors.size(); ++station) {
    const std::vector<double>& of_one = density_factors[station];
    factor += wind.station_share(station, middle_m) * (of_one.empty() ? 1.0 : of_one[std::min(of_one.size() - 1, minute)]);
  }
  return factor;
}

void Ride::State::feel_side_force() {
  Riders& r = riders;
  std::vector<RiderIndex> pushed;  // in road order
  double hardest_N = 0.0;
  for (const RiderIndex i : order) {
    const double cross = r.wind_cross_mps[i], along = r.v_mps[i] - r.wind_along_mps[i];
    const double side_N = r.half_density[i] * scenario.wind.side_area_m2 * r.side_lee[i] * std::abs(cross) *
                          std::sqrt(along * along + cross * cross);
    r.side_force_N[i] = side_N;
    r.largest_side_force_N[i] = std::max(r.largest_side_force_N[i], side_N);
    if (!wind.gusty() || side_N <= scenario.wind.side_force_caution_N || time_s() < side_told_until_s[i]) continue;
    side_told_until_s[i] = time_s() + quiet_after_gust_s;
    hardest_N = std::max(hardest_N, side_N);
    pushed.push_back(i);
  }
  if (pushed.empty()) return;
  const RiderIndex first = pushed.front();
  events.push_back({EventKind::caution,
                    time_s(),
                    r.x_m[first],
                    std::move(pushed),
                    bunch.group_of()[first],
                    {Reason::gust_across, nobody, {hardest_N}}});
}

Ride::Ride(const Scenario& scenario, bool notes_debts) : state_(std::make_unique<State>(scenario, notes_debts)) {}
Ride::~Ride() = default;
Ride::Ride(Ride&&) noexcept = default;

void Ride::step() {
  State& s = *state_;
  const double before_s = s.time_s();
  if (s.tick % s.lee_every == 0) {
    if (!s.density_factors.empty() && !s.order.empty()) s.density_factor = s.density_now();
    s.look_around();  // needs the order along the road
    s.find_lee();     // needs gaps and apparent wind
  }
  if (s.tick % s.decide_every == 0) s.decide();  // needs the lee: what a wheel costs
  s.steer();                                     // sideways, towards where the decisions want to be
  s.push();                                      // forces, speed, distance, ledger, W'
  s.keep_apart();                                // no wheel is driven through
  s.sort_along_road();
  ++s.tick;
  s.note_passages(before_s);  // landmarks and the finish
  if (s.tick % s.decide_every == 0) {
    s.recover();  // W' left, from the second's mean power
    s.regroup();  // joins and splits become events
  }
  if (s.order.empty())
    s.end = RideEnd::all_finished;
  else if (s.time_s() >= s.scenario.ride.time_limit_s)
    s.end = RideEnd::time_limit;
  else if (s.time_s() - s.still_since_s > stalled_after_s)
    s.end = RideEnd::rider_stalled;
}

RideEnd Ride::end() const { return state_->end; }
double Ride::time_s() const { return state_->time_s(); }
std::uint64_t Ride::tick() const { return state_->tick; }
double Ride::first_distance_m() const {
  return state_->order.empty() ? state_->scenario.road.length_m() : state_->riders.x_m[state_->order.front()];
}

void Ride::sample(RideSample& into) const {
  const State& s = *state_;
  const Riders& r = s.riders;
  into.time_s = s.time_s();
  for (const SampleColumn& column : sample_columns()) (into.*column.values).resize(r.count);
  for (RiderIndex i = 0; i < r.count; ++i) {
    const std::size_t k = s.scenario_index[i];
    const auto put = [k](std::vector<float>& column, double value) { column[k] = static_cast<float>(value); };
    const bool riding = r.riding[i] != 0, moved = riding && s.tick > 0;  // no forces have acted before the first step
    const RiderIndex w = r.wheel_of[i];
    const double v = r.v_mps[i], weight_N = r.weight_N[i];
    const double along = v - r.wind_along_mps[i];
    put(into.distance_m, std::min(r.x_m[i], s.scenario.road.length_m()));
    put(into.lateral_m, r.y_m[i]);
    put(into.speed_mps, riding ? v : 0.0);
    put(into.power_W, riding ? r.power_W[i] : 0.0);
    put(into.alone_power_W, riding ? r.alone_W[i] : 0.0);
    put(into.lee_factor, riding ? r.lee[i] : 1.0);
    put(into.side_force_N, riding ? r.side_force_N[i] : 0.0);
    put(into.wbal_J, r.wbal_J[i]);
    put(into.group_id, riding ? s.bunch.group_of()[i] : no_group);
    put(into.role, static_cast<double>(s.minds[i].role));
    put(into.wheel_of, w == nobody ? -1.0 : static_cast<double>(s.scenario_index[w]));
    put(into.gap_m, w == nobody ? -1.0 : r.x_m[w] - r.x_m[i] - bicycle_length_m);
    put(into.wind_along_mps, r.wind_along_mps[i]);
    put(into.wind_cross_mps, r.wind_cross_mps[i]);
    put(into.drag_area_m2, r.area_m2[i]);
    put(into.saved_J, r.books.of(i).saved_J);
    put(into.pedal_J, r.books.pedal_J[i]);
    const double slope = s.scenario.road.grade(r.x_m[i]);
    put(into.gravity_W, moved ? weight_N * std::sin(std::atan(slope)) * v : 0.0);
    put(into.air_W, moved ? r.half_density[i] * (r.area_m2[i] * r.yaw_factor[i] * r.lee[i] + r.wheel_area_m2[i]) * along *
                                std::hypot(along, r.wind_cross_mps[i]) * v
                          : 0.0);
    put(into.rolling_W, moved ? (r.rolling_N[i] + bearing_force_N(v)) * v : 0.0);
    put(into.kinetic_W, moved ? r.moving_mass_kg[i] * r.accel_mps2[i] * v : 0.0);
    put(into.heart_rate_share, s.heart_share[i]);
  }
}

RideResult Ride::result() const {
  const State& s = *state_;
  RideResult result{s.end, s.time_s(), {}, s.groups, s.events, s.debts.debts()};
  result.riders.resize(s.riders.count);
  const std::vector<double> given = s.debts.given_J(), received = s.debts.received_J();
  for (RiderIndex i = 0; i < s.riders.count; ++i) {
    const std::size_t k = s.scenario_index[i];
    RiderResult& out = result.riders[k];
    out.name = s.riders.settings[i].name;
    out.finished = s.riders.riding[i] == 0;
    out.finish_time_s = out.finished ? s.finish_s[i] : s.time_s();
    out.distance_m = std::min(s.riders.x_m[i], s.scenario.road.length_m());
    out.ledger = s.riders.books.of(i);
    out.mean_power_W = out.finish_time_s > 0.0 ? out.ledger.pedal_J / out.finish_time_s : 0.0;
    out.sheltered_share = out.finish_time_s > 0.0 ? s.riders.sheltered_s[i] / out.finish_time_s : 0.0;
    out.wbal_end_J = s.riders.wbal_J[i];
    out.wbal_least_J = s.riders.wbal_least_J[i];
    out.wbal_end_by_law_J = s.wbal_by_law_J[i];
    out.waited_s = s.waited_s[i];
    out.in_group_s = s.in_group_s[i];
    out.overlap_s = s.riders.overlap_s[i];
    out.largest_side_force_N = s.riders.largest_side_force_N[i];
    out.landmarks = s.passages[i];
    out.given_J = given[k];
    out.received_J = received[k];
  }
  for (Event& event : result.events) {
    for (std::uint32_t& rider : event.riders) rider = s.scenario_index[rider];
    if (event.because.other != nobody) event.because.other = s.scenario_index[event.because.other];
  }
  std::stable_sort(result.events.begin(), result.events.end(),
                   [](const Event& a, const Event& b) { return a.time_s < b.time_s; });
  for (GroupSpan& group : result.groups)
    for (std::uint32_t& rider : group.riders) rider = s.scenario_index[rider];
  return result;
}

RideResult ride_to_end(const Scenario& scenario) {
  Ride ride(scenario);
  while (ride.end() == RideEnd::riding) ride.step();
  return ride.result();
}

Scenario alone(const Scenario& scenario, std::size_t rider) {
  Scenario solo = scenario;
  solo.riders = {scenario.riders[rider]};
  solo.plans = {rider < scenario.plans.size() ? scenario.plans[rider] : std::vector<PlanStep>{}};
  solo.orders.clear();
  solo.ride.order.clear();
  solo.ride.regroup_at_m.clear();
  return solo;
}

}  // namespace leewheel
