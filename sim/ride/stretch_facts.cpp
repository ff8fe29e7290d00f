/// What the stretches of a ride and its waiting places say, from the riders' passages.

#include <algorithm>

#include "leewheel/ride_facts.hpp"

namespace leewheel {

namespace {

const Passage* passage_at(const RiderResult& rider, const RoadStretch& end_of) {
  for (const Passage& at : rider.landmarks)
    if (at.distance_m == end_of.to_m && at.name == end_of.to) return &at;
  return nullptr;
}

/// Waits that lie between going on at one place and arriving at the next.
double waited_on_the_way_s(const RiderResult& rider, double from_s, double to_s) {
  double sum_s = 0.0;
  for (const Wait& wait : rider.waits)
    if (wait.arrive_s >= from_s && wait.go_on_s >= 0.0 && wait.go_on_s <= to_s) sum_s += wait.go_on_s - wait.arrive_s;
  return sum_s;
}

StretchRidden ridden(const RiderResult& rider, const RoadStretch& where, const Passage& from, const Passage& to) {
  StretchRidden s;
  s.from = where.from, s.to = where.to, s.from_m = where.from_m, s.to_m = where.to_m;
  s.arrive_s = to.time_s, s.go_on_s = to.go_on_s();
  const double on_the_way_s = waited_on_the_way_s(rider, from.go_on_s(), to.time_s);
  s.waited_s = to.waited_s + on_the_way_s;
  s.riding_s = to.time_s - from.go_on_s() - on_the_way_s;
  s.arrive_power_W = to.power_W;
  s.pedal_J = to.pedal_J - from.pedal_J;
  s.saved_J = to.saved_J - from.saved_J;
  s.alone_J = to.alone_J - from.alone_J;
  s.sheltered_s = to.sheltered_s - from.sheltered_s - from.sheltered_waiting_s;
  s.wbal_J = to.wbal_J, s.wbal_go_on_J = to.wbal_go_on_J();
  s.front_s = to.front_s - from.front_s;
  s.follow_s = to.follow_s - from.follow_s;
  s.turns = to.turns - from.turns;
  return s;
}

/// The rider's stretches, and for each whether the rider was in the middle of a turn at its beginning.
RiderFacts ridden(const std::vector<RoadStretch>& road, const RiderResult& rider, std::vector<bool>& leads_on) {
  RiderFacts facts;
  const Passage start{"start", 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0};
  const Passage* from = &start;
  for (const RoadStretch& where : road) {
    const Passage* const to = passage_at(rider, where);
    if (!to) break;
    facts.stretches.push_back(ridden(rider, where, *from, *to));
    leads_on.push_back(from->leads_on);
    from = to;
  }
  return facts;
}

StretchOfRide over_all(const Scenario& scenario, const RoadStretch& where, std::size_t k,
                       const std::vector<RiderFacts>& riders) {
  const Road& road = scenario.road;
  StretchOfRide s{where};
  s.grade = (road.elevation_m(where.to_m) - road.elevation_m(where.from_m)) / (where.to_m - where.from_m);
  double riding_s = 0.0, way_m = 0.0, saved_J = 0.0, alone_J = 0.0, line_s = 0.0;
  bool first = true;
  for (std::size_t i = 0; i < riders.size(); ++i) {
    if (k >= riders[i].stretches.size()) continue;
    const StretchRidden& r = riders[i].stretches[k];
    riding_s += r.riding_s, way_m += where.to_m - where.from_m, saved_J += r.saved_J, alone_J += r.alone_J,
        line_s += r.front_s + r.follow_s;
    if (first || r.saved_W() > s.most_W) s.most = i, s.most_W = r.saved_W();
    first = false;
  }
  s.speed_mps = riding_s > 0.0 ? way_m / riding_s : 0.0;
  s.saved_W = riding_s > 0.0 ? saved_J / riding_s : 0.0;
  s.line_share = riding_s > 0.0 ? line_s / riding_s : 0.0;
  s.saved_share = alone_J > 0.0 ? saved_J / alone_J : 0.0;
  s.climbs_freely = alone_J > 0.0 && climbs_freely(scenario, s.saved_share);
  return s;
}

/// Nobody is in front of others where the stretch is not ridden in a line.
void keep_turns_of_lines(RiderFacts& rider, const std::vector<StretchOfRide>& stretches, const std::vector<bool>& leads_on) {
  for (std::size_t k = 0; k < rider.stretches.size(); ++k) {
    StretchRidden& s = rider.stretches[k];
    if (!stretches[k].in_a_line()) s.front_s = 0.0, s.turns = 0;
    if (stretches[k].in_a_line() && k > 0 && !stretches[k - 1].in_a_line() && leads_on[k]) ++s.turns;
    rider.front_s += s.front_s;
    rider.turns += s.turns;
  }
}

void compare_alone(RiderFacts& rider, const RiderResult& alone_again, const std::vector<RoadStretch>& road) {
  std::vector<bool> unused;
  const RiderFacts alone = ridden(road, alone_again, unused);
  for (std::size_t k = 0; k < std::min(rider.stretches.size(), alone.stretches.size()); ++k)
    rider.stretches[k].solo_riding_s = alone.stretches[k].riding_s;
}

}  // namespace

bool climbs_freely(const Scenario& scenario, double saved_share) {
  const RideKind kind = scenario.ride.kind;
  return (kind == RideKind::steady || kind == RideKind::by_strength) &&
         saved_share < 1.0 - scenario.tactics.free_climb_fraction;
}

bool comes_off(const Event& event) {
  return event.kind == EventKind::dropped && !event.riders.empty() && event.because.reason != Reason::climbs_freely;
}

RideFacts facts_of(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo) {
  const std::vector<RoadStretch> stretches = stretches_of(scenario.road);
  RideFacts facts;
  std::vector<std::vector<bool>> leads_on(result.riders.size());
  std::size_t reached = 0;
  for (std::size_t i = 0; i < result.riders.size(); ++i) {
    facts.riders.push_back(ridden(stretches, result.riders[i], leads_on[i]));
    reached = std::max(reached, facts.riders.back().stretches.size());
  }
  for (std::size_t k = 0; k < reached; ++k) facts.stretches.push_back(over_all(scenario, stretches[k], k, facts.riders));
  for (std::size_t i = 0; i < facts.riders.size(); ++i) {
    keep_turns_of_lines(facts.riders[i], facts.stretches, leads_on[i]);
    if (const RiderResult* alone_again = solo_of(solo, i)) compare_alone(facts.riders[i], *alone_again, stretches);
  }
  return facts;
}

}  // namespace leewheel
