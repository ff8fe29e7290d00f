#include "leewheel/ride.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "model/advance.hpp"
#include "model/near.hpp"
#include "model/recover.hpp"
#include "model/steer.hpp"
#include "ride/state.hpp"

namespace leewheel {

namespace {

constexpr double stalled_after_s = 120.0;
constexpr double moving_mps = 0.2;  // slower than this is standing still (assumed)

Riders riders_of(const Scenario& scenario, const RiderPlaces& places, std::uint64_t reaction_steps) {
  Riders riders;
  riders.resize(scenario.riders.size());
  for (RiderIndex i = 0; i < riders.count; ++i) {
    const std::size_t k = places.scenario_index[i];
    riders.set(i, scenario.riders[k], scenario.gravity_mps2, scenario.tactics);
    if (k < scenario.plans.size()) riders.plans[i] = scenario.plans[k];
  }
  riders.past_mps.assign(reaction_steps * riders.count, static_cast<float>(scenario.ride.start_speed_mps));
  if (scenario.ride.kind == RideKind::by_strength) riding::part_by_strength(scenario, riders);
  return riders;
}

/// Whole steps in an interval, at least one.
std::uint64_t steps_in(double interval_s, double step_s) {
  return std::max<std::uint64_t>(1, std::llround(interval_s / step_s));
}

/// Decisions and debts need the wakes of their own moment: their interval is a whole number of those of the wakes.
std::uint64_t wake_steps(double interval_s, double step_s, std::uint64_t decide_every) {
  std::uint64_t every = std::min(steps_in(interval_s, step_s), decide_every);
  while (decide_every % every != 0) --every;
  return every;
}

}  // namespace

Ride::State::State(const Scenario& given, RideOptions noted)
    : scenario(given),
      options(std::move(noted)),
      places(scenario.riders),
      step_s(scenario.ride.step_s),
      decide_every(steps_in(1.0, step_s)),
      reaction_steps(static_cast<std::uint64_t>(std::llround(scenario.tactics.reaction_s / step_s))),
      riders(riders_of(scenario, places, reaction_steps)),
      order(line_up(riders, scenario)),
      rank_of(riders.count),
      survey(survey_of(scenario)),
      airflow(scenario, survey),
      track(scenario, airflow.wind(), {survey, &survey->track}),
      decide(scenario, riders, places.index_of),
      groups(scenario.groups, riders.count),
      passages(scenario, riders.count, options.timing_points_m),
      cautions(riders.count),
      debts(riders.count),
      waited_s(riders.count, 0.0) {
  for (RiderIndex i = 0; i < riders.count; ++i) next_waiting_place.push_back(decide.next_waiting_place(i));
  assert(riders.count > 0);
  wake_every = wake_steps(scenario.ride.wake_interval_s, step_s, decide_every);
  for (RiderIndex i = 0; i < riders.count; ++i) riders.elevation_m[i] = track.elevation_m(riders.x_m[i]);
  sort_along_road();
  airflow.start();
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
    for (; to > 0 && before(moving, order[to - 1]); --to) order[to] = order[to - 1];
    order[to] = moving;
  }
  if (sorted) return;
  for (std::size_t k = 0; k < order.size(); ++k) rank_of[order[k]] = static_cast<RiderIndex>(k);
}

void Ride::State::meet_air() {
  const bool notes_debts = options.notes_debts && tick % decide_every == 0;
  airflow.look_at_density(riders, order, time_s());
  airflow.find(riders, riders, track, order, time_s(), wake_interval_s(), notes_debts ? &links : nullptr);
  if (notes_debts) add_debts();
}

void Ride::State::add_debts() {
  for (const WakeLink& link : links) {
    const RiderIndex giver = order[link.giver], receiver = order[link.receiver];
    const double saved_J = (riders.alone_W[receiver] - riders.power_W[receiver]) * decide_interval_s() * link.share;
    if (saved_J != 0.0) debts.add(places.scenario_index[giver], places.scenario_index[receiver], saved_J);
  }
}

void Ride::State::look_at_finish() {
  near_finish.clear();
  for (const RiderIndex i : order) {
    if (riders.x_m[i] + faster_than_any_mps * step_s < scenario.road.length_m()) break;
    near_finish.push_back({i, riders.ledgers.of(i), riders.sheltered_s[i]});
  }
}

void Ride::State::close_books(std::span<const RiderIndex> finished, double before_s) {
  for (const NearFinish& before : near_finish) {
    const RiderIndex i = before.rider;
    if (std::ranges::find(finished, i) == finished.end()) continue;
    const double share = (passages.finish_s(i) - before_s) / step_s;
    riders.ledgers.keep_share_since(before.books, share, i);
    riders.sheltered_s[i] = before.sheltered_s + share * (riders.sheltered_s[i] - before.sheltered_s);
    const double since_s = passages.finish_s(i) - recovered_s();
    if (since_s > 0.0) recover(riders, riders, scenario.ride, {&i, 1}, since_s, laws_kept());
  }
}

void Ride::State::note_passages(double before_s) {
  std::vector<RiderIndex> finished;
  passages.note(riders, order, {before_s, step_s, recovered_s()}, finished);
  if (finished.empty()) return;
  close_books(finished, before_s);
  for (const RiderIndex i : finished)
    events.push_back({EventKind::finished,
                      passages.finish_s(i),
                      scenario.road.length_m(),
                      {i},
                      groups.group_of()[i],
                      {Reason::at_the_finish}});
  leave_road(finished);
}

void Ride::State::leave_road(std::span<const RiderIndex> finished) {
  for (const RiderIndex i : finished) {
    riders.riding[i] = 0;
    riders.on_road[i] = 0.0;
    decide.finish(i);
  }
  std::erase_if(order, [&](RiderIndex i) { return riders.riding[i] == 0; });
  for (std::size_t k = 0; k < order.size(); ++k) rank_of[order[k]] = static_cast<RiderIndex>(k);
  for (const RiderIndex i : order) {
    for (RiderIndex* other : {&riders.wheel_of[i], &riders.blocker[i]})
      if (*other != nobody && !riders.riding[*other]) *other = nobody;
    if (!riders.riding[riders.front_of[i]]) riders.front_of[i] = i;
  }
}

/// Who has just decided to stand at a waiting place, or to go on. The last to come may do both in one second.
void Ride::State::note_waits(double at_s) {
  if (scenario.ride.regroup_at_m.empty() && scenario.ride.stops.empty()) return;
  for (const RiderIndex i : order) {
    const bool waits = decide.role(i) == Role::waiting;
    const std::size_t place = next_waiting_place[i];
    next_waiting_place[i] = decide.next_waiting_place(i);
    const bool stopped = place != next_waiting_place[i] && riders.v_mps[i] < scenario.tactics.standing_mps;
    if ((waits || stopped) && !passages.waits(i)) passages.arrive(riders, i, place, at_s);
    if (!waits && passages.waits(i)) passages.go_on(riders, i, at_s);
  }
}

void Ride::State::count_second() {
  bool moving = order.empty();
  for (const RiderIndex i : order) {
    const Role role = decide.role(i);
    const bool waits = role == Role::waiting;
    if (waits) waited_s[i] += decide_interval_s();
    passages.count(i, role == Role::front && groups.group_of()[i] != no_group,
                   role == Role::following || role == Role::drifting_back, decide_interval_s());
    moving = moving || riders.v_mps[i] > moving_mps || waits;
  }
  if (moving) still_since_s = time_s();
}

void Ride::State::look_for_end() {
  if (order.empty())
    end = RideEnd::all_finished;
  else if (time_s() >= scenario.ride.time_limit_s)
    end = RideEnd::time_limit;
  else if (time_s() - still_since_s > stalled_after_s)
    end = RideEnd::rider_stalled;
}

Ride::Ride(const Scenario& scenario, RideOptions options) : state_(std::make_unique<State>(scenario, std::move(options))) {}
Ride::~Ride() = default;
Ride::Ride(Ride&&) noexcept = default;

void Ride::step() {
  State& s = *state_;
  Riders& r = s.riders;
  const double before_s = s.time_s();
  if (s.tick % s.wake_every == 0) {
    look_around(r, r, s.track, s.order, s.wake_interval_s());  // needs the order along the road
    s.meet_air();                                              // needs gaps and apparent wind
  }
  if (s.tick % s.decide_every == 0) {  // needs the wakes: what a wheel costs
    s.decide.second(before_s, s.decide_interval_s(), s.track, s.order, s.rank_of, s.groups.group_of(), r, s.events);
    s.note_waits(before_s);
  }
  steer(r, r, s.order, s.step_s);  // sideways, towards where the decisions want to be
  s.look_at_finish();
  advance(r, r, r.ledgers, s.track, s.scenario.tactics, s.order, {s.step_s, s.tick, s.reaction_steps});
  keep_apart(r, r, r.ledgers, s.track, s.order);  // no wheel is driven through
  s.sort_along_road();
  ++s.tick;
  s.note_passages(before_s);  // landmarks, timing points and the finish, where a rider's books and W' are closed
  if (s.tick % s.decide_every == 0) {
    const double second_s = s.decide_interval_s();
    warm(r, r, s.scenario, s.order, s.time_s(), second_s);
    recover(r, r, s.scenario.ride, s.order, second_s, s.laws_kept());
    s.groups.update(
        r, s.order, s.time_s(), second_s, [&](RiderIndex i) { return s.decide.doing(r, i); }, s.events);
    beat(r, r, s.order, second_s);
    s.cautions.feel_side_force(r, s.order, s.groups.group_of(), s.scenario.wind, s.airflow.wind().gusty(), s.time_s(),
                               s.events);
    s.count_second();
  }
  s.look_for_end();
}

RideEnd Ride::end() const { return state_->end; }
double Ride::time_s() const { return state_->time_s(); }
double Ride::step_s() const { return state_->step_s; }
std::uint64_t Ride::tick() const { return state_->tick; }
double Ride::first_distance_m() const {
  return state_->order.empty() ? state_->scenario.road.length_m() : state_->riders.x_m[state_->order.front()];
}

}  // namespace leewheel
