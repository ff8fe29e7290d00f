#include "leewheel/weigh.hpp"

#include <oneapi/tbb/parallel_for.h>
#include <oneapi/tbb/partitioner.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <mutex>
#include <optional>

#include "leewheel/ensemble.hpp"
#include "leewheel/wheel_worth.hpp"
#include "ride/watch.hpp"

namespace leewheel {

namespace {

// A rider stands within 25 m before a regroup point, on either side of the mark: the wait there belongs to no stretch.
constexpr double before_regroup_m = 30.0, behind_regroup_m = 5.0;

bool regroups_at(const Scenario& scenario, double distance_m) {
  return std::any_of(scenario.ride.regroup_at_m.begin(), scenario.ride.regroup_at_m.end(),
                     [&](double at_m) { return std::abs(at_m - distance_m) < 1.0; });
}

/// Where a stretch is timed; nothing at the start and at the top, which every ride times anyway.
std::optional<double> timed_from_m(const Scenario& scenario, const WeighSettings& settings) {
  if (settings.from_m <= 0.0) return std::nullopt;
  return settings.from_m + (regroups_at(scenario, settings.from_m) ? behind_regroup_m : 0.0);
}
std::optional<double> timed_to_m(const Scenario& scenario, const WeighSettings& settings) {
  if (settings.to_m >= scenario.road.length_m()) return std::nullopt;
  return settings.to_m - (regroups_at(scenario, settings.to_m) ? before_regroup_m : 0.0);
}

const Passage* passage_at(const RiderResult& rider, double distance_m) {
  for (const Passage& at : rider.timing)
    if (at.distance_m == distance_m) return &at;
  return nullptr;
}

WayRidden ride_way(Scenario day, const WeighSettings& settings, std::size_t way) {
  if (way != as_planned)
    day.instructions.push_back(
        {static_cast<std::uint32_t>(settings.rider), settings.from_m, settings.to_m, static_cast<Choice>(way - 1)});
  const std::optional<double> from_m = timed_from_m(day, settings), to_m = timed_to_m(day, settings);
  RideOptions options{.notes_debts = false};
  for (const std::optional<double>& at_m : {from_m, to_m})
    if (at_m) options.timing_points_m.push_back(*at_m);
  std::sort(options.timing_points_m.begin(), options.timing_points_m.end());
  const RiderResult rider = ride_to_end(day, options).riders[settings.rider];
  static const Passage start{};
  const Passage* from = from_m ? passage_at(rider, *from_m) : &start;
  const Passage* to = to_m ? passage_at(rider, *to_m) : (rider.finished ? &rider.landmarks.back() : nullptr);
  WayRidden ridden;
  if (!from || !to) return ridden;
  ridden.reached = true;
  ridden.time_s = to->time_s - from->time_s;
  ridden.work_J = to->pedal_J - from->pedal_J;
  ridden.alone_J = to->alone_J - from->alone_J;
  ridden.wbal_J = to->wbal_J;
  ridden.top_time_s = rider.finish_time_s;
  ridden.top_wbal_J = rider.wbal_end_J;
  return ridden;
}

/// The first day is the scenario as it stands, the others are drawn.
Scenario day_of(const Scenario& scenario, const WeighSettings& settings, std::size_t number) {
  return number == 0 ? scenario : drawn_day(scenario, settings.seed, number);
}

DayRange range_of(const std::vector<double>& values) {
  if (values.empty()) return {0.0, 0.0, 0.0};
  const Middle80 range = middle_80(values);
  return {range.low, percentile(values, 0.5), range.high};
}

/// Means of the seconds that the rider, alone, spends on the stretch.
struct MeanRidden {
  double seconds = 0.0, speed_mps = 0.0, power_W = 0.0, along_mps = 0.0, cross_mps = 0.0, area_m2 = 0.0, turbulence = 0.0,
         rolling = 0.0;
};

MeanRidden ride_alone(const Scenario& scenario, const WeighSettings& settings) {
  const Road& road = scenario.road;
  const Wind wind(scenario.wind, road);
  MeanRidden sum;
  const Scenario solo = alone(scenario, settings.rider);
  Ride ride(solo, {.notes_debts = false});
  watch(ride, {1.0, [&](const Ride& now) { return now.first_distance_m() < settings.to_m; }}, [&](const RideView& view) {
    if (!view.whole_interval || view.ride.first_distance_m() < settings.from_m) return;
    const RideSample& now = view.now;
    ++sum.seconds;
    sum.speed_mps += now.speed_mps[0];
    sum.power_W += now.power_W[0];
    sum.along_mps += now.wind_along_mps[0];
    sum.cross_mps += std::abs(now.wind_cross_mps[0]);
    sum.area_m2 += now.drag_area_m2[0];
    sum.turbulence += wind.turbulence_intensity(view.distance_m(0));
    sum.rolling += road.rolling(view.distance_m(0));
  });
  if (sum.seconds == 0.0) return sum;
  for (double MeanRidden::*mean :
       {&MeanRidden::speed_mps, &MeanRidden::power_W, &MeanRidden::along_mps, &MeanRidden::cross_mps, &MeanRidden::area_m2,
        &MeanRidden::turbulence, &MeanRidden::rolling})
    sum.*mean /= sum.seconds;
  return sum;
}

WeighReason reason_of(const Scenario& scenario, const WeighSettings& settings) {
  const Road& road = scenario.road;
  const RiderSettings& rider = scenario.riders[settings.rider];
  const MeanRidden mean = ride_alone(scenario, settings);
  if (mean.seconds == 0.0) return {};
  WheelPlace place;
  place.grade = (road.elevation_m(settings.to_m) - road.elevation_m(settings.from_m)) / (settings.to_m - settings.from_m);
  place.headwind_mps = -mean.along_mps;
  place.gap_m =
      scenario.tactics.gap_wary_m + rider.wheel_skill * (scenario.tactics.gap_skilled_m - scenario.tactics.gap_wary_m);
  place.turbulence_intensity = mean.turbulence;
  const double height_m = 0.5 * (road.elevation_m(settings.from_m) + road.elevation_m(settings.to_m));
  place.density_kgpm3 = air_density_kgpm3(air_at_altitude(scenario.air, scenario.air_station_altitude_m, height_m));
  place.rolling = mean.rolling;
  place.gravity_mps2 = scenario.gravity_mps2;
  RiderSettings as_ridden = rider;
  as_ridden.drag_area_hoods_m2 = mean.area_m2;
  const WheelWorth worth = wheel_worth_at_speed(as_ridden, place, scenario.wake, mean.speed_mps);
  return {worth.speed_mps, place.grade,       place.headwind_mps, mean.cross_mps,      mean.power_W,
          worth.air_share, worth.drag_factor, worth.saved_W,      worth.price_exponent};
}

using Day = std::array<WayRidden, ways_to_ride>;

WayWeighed weigh_way(const std::vector<const Day*>& days, std::size_t way, double price_exponent) {
  WayWeighed result;
  result.way = way;
  std::vector<double> time_s, work_J, wbal_J, top_s, top_wbal_J, gain_s, saved_J, worth_s;
  for (const Day* day : days) {
    const WayRidden &ridden = (*day)[way], &by_self = (*day)[way_of(Choice::alone)];
    result.same_as_planned += ridden == (*day)[as_planned];
    if (!ridden.reached || !by_self.reached) continue;
    ++result.reached;
    time_s.push_back(ridden.time_s);
    work_J.push_back(ridden.work_J);
    wbal_J.push_back(ridden.wbal_J);
    top_s.push_back(ridden.top_time_s);
    top_wbal_J.push_back(ridden.top_wbal_J);
    gain_s.push_back(by_self.time_s - ridden.time_s);
    saved_J.push_back(by_self.work_J - ridden.work_J);
    worth_s.push_back(gain_s.back() + by_self.time_s * saved_J.back() / std::max(1.0, by_self.work_J) * price_exponent);
  }
  if (!days.empty()) result.same_as_planned /= static_cast<double>(days.size());
  result.time_s = range_of(time_s);
  result.work_J = range_of(work_J);
  result.wbal_J = range_of(wbal_J);
  result.top_time_s = range_of(top_s);
  result.top_wbal_J = range_of(top_wbal_J);
  result.gain_s = range_of(gain_s);
  result.saved_J = range_of(saved_J);
  result.worth_s = range_of(worth_s);
  return result;
}

/// Waiting where nobody comes, or letting go where nobody is held, is no choice.
bool can_be_chosen(const WayWeighed& way) {
  const bool needs_others = way.way == way_of(Choice::waits_behind) || way.way == way_of(Choice::lets_go);
  return way.way != as_planned && way.reached > 0 && !(needs_others && way.same_as_planned >= 0.5);
}

/// The way of greatest middle worth, `without` left out. Of ways that no rider can tell apart the plainer one, unless riding
/// alone comes out first.
std::size_t best_of(const std::vector<WayWeighed>& ways, std::size_t without, double felt_s) {
  constexpr std::size_t by_self = way_of(Choice::alone);
  std::size_t best = by_self;
  double most_s = -std::numeric_limits<double>::infinity();
  for (const WayWeighed& way : ways) {
    if (!can_be_chosen(way) || way.way == without || way.worth_s.middle <= most_s) continue;
    most_s = way.worth_s.middle;
    best = way.way;
  }
  if (best == by_self) return best;
  for (const Choice plainer : {Choice::sits_in, Choice::takes_turns, Choice::waits_behind}) {
    const WayWeighed& way = ways[way_of(plainer)];
    if (can_be_chosen(way) && way.worth_s.middle > most_s - felt_s) return way.way;
  }
  return best;
}

void judge(Weighing& w) {
  constexpr std::size_t by_self = way_of(Choice::alone);
  w.felt_s = felt_difference_s(w.ways[by_self].time_s.middle);
  w.best = best_of(w.ways, as_planned, w.felt_s);
  w.rival = w.best == by_self ? best_of(w.ways, by_self, w.felt_s) : by_self;
  const WayWeighed& other = w.ways[w.best == by_self ? w.rival : w.best];  // the one of the two that is not alone
  for (const WayWeighed& way : w.ways)
    if (way.way != w.best && can_be_chosen(way) && std::abs(w.ways[w.best].worth_s.middle - way.worth_s.middle) < w.felt_s)
      w.as_good.push_back(way.way);
  const bool either_way = other.worth_s.low <= 0.0 && other.worth_s.high >= 0.0;
  if (std::abs(other.worth_s.middle) < w.felt_s)
    w.verdict = Verdict::no_difference;
  else
    w.verdict = either_way ? Verdict::uncertain : Verdict::pays;
}

}  // namespace

double felt_difference_s(double stretch_s) {
  constexpr double felt_share = 0.01, felt_at_least_s = 3.0;
  return std::max(felt_at_least_s, felt_share * stretch_s);
}

Weighing weigh(const Scenario& scenario, const WeighSettings& settings,
               const std::function<bool(std::size_t done)>& after_each) {
  std::vector<Day> ridden(settings.runs);
  std::vector<std::size_t> done_of_day(settings.runs, 0);
  std::atomic<bool> go_on = true;
  std::mutex one_at_a_time;
  std::size_t done = 0;
  tbb::parallel_for(
      std::size_t{0}, settings.runs * ways_to_ride,
      [&](std::size_t k) {
        if (!go_on) return;
        const std::size_t number = k / ways_to_ride, way = k % ways_to_ride;
        const WayRidden one = ride_way(day_of(scenario, settings, number), settings, way);
        const std::lock_guard lock(one_at_a_time);
        ridden[number][way] = one;
        ++done_of_day[number];
        if (!after_each(++done)) go_on = false;
      },
      tbb::simple_partitioner{});

  std::vector<const Day*> whole_days;
  for (std::size_t n = 0; n < settings.runs; ++n)
    if (done_of_day[n] == ways_to_ride) whole_days.push_back(&ridden[n]);
  Weighing result;
  result.days = whole_days.size();
  result.reason = reason_of(scenario, settings);
  for (std::size_t way = 0; way < ways_to_ride; ++way)
    result.ways.push_back(weigh_way(whole_days, way, result.reason.price_exponent));
  judge(result);
  return result;
}

}  // namespace leewheel
