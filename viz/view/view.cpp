#include "viz/view/view.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "leewheel/wake.hpp"
#include "words/plain_text.hpp"

namespace leewheel::view {
namespace {

RiderView rider_at(const Replay& replay, const RideSample& s, std::size_t i) {
  const RiderSettings& settings = replay.head().riders[i];
  RiderView r;
  r.name = settings.name;
  r.distance_m = s.distance_m[i], r.lateral_m = s.lateral_m[i], r.speed_mps = s.speed_mps[i];
  r.power_W = s.power_W[i], r.alone_W = s.alone_power_W[i], r.saved_W = r.alone_W - r.power_W;
  r.saved_J = s.saved_J[i], r.pedal_J = s.pedal_J[i];
  r.saved_share = r.saved_J + r.pedal_J > 1.0 ? r.saved_J / (r.saved_J + r.pedal_J) : 0.0;
  r.wbal_J = s.wbal_J[i], r.wbal_share = r.wbal_J / settings.w_prime_J, r.critical_power_W = settings.critical_power_W;
  r.sheltered_share = replay.sheltered_share(i, s.time_s);
  r.waited_s = replay.waited_s(i, s.time_s);
  r.drag_factor = s.drag_factor[i], r.drag_area_m2 = s.drag_area_m2[i];
  r.role = static_cast<Role>(std::clamp(static_cast<int>(s.role[i]), 0, static_cast<int>(role_names.size()) - 1));
  r.finished = r.role == Role::finished;
  r.group = r.finished ? no_group : static_cast<std::int32_t>(s.group_id[i]);
  const float wheel = s.wheel_of[i];
  if (wheel >= 0 && wheel < static_cast<float>(replay.riders())) r.wheel_of = static_cast<std::uint32_t>(wheel);
  r.wind_along_mps = s.wind_along_mps[i], r.wind_cross_mps = s.wind_cross_mps[i];
  r.gravity_W = s.gravity_W[i], r.air_W = s.air_W[i], r.rolling_W = s.rolling_W[i], r.kinetic_W = s.kinetic_W[i];
  r.grade = replay.road().grade(r.distance_m);
  return r;
}

void find_order(View& view, const Replay& replay) {
  view.order.resize(view.riders.size());
  std::iota(view.order.begin(), view.order.end(), 0u);
  std::ranges::stable_sort(view.order, [&](std::uint32_t a, std::uint32_t b) {
    const RiderView &p = view.riders[a], &q = view.riders[b];
    if (p.finished != q.finished) return p.finished;
    if (p.finished) return replay.finish_s(a).value_or(0) < replay.finish_s(b).value_or(0);
    return p.distance_m > q.distance_m;
  });
  const std::uint32_t first = view.order.front();
  for (std::size_t k = 0; k < view.order.size(); ++k) {
    RiderView& r = view.riders[view.order[k]];
    r.place = static_cast<int>(k) + 1;
    if (r.finished) r.gap_s = replay.finish_s(view.order[k]).value_or(0) - replay.finish_s(first).value_or(0);
    // From when each was first here, so that one who stands and waits is not behind himself.
    else
      r.gap_s = replay.passing_s(view.order[k], r.distance_m).value_or(view.time_s) -
                replay.passing_s(first, r.distance_m).value_or(view.time_s);
    r.gap_s = std::max(0.0, r.gap_s);
    r.gap_m = r.finished ? 0.0 : std::max(0.0, view.riders[first].distance_m - r.distance_m);
    if (r.wheel_of) r.wheel_gap_m = wheel_gap_m(view.riders[*r.wheel_of].distance_m, r.distance_m);
  }
}

void find_groups(View& view) {
  for (const std::uint32_t i : view.order) {
    const RiderView& r = view.riders[i];
    if (r.finished) continue;
    const auto same = std::ranges::find_if(view.groups, [&](const GroupView& g) { return r.group >= 0 && g.id == r.group; });
    GroupView& group = same == view.groups.end() ? view.groups.emplace_back() : *same;
    if (group.riders.empty()) group.id = r.group, group.first_m = r.distance_m, group.gap_s = r.gap_s;
    group.riders.push_back(i);
    group.last_m = r.distance_m - bicycle_length_m;
    group.speed_mps += r.speed_mps, group.saved_W += r.saved_W;
  }
  for (GroupView& group : view.groups) {
    const auto count = static_cast<double>(group.riders.size());
    group.speed_mps /= count, group.saved_W /= count;
  }
}

void find_next_turns(View& view, const std::vector<Event>& events) {
  for (auto event = std::ranges::upper_bound(events, view.time_s, {}, &Event::time_s);
       event != events.end() && event->time_s <= view.time_s + turns_foreseen_s; ++event) {
    if (event->kind != EventKind::takes_turn || event->riders.empty()) continue;
    const std::uint32_t rider = event->riders.front();
    if (view.riders[rider].role == Role::front) continue;
    for (GroupView& group : view.groups)
      if (!group.next_turn && group.id >= 0 && view.riders[rider].group == group.id)
        group.next_turn = NextTurn{rider, event->time_s - view.time_s};
  }
}

void find_overlaps(View& view) {
  for (std::size_t k = 0; k < view.order.size(); ++k) {
    const RiderView& ahead = view.riders[view.order[k]];
    for (std::size_t l = k + 1; l < view.order.size(); ++l) {
      const RiderView& behind = view.riders[view.order[l]];
      if (ahead.finished || behind.finished) continue;
      const double ahead_m = ahead.distance_m - behind.distance_m;
      if (ahead_m >= bicycle_length_m) break;
      if (wheels_overlap(ahead_m, std::abs(ahead.lateral_m - behind.lateral_m)))
        view.overlaps.emplace_back(view.order[k], view.order[l]);
    }
  }
}

double sort_value(const RiderView& r, Column column) {
  switch (column) {
    case Column::place: return r.place;
    case Column::group: return r.group < 0 ? 1e9 : r.group;
    case Column::gap: return r.gap_s;
    case Column::power: return r.power_W;
    case Column::alone: return r.alone_W;
    case Column::saved: return r.saved_W;
    case Column::saved_energy: return r.saved_J;
    case Column::saved_share: return r.saved_share;
    case Column::wbal: return r.wbal_share;
    case Column::sheltered: return r.sheltered_share;
    case Column::waited: return r.waited_s;
    case Column::rider: break;
  }
  return 0.0;
}

}  // namespace

View view_at(Replay& replay, double time_s) {
  thread_local RideSample sample;
  replay.interpolate(time_s, sample);
  View view;
  view.time_s = sample.time_s;
  view.riders.reserve(replay.riders());
  for (std::size_t i = 0; i < replay.riders(); ++i) view.riders.push_back(rider_at(replay, sample, i));
  find_order(view, replay);
  find_groups(view);
  find_next_turns(view, replay.head().events);
  find_overlaps(view);
  return view;
}

std::string group_name(const GroupView& group, const View& view) {
  return group.id < 0 ? view.riders[group.riders.front()].name : fmt::format("group {}", group.id);
}

const char* role_words(Role role) {
  static constexpr const char* words[] = {"alone",   "in front", "on a wheel", "drifting back",
                                          "chasing", "waiting",  "finished"};
  return words[static_cast<int>(role)];
}

const std::vector<ColumnText>& tally_columns() {
  static const std::vector<ColumnText> columns{
      {Column::place, "#", "", "place on the road", 30, false},
      {Column::rider, "Rider", "", "name", 82, false},
      {Column::group, "Group", "", "group the rider is in", 46, false},
      {Column::gap, "Gap", "s", "behind the first rider at this place", 50, false},
      {Column::power, "Now", "W", "power at the cranks now", 42, true},
      {Column::alone, "Alone", "W", "power this speed would cost alone", 48, true},
      {Column::saved, "Saved", "W", "saved now", 50, true},
      {Column::saved_energy, "So far", "kJ", "saved since the start", 54, true},
      {Column::saved_share, "Share", "%", "saved since the start, of the work alone", 50, true},
      {Column::wbal, "W\xE2\x80\xB2 left", "%", "work above critical power that is left", 68, false},
      {Column::sheltered, "Draft", "%", "share of the riding time with a drag factor below 0.95", 50, true},
      {Column::waited, "Waits", "", "time at regroup points and stops so far", 52, true}};
  return columns;
}

std::vector<ColumnText> columns_for(float breadth_px) {
  std::vector<ColumnText> columns = tally_columns();
  float needed_px = 0;
  for (const ColumnText& column : columns) needed_px += column.least_px;
  for (const Column spare : {Column::waited, Column::sheltered, Column::alone, Column::saved_share, Column::group,
                             Column::saved_energy, Column::gap}) {
    if (needed_px <= breadth_px) break;
    const auto found = std::ranges::find(columns, spare, &ColumnText::column);
    needed_px -= found->least_px;
    columns.erase(found);
  }
  return columns;
}

std::string cell_text(const RiderView& r, Column column) {
  switch (column) {
    case Column::place: return fmt::format("{}", r.place);
    case Column::rider: return r.name;
    case Column::group: return r.finished ? "home" : r.group < 0 ? "\xE2\x80\x93" : fmt::format("{}", r.group);
    case Column::gap:  // who stands and waits is not minutes behind, but so many metres
      if (r.role != Role::waiting || r.place == 1) return gap_text(r.gap_s);
      return r.gap_m < 3.0 ? "here" : fmt::format("{:.0f} m", r.gap_m);
    case Column::power: return r.finished ? "" : whole_text(whole_watts(r).now);
    case Column::alone: return r.finished ? "" : whole_text(whole_watts(r).alone);
    case Column::saved: return r.finished ? "" : whole_text(whole_watts(r).saved);
    case Column::saved_energy: return view::number_text(r.saved_J / 1000.0, 1);
    case Column::saved_share: return view::number_text(100 * r.saved_share, 1);
    case Column::wbal: return whole_text(100 * r.wbal_share);
    case Column::sheltered: return whole_text(100 * r.sheltered_share);
    case Column::waited: return r.waited_s > 0.0 ? minutes_seconds_text(r.waited_s) : "";
  }
  return "";
}

std::vector<std::uint32_t> sorted_rows(const View& view, Column column, bool falling) {
  std::vector<std::uint32_t> rows = view.order;  // equal values stay in the order of the road
  std::ranges::stable_sort(rows, [&](std::uint32_t a, std::uint32_t b) {
    const RiderView &p = view.riders[falling ? b : a], &q = view.riders[falling ? a : b];
    if (column == Column::rider) return p.name < q.name;
    return sort_value(p, column) < sort_value(q, column);
  });
  return rows;
}

}  // namespace leewheel::view
