#include "riding/scene.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <sstream>

#include "leewheel/motion.hpp"
#include "leewheel/units.hpp"
#include "riding/follow.hpp"
#include "riding/instructed.hpp"
#include "riding/regroup.hpp"

namespace leewheel {

std::ostream& operator<<(std::ostream& out, const Because& because) {
  out << reason_rows()[static_cast<std::size_t>(because.reason)].name;
  if (because.other != nobody) out << " about " << because.other;
  for (const double value : because.values) out << ' ' << value;
  return out;
}

namespace riding::scenes {

namespace {
constexpr double speed_mps = 10.0, first_m = 5000.0;
}

Scene::Scene(std::size_t count, double gap) : memory(count), outlook(count), road(count), group_of(count, no_group) {
  riders.resize(count);
  settings.headway_s = 0.05;  // so that the gap with speed counts
  settings.unknown_wheel_factor = 0.64;
  RiderSettings settings_of_all;
  settings_of_all.drivetrain_efficiency = 1.0;
  settings_of_all.wheel_drag_area_m2 = 0.0;
  settings_of_all.wheel_skill = 1.0;  // likes a gap of 0.3 m
  for (RiderIndex i = 0; i < count; ++i) {
    riders.set(i, settings_of_all, standard_gravity_mps2, settings);
    riders.x_m[i] = first_m - i * (bicycle_length_m + gap);
    riders.y_m[i] = -2.0;
    riders.v_mps[i] = speed_mps;
    riders.half_density[i] = 0.6;
    riders.drag_factor[i] = i == 0 ? 1.0 : settings.unknown_wheel_factor;
    road[i] = {{-3.5, -0.5}, false, 1e6f, 8.0, 2, 1e6, 0.0, 0.0, 3600.0};
    plans(i, 200.0);
    outlook[i].behind_factor = settings.unknown_wheel_factor;
    outlook[i].behind_s = settings.behind_memory_s;
    outlook[i].hold_limit_W = 220.0;
    outlook[i].own_speed_mps = speed_mps;
    memory[i].turn_s = settings.turn_s;
    costs(i, 250.0, 150.0);
  }
  lines.size.assign(count, 1);
  lines.front_of.resize(count);
  std::iota(lines.front_of.begin(), lines.front_of.end(), 0u);
}

Scene& Scene::gap_m(RiderIndex i, double gap) {
  const double by_m = riders.x_m[i - 1] - bicycle_length_m - gap - riders.x_m[i];
  for (RiderIndex j = i; j < riders.count; ++j) riders.x_m[j] += by_m;
  return *this;
}

Scene& Scene::costs(RiderIndex i, double front_W, double wheel_W, double v) {
  const double air_N = (front_W - wheel_W) / (1.0 - settings.unknown_wheel_factor) / v;
  riders.area_m2[i] = air_N / (riders.half_density[i] * v * v);
  riders.rolling_N[i] = front_W / v - air_N - bearing_force_N(v);
  return *this;
}

Scene& Scene::plans(RiderIndex i, double power_W) {
  outlook[i].plan_W = outlook[i].line_W = outlook[i].planned_W = power_W;
  return *this;
}

Scene& Scene::alone_mps(RiderIndex i, double v) {
  outlook[i].own_speed_mps = v;
  return plans(i, cost_at(now(), i).power_W(v, 1.0));
}

Scene& Scene::holds_wheel(RiderIndex i, RiderIndex wheel) {
  has_role(i, Role::following);
  memory[i].wheel = wheel;
  memory[i].asked_W = 150.0;
  lines.front_of[i] = lines.front_of[wheel];
  ++lines.size[lines.front_of[i]];
  return *this;
}

Scene& Scene::in_line(RiderIndex first, RiderIndex last) {
  has_role(first, Role::front, 0.0);
  memory[first].front_W = 250.0;
  for (RiderIndex i = first + 1; i <= last; ++i) holds_wheel(i, i - 1);
  return *this;
}

Scene& Scene::has_role(RiderIndex i, Role role, double for_s) {
  memory[i].role = role;
  memory[i].role_since_s = time_s - for_s;
  memory[i].why = {Reason::at_start};
  return *this;
}

Scene& Scene::is_told(RiderIndex i, Choice choice) {
  instructions.push_back({i, 0.0, 1e6, choice});
  memory[i].instruction = static_cast<int>(instructions.size()) - 1;
  return *this;
}

const Snapshot& Scene::now() {
  order_.clear();
  for (RiderIndex i = 0; i < riders.count; ++i)
    if (riders.riding[i]) order_.push_back(i);
  std::stable_sort(order_.begin(), order_.end(), [&](auto a, auto b) { return riders.x_m[a] > riders.x_m[b]; });
  rank_of_.assign(riders.count, 0);
  for (std::size_t k = 0; k < order_.size(); ++k) rank_of_[order_[k]] = static_cast<RiderIndex>(k);
  for (RiderIndex i = 0; i < riders.count; ++i) {
    riders.wheel_of[i] = memory[i].wheel;
    riders.front_of[i] = lines.front_of[i];
  }
  next = memory;
  ahead_.clear();
  for (const Memory& of : memory) ahead_.push_back({of.role, of.side});
  for (std::size_t i = 0; i < ahead.size(); ++i) ahead_[i] = ahead[i];
  lines_next = lines;
  told.clear();
  waiting_places_.clear();
  for (const double at_m : regroup_at_m) waiting_places_.push_back({at_m, stop_s, ""});
  now_.emplace(Snapshot{time_s, 1.0, kind, formation, keep_right, road_length_m, waiting_places_, instructions, riders,
                        settings, order_, rank_of_, group_of, road, outlook, memory, lines});
  settling_.emplace(Settling{*now_, next, lines_next, told, eased_at_s, line_, file_, speeds_mps_, pullers_, shares_});
  return *now_;
}

Answer Scene::ask(Answer (*question)(const View&), RiderIndex i) {
  now();
  return question(View{*now_, i, wheel_ahead(*now_, i, ahead_), next[i], ahead_});
}

void Scene::let(RiderIndex i, const std::function<void(const View&, Proposal&)>& act) {
  now();
  const View view{*now_, i, wheel_ahead(*now_, i, ahead_), next[i], ahead_};
  Proposal proposal{next[i], i, time_s, told};
  act(view, proposal);
}

Settling& Scene::settling() {
  now();
  return *settling_;
}

void Scene::second() {
  now();
  for (const RiderIndex i : order_) take_instruction(*now_, i, memory[i]);
  propose(*now_, next, ahead_, told);
  settle(*settling_);
  apply(*settling_, riders);
  settle_regroup(*settling_, riders.stop_at_m);
  memory = next;
  lines = lines_next;
  told_before.insert(told_before.end(), told.begin(), told.end());
  time_s += 1.0;
}

void Scene::move() {
  for (RiderIndex i = 0; i < riders.count; ++i) {
    riders.x_m[i] += riders.v_mps[i];
    riders.y_m[i] += std::clamp(riders.y_target_m[i] - riders.y_m[i], -0.5, 0.5);
  }
}

int Scene::count_told(EventKind what, RiderIndex i) const {
  return static_cast<int>(std::count_if(told_before.begin(), told_before.end(),
                                        [&](const Notice& n) { return n.kind == what && n.rider == i; }));
}

bool Is::match(const Because& because) const {
  for (std::size_t k = 0; k < because.values.size(); ++k)
    if (std::abs(because.values[k] - expected_.values[k]) > 1e-9 * std::max(1.0, std::abs(expected_.values[k])))
      return false;
  return because.reason == expected_.reason && because.other == expected_.other;
}

std::string Is::describe() const {
  std::ostringstream text;
  text << "is " << expected_;
  return text.str();
}

std::ostream& operator<<(std::ostream& out, const Told& told) {
  out << event_names[static_cast<std::size_t>(told.kind)] << ' ' << told.rider;
  if (told.about != nobody) out << " about " << told.about;
  return out;
}

std::vector<Told> told_in(const std::vector<Notice>& notices) {
  std::vector<Told> told;
  for (const Notice& notice : notices) told.push_back({notice.kind, notice.rider, notice.about});
  return told;
}

}  // namespace riding::scenes
}  // namespace leewheel
