#include "leewheel/what_ifs.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "leewheel/further_rider.hpp"
#include "ride/watch.hpp"

namespace leewheel {

namespace {

/// Records one ride: samples, what a place behind each rider is worth, and the savings along the road.
class Recorder {
 public:
  Recorder(const Scenario& scenario, double interval_s, RecordedRide& into)
      : scenario_(scenario),
        land_(calm(scenario), scenario.road),
        kept_every_(static_cast<std::size_t>(std::lround(interval_s))),
        into_(into) {
    into_.saved = SavedAlong(scenario.road.length_m(), scenario.riders.size());
  }

  void operator()(const RideView& view) {
    for (std::size_t i = 0; view.whole_interval && i < view.riders(); ++i)
      if (view.on_road(i) && view.role(i) != Role::waiting)
        into_.saved.add(i, view.distance_m(i), view.now.alone_power_W[i], view.now.power_W[i], view.time_s() - before_s_);
    before_s_ = view.time_s();
    if (looks_++ % kept_every_ != 0 && view.ride.end() == RideEnd::riding) return;
    into_.samples.push_back(view.now);
    into_.worth.push_back(worth(view));
  }

 private:
  static WindSettings calm(const Scenario& scenario) {
    WindSettings settings;
    settings.change_length_m = scenario.wind.change_length_m;
    return settings;
  }

  BunchRider seen(const RideSample& s, std::size_t i) const {
    return in_bunch({s.distance_m[i], s.lateral_m[i], s.speed_mps[i], s.wind_along_mps[i], s.wind_cross_mps[i],
                     s.drag_area_m2[i], s.drag_factor[i], s.air_W[i], s.alone_power_W[i]},
                    scenario_.riders[i], wake_base(scenario_.wake), land_.turbulence_intensity(s.distance_m[i]));
  }

  std::vector<Worth> worth(const RideView& view) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < view.riders(); ++i)
      if (view.on_road(i)) order.push_back(i);
    std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) { return view.distance_m(a) > view.distance_m(b); });
    std::vector<BunchRider> bunch;
    for (const std::size_t i : order) bunch.push_back(seen(view.now, i));
    further_.join(scenario_.wake, bunch);
    std::vector<Worth> found(view.riders(), Worth{0.0f, 0.0f});
    for (const std::size_t i : order) {
      const WorthBehind best = worth_behind(further_, view.now.distance_m[i], view.now.lateral_m[i]);
      found[i] = {static_cast<float>(std::max(0.0, best.saved_W)),
                  static_cast<float>(best.lateral_m - view.now.lateral_m[i])};
    }
    return found;
  }

  const Scenario& scenario_;
  Wind land_;                           ///< calm: only what the land makes of turbulence is asked
  std::size_t kept_every_, looks_ = 0;  ///< looks come once a second
  double before_s_ = 0.0;
  RecordedRide& into_;
  FurtherRider further_;
};

RecordedRide recorded(const Scenario& scenario, double interval_s, const std::function<bool()>& go_on) {
  RecordedRide into;
  Ride ride(scenario, {.notes_debts = false, .notes_laws = false});
  const RideResult result =
      watch(ride, {1.0, [&](const Ride&) { return !go_on || go_on(); }}, Recorder(scenario, interval_s, into));
  for (const RiderResult& rider : result.riders) {
    into.finish_s.push_back(rider.finished ? rider.finish_time_s : std::numeric_limits<double>::quiet_NaN());
    into.pedal_J.push_back(rider.ledger.pedal_J), into.saved_J.push_back(rider.ledger.saved_J);
    into.mean_power_W.push_back(rider.mean_power_W);
  }
  into.events = result.events;
  return into;
}

/// Riders who each rode alone, as one record: who is home stays at the finish.
RecordedRide side_by_side(const Scenario& scenario, const std::vector<RecordedRide>& solo) {
  RecordedRide all;
  all.saved = SavedAlong(scenario.road.length_m(), solo.size());
  std::size_t longest = 0;
  for (std::size_t i = 0; i < solo.size(); ++i)
    if (solo[i].samples.size() > solo[longest].samples.size()) longest = i;
  for (std::size_t k = 0; k < solo[longest].samples.size(); ++k) {
    RideSample sample;
    sample.time_s = solo[longest].samples[k].time_s;
    std::vector<Worth> worth;
    for (const RecordedRide& one : solo) {
      const std::size_t at = std::min(k, one.samples.size() - 1);
      for (const SampleColumn& column : sample_columns())
        (sample.*column.values).push_back((one.samples[at].*column.values).front());
      sample.group_id.back() = static_cast<float>(no_group), sample.wheel_of.back() = -1.0f;
      worth.push_back(one.worth[at].front());
    }
    all.samples.push_back(std::move(sample));
    all.worth.push_back(std::move(worth));
  }
  for (std::size_t i = 0; i < solo.size(); ++i) {
    all.saved.take(i, solo[i].saved);
    all.finish_s.push_back(solo[i].finish_s.front()), all.pedal_J.push_back(solo[i].pedal_J.front());
    all.saved_J.push_back(solo[i].saved_J.front()), all.mean_power_W.push_back(solo[i].mean_power_W.front());
  }
  return all;
}

RecordedRide each_alone(const Scenario& scenario, double interval_s, const std::function<bool()>& go_on) {
  std::vector<RecordedRide> solo(scenario.riders.size());
  tbb::parallel_for(std::size_t{0}, solo.size(),
                    [&](std::size_t i) { solo[i] = recorded(alone(scenario, i), interval_s, go_on); });
  return side_by_side(scenario, solo);
}

std::vector<std::uint32_t> start_line(const Scenario& scenario) {
  RideSample start;
  Ride(scenario).sample(start);
  std::vector<std::uint32_t> order;
  for (std::uint32_t i = 0; i < scenario.riders.size(); ++i) order.push_back(i);
  std::ranges::stable_sort(order,
                           [&](std::uint32_t a, std::uint32_t b) { return start.distance_m[a] > start.distance_m[b]; });
  return order;
}

/// The first of these intervals at which all samples of all rides stay within what may be kept.
double kept_interval_s(double longest_s, std::size_t riders, std::size_t most_values) {
  const double values = longest_s * static_cast<double>(riders * company_cases * wind_cases.size());
  for (const double interval_s : {1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 10.0, 12.0, 15.0, 20.0, 30.0})
    if (values / interval_s <= static_cast<double>(most_values)) return interval_s;
  return 60.0;
}

}  // namespace

Scenario in_wind(Scenario scenario, double factor) {
  const auto scale = [factor](std::vector<ForecastPoint>& points) {
    for (ForecastPoint& point : points) {
      point.speed_mps *= factor;
      if (point.gust_mps) *point.gust_mps *= factor;
    }
  };
  scale(scenario.wind.forecast);
  for (WindStation& station : scenario.wind.stations) scale(station.forecast);
  if (factor <= 0.0) scenario.wind.gusts = Gusts::off;
  return scenario;
}

WhatIfs ride_what_ifs(const Scenario& asked, std::size_t most_values, const std::function<bool()>& go_on) {
  const Scenario scenario = surveyed(asked);
  WhatIfs all;
  all.planned_order = start_line(scenario);
  all.opposite_order.assign(all.planned_order.rbegin(), all.planned_order.rend());
  Scenario opposite = scenario;
  opposite.ride.start_order.clear();
  for (const std::uint32_t rider : all.opposite_order) opposite.ride.start_order.push_back(scenario.riders[rider].name);
  double longest_s = 0.0;  // riders alone in the strongest wind are out the longest, or nearly
  {
    const Scenario windy = in_wind(scenario, wind_cases.back());
    for (std::size_t i = 0; i < scenario.riders.size(); ++i)
      longest_s = std::max(longest_s, ride_to_end(alone(windy, i), {.notes_debts = false, .notes_laws = false}).time_s);
  }
  all.interval_s = kept_interval_s(longest_s, scenario.riders.size(), most_values);
  tbb::parallel_for(std::size_t{0}, wind_cases.size() * company_cases, [&](std::size_t k) {
    const auto company = static_cast<CompanyCase>(k % company_cases);
    const Scenario windy =
        in_wind(company == CompanyCase::opposite_order ? opposite : scenario, wind_cases[k / company_cases]);
    all.rides[k / company_cases][k % company_cases] =
        company == CompanyCase::alone ? each_alone(windy, all.interval_s, go_on) : recorded(windy, all.interval_s, go_on);
  });
  return all;
}

}  // namespace leewheel
