#include "leewheel/ensemble.hpp"

#include <oneapi/tbb/parallel_for.h>
#include <oneapi/tbb/partitioner.h>

#include <Eigen/QR>
#include <algorithm>
#include <atomic>
#include <bit>
#include <cassert>
#include <cmath>
#include <mutex>

#include "model/chance.hpp"

namespace leewheel {

namespace {

constexpr double look_every_s = 10.0;  // how often a run looks at who is with whom

std::size_t stretch_at(const std::vector<RoadStretch>& stretches, double distance_m) {
  std::size_t k = 0;
  while (k + 1 < stretches.size() && distance_m >= stretches[k].to_m) ++k;
  return k;
}

/// Looks at the groups from time to time; a look belongs to the stretch where the first rider is. While riders stand at a
/// regroup point, and once the first is at the top, there is no group to look at.
class GroupWatch {
 public:
  GroupWatch(const std::vector<RoadStretch>& stretches, double road_m)
      : stretches_(stretches),
        road_m_(road_m),
        looks_(stretches.size(), 0),
        whole_(stretches.size(), 0),
        largest_(stretches.size(), 0.0) {}

  void look(const RideSample& now) {
    std::size_t riding = 0, largest = 1;
    double first_m = 0.0;
    sizes_.clear();
    for (std::size_t i = 0; i < now.distance_m.size(); ++i) {
      if (now.distance_m[i] >= road_m_ || now.role[i] == static_cast<float>(Role::waiting)) return;
      ++riding;
      first_m = std::max(first_m, static_cast<double>(now.distance_m[i]));
      const auto id = static_cast<std::int32_t>(now.group_id[i]);
      if (id == no_group) continue;
      if (sizes_.size() <= static_cast<std::size_t>(id)) sizes_.resize(id + 1, 0);
      largest = std::max(largest, ++sizes_[id]);
    }
    const std::size_t k = stretch_at(stretches_, first_m);
    ++looks_[k];
    whole_[k] += largest == riding;
    largest_[k] += static_cast<double>(largest) / static_cast<double>(riding);
  }

  void note(RunOutcome& run) const {
    for (std::size_t k = 0; k < looks_.size(); ++k) {
      run.whole_share.push_back(looks_[k] ? static_cast<double>(whole_[k]) / looks_[k] : -1.0);
      run.largest_share.push_back(looks_[k] ? largest_[k] / looks_[k] : -1.0);
    }
  }

 private:
  const std::vector<RoadStretch>& stretches_;
  double road_m_;
  std::vector<int> looks_, whole_;
  std::vector<double> largest_;
  std::vector<std::size_t> sizes_;  // by group id
};

/// Standardised columns of the regression: the shared inputs, then every rider's own.
Eigen::MatrixXd regressors(const std::vector<Draw>& draws) {
  const std::size_t riders = draws.front().own.size();
  Eigen::MatrixXd x(static_cast<Eigen::Index>(draws.size()), static_cast<Eigen::Index>(shared_inputs + riders * own_inputs));
  for (std::size_t n = 0; n < draws.size(); ++n) {
    const auto row = static_cast<Eigen::Index>(n);
    Eigen::Index column = 0;
    for (const double z : draws[n].shared) x(row, column++) = z;
    for (const auto& own : draws[n].own)
      for (const double z : own) x(row, column++) = z;
  }
  for (auto column : x.colwise()) {
    column.array() -= column.mean();
    const double deviation = std::sqrt(column.squaredNorm() / static_cast<double>(draws.size()));
    if (deviation > 0.0) column /= deviation;
  }
  return x;
}

/// Where the share of one column is told.
std::size_t told_at(std::size_t column, std::size_t rider) {
  if (column < shared_inputs) return column;
  const std::size_t whose = (column - shared_inputs) / own_inputs,
                    input = shared_inputs + (column - shared_inputs) % own_inputs;
  if (whose == rider) return input;
  return input == static_cast<std::size_t>(Input::critical_power) ? all_inputs : all_inputs + 1;
}

VarianceShares variance_shares(const std::vector<Draw>& draws, const std::vector<double>& times_s, std::size_t rider) {
  const Eigen::MatrixXd x = regressors(draws);
  Eigen::VectorXd y = Eigen::Map<const Eigen::VectorXd>(times_s.data(), static_cast<Eigen::Index>(times_s.size()));
  y.array() -= y.mean();
  const double runs = static_cast<double>(times_s.size()), freedom = runs - 1.0 - static_cast<double>(x.cols());
  const double variance = y.squaredNorm() / runs;
  VarianceShares result;
  result.share.assign(told_inputs, 0.0);
  result.rest = 1.0;
  if (!(variance > 0.0)) return result;
  const Eigen::VectorXd slope = x.colPivHouseholderQr().solve(y);
  const double noise = (y - x * slope).squaredNorm() / freedom;
  for (Eigen::Index k = 0; k < slope.size(); ++k) {
    const double share = (slope[k] * slope[k] - noise / runs) / variance;
    result.share[told_at(static_cast<std::size_t>(k), rider)] += share;
    result.rest -= share;
  }
  result.explained = 1.0 - noise / (y.squaredNorm() / (runs - 1.0));
  return result;
}

Percentiles percentiles(const std::vector<double>& values) {
  return {percentile(values, 0.05), percentile(values, 0.25), percentile(values, 0.50), percentile(values, 0.75),
          percentile(values, 0.95)};
}

RiderSpread spread_of(const Scenario& scenario, const std::vector<RoadStretch>& stretches, const std::vector<Draw>& draws,
                      const std::vector<const RunOutcome*>& runs, std::size_t rider) {
  RiderSpread spread;
  spread.name = scenario.riders[rider].name;
  spread.dropped_by_stretch.assign(stretches.size(), 0.0);
  std::vector<double> times_s;
  std::vector<Draw> finished_draws;
  const double a_run = runs.empty() ? 0.0 : 1.0 / static_cast<double>(runs.size());
  for (std::size_t n = 0; n < runs.size(); ++n) {
    const RiderOutcome& outcome = runs[n]->riders[rider];
    spread.drops_a_run += a_run * outcome.drops;
    if (outcome.drops > 0) {
      spread.dropped_share += a_run;
      spread.dropped_by_stretch[stretch_at(stretches, outcome.dropped_at_m)] += a_run;
    }
    if (!outcome.finished) continue;
    times_s.push_back(outcome.time_s);
    finished_draws.push_back(draws[n]);
  }
  spread.finished = times_s.size();
  if (!times_s.empty()) spread.time_s = percentiles(times_s);
  if (times_s.size() >= least_runs_for_shares(scenario.riders.size()))
    spread.shares = variance_shares(finished_draws, times_s, rider);
  return spread;
}

StretchSpread spread_of(const RoadStretch& where, const std::vector<const RunOutcome*>& runs, std::size_t stretch) {
  StretchSpread spread{where, 0.0, 0.0};
  std::size_t seen = 0;
  for (const RunOutcome* run : runs) {
    if (run->whole_share[stretch] < 0.0) continue;
    ++seen;
    spread.whole_probability += run->whole_share[stretch] >= whole_from;
    spread.largest_share += run->largest_share[stretch];
  }
  if (seen > 0) {
    spread.whole_probability /= static_cast<double>(seen);
    spread.largest_share /= static_cast<double>(seen);
  }
  return spread;
}

struct Digest {
  std::uint64_t bits = 0xcbf29ce484222325u;
  void add(std::uint64_t value) { bits = mix64(bits ^ value); }
  void add(double value) { add(std::bit_cast<std::uint64_t>(value)); }
  void add(const std::string& text) { add(hash_name(text)); }
  template <class Values>
  void add_all(const Values& values) {
    add(static_cast<std::uint64_t>(std::size(values)));
    for (const auto& value : values) add(static_cast<double>(value));
  }
  template <class Settings>
  void add_fields(std::span<const NumberField<Settings>> fields, const Settings& settings) {
    for (const auto& field : fields) add(settings.*field.member);
  }
  void add_forecast(const std::vector<ForecastPoint>& forecast) {
    for (const ForecastPoint& p : forecast)
      for (const double value :
           {p.time_s, p.speed_mps, p.from_rad, p.gust_mps.value_or(-1.0), p.temperature_C.value_or(-999.0),
            p.pressure_Pa.value_or(-1.0), p.humidity_fraction.value_or(-1.0)})
        add(value);
  }
};

void add_wind(Digest& digest, const WindSettings& wind) {
  digest.add_fields(wind_fields(), wind);
  digest.add_forecast(wind.forecast);
  for (const WindStation& station : wind.stations) {
    digest.add(station.east_m);
    digest.add(station.north_m);
    digest.add_forecast(station.forecast);
  }
  for (const Shelter& s : wind.shelter)
    for (const double value :
         {s.from_m, s.to_m, static_cast<double>(s.side), static_cast<double>(s.kind), s.height_m, s.distance_m})
      digest.add(value);
  for (const RoadHill& h : wind.hills)
    for (const double value : {h.crest_m, h.height_before_m, h.length_before_m, h.height_behind_m, h.length_behind_m,
                               h.across_rad, h.from_m, h.to_m, static_cast<double>(h.cliff)})
      digest.add(value);
  for (const int value :
       {static_cast<int>(wind.hills_from_road), static_cast<int>(wind.gusts), static_cast<int>(wind.yaw_drag)})
    digest.add(static_cast<std::uint64_t>(value));
}

void add_ride(Digest& digest, const RideSettings& ride) {
  digest.add_fields(ride_fields(), ride);
  for (const int value :
       {static_cast<int>(ride.kind), static_cast<int>(ride.formation), ride.start_abreast, static_cast<int>(ride.keep_right),
        static_cast<int>(ride.closed_road), static_cast<int>(ride.fatigue), static_cast<int>(ride.recovery_law)})
    digest.add(static_cast<std::uint64_t>(value));
  for (const std::string& name : ride.order) digest.add(name);
  digest.add_all(ride.regroup_at_m);
  digest.add(ride.seed);
}

}  // namespace

std::size_t least_runs_for_shares(std::size_t riders) { return 10 * (shared_inputs + riders * own_inputs); }

std::vector<RoadStretch> stretches_of(const Road& road) {
  std::vector<RoadStretch> stretches;
  std::string from = "start";
  double from_m = 0.0;
  for (const Landmark& mark : road.landmarks()) {
    if (mark.distance_m <= from_m || mark.distance_m >= road.length_m()) continue;
    stretches.push_back({from, mark.name, from_m, mark.distance_m});
    from = mark.name;
    from_m = mark.distance_m;
  }
  stretches.push_back({from, "finish", from_m, road.length_m()});
  return stretches;
}

RunOutcome ride_day(const Scenario& scenario, std::uint64_t seed, std::uint64_t number) {
  Scenario day = on_day(scenario, draw_day(scenario, seed, number));
  day.ride.seed = mix64(mix64(seed) ^ number ^ scenario.ride.seed);
  const std::vector<RoadStretch> stretches = stretches_of(scenario.road);
  GroupWatch watch(stretches, scenario.road.length_m());
  Ride ride(day, RideOptions{.notes_debts = false});  // an outcome knows nothing of who towed whom
  RideSample sample;
  const auto ticks_a_look = static_cast<std::uint64_t>(std::max(1LL, std::llround(look_every_s / day.ride.step_s)));
  while (ride.end() == RideEnd::riding) {
    ride.step();
    if (ride.tick() % ticks_a_look != 0) continue;
    ride.sample(sample);
    watch.look(sample);
  }
  RunOutcome run;
  const RideResult result = ride.result();
  for (const RiderResult& rider : result.riders)
    run.riders.push_back({rider.finished, rider.finish_time_s, rider.wbal_end_J, rider.ledger.saved_J, 0, -1.0});
  for (const Event& event : result.events) {
    if (event.kind != EventKind::dropped) continue;
    RiderOutcome& rider = run.riders[event.riders.front()];
    if (rider.drops++ == 0) rider.dropped_at_m = event.distance_m;
  }
  watch.note(run);
  run.done = true;
  return run;
}

bool ride_days(const Scenario& scenario, std::uint64_t seed, std::vector<RunOutcome>& runs,
               const std::function<bool(std::size_t done)>& after_each) {
  std::vector<std::size_t> to_do;
  for (std::size_t n = 0; n < runs.size(); ++n)
    if (!runs[n].done) to_do.push_back(n);
  std::size_t done = runs.size() - to_do.size();
  std::atomic<bool> go_on = true;
  std::mutex one_at_a_time;
  tbb::parallel_for(
      std::size_t{0}, to_do.size(),
      [&](std::size_t k) {
        if (!go_on) return;
        RunOutcome run = ride_day(scenario, seed, to_do[k]);
        const std::lock_guard lock(one_at_a_time);
        runs[to_do[k]] = std::move(run);
        if (!after_each(++done)) go_on = false;
      },
      tbb::simple_partitioner{});
  return done == runs.size();
}

std::uint64_t scenario_digest(const Scenario& scenario) {
  Digest digest;
  const RoadProfile& road = scenario.road.profile();
  digest.add(road.spacing_m);
  digest.add_all(road.elevation_m);
  digest.add_all(road.heading_rad);
  digest.add_all(road.rolling);
  digest.add_all(road.width_m);
  digest.add_all(road.exposure_left);
  digest.add_all(road.exposure_right);
  digest.add_all(road.abreast);
  digest.add_all(road.closed);
  for (const Landmark& mark : road.landmarks) {
    digest.add(mark.name);
    digest.add(mark.distance_m);
  }
  for (const double value : {scenario.air.temperature_C, scenario.air.pressure_Pa, scenario.air.humidity_fraction,
                             scenario.air_station_altitude_m, scenario.gravity_mps2})
    digest.add(value);
  add_wind(digest, scenario.wind);
  for (const RiderSettings& rider : scenario.riders) {
    digest.add(rider.name);
    digest.add_fields(rider_fields(), rider);
  }
  for (const auto& plan : scenario.plans) {
    digest.add(static_cast<std::uint64_t>(plan.size()));
    for (const PlanStep& step : plan) {
      digest.add(step.from_m);
      digest.add(step.effort);
    }
  }
  add_ride(digest, scenario.ride);
  digest.add_fields(tactics_fields(), scenario.tactics);
  digest.add_fields(bunch_fields(), scenario.bunch);
  if (scenario.lee.index() != 0) digest.add(std::string(wake_law_names[scenario.lee.index()]));
  std::visit([&](const auto& law) { digest.add_fields(law.fields(), law); }, scenario.lee);
  digest.add_fields(uncertainty_fields(), scenario.uncertainty);
  for (const Order& order : scenario.orders)
    for (const double value :
         {static_cast<double>(order.rider), order.from_m, order.to_m, static_cast<double>(order.choice)})
      digest.add(value);
  return digest.bits;
}

double percentile(std::vector<double> values, double share) {
  assert(!values.empty());
  std::sort(values.begin(), values.end());
  const double at = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  const std::size_t above = std::min(below + 1, values.size() - 1);
  return values[below] + (at - static_cast<double>(below)) * (values[above] - values[below]);
}

SpreadAnswer summarise(const Scenario& scenario, std::uint64_t seed, const std::vector<RunOutcome>& runs) {
  const std::vector<RoadStretch> stretches = stretches_of(scenario.road);
  std::vector<const RunOutcome*> done;
  std::vector<Draw> draws;
  for (std::size_t n = 0; n < runs.size(); ++n) {
    if (!runs[n].done) continue;
    done.push_back(&runs[n]);
    draws.push_back(draw_day(scenario, seed, n));
  }
  SpreadAnswer answer;
  answer.runs = done.size();
  for (std::size_t i = 0; i < scenario.riders.size(); ++i)
    answer.riders.push_back(spread_of(scenario, stretches, draws, done, i));
  for (std::size_t k = 0; k < stretches.size(); ++k) answer.stretches.push_back(spread_of(stretches[k], done, k));
  return answer;
}

}  // namespace leewheel
