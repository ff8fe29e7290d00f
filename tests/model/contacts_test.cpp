#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <utility>
#include <vector>

#include "leewheel/chance.hpp"
#include "leewheel/groups.hpp"
#include "leewheel/wake.hpp"

using namespace leewheel;

namespace {

using Pair = std::pair<std::uint32_t, std::uint32_t>;

/// Contact by the words of `GroupSettings`, the plain way: every pair in a map, components walked anew each second.
class PlainGroups {
 public:
  explicit PlainGroups(std::size_t riders) : came_off_s_(riders, -settings_.rest_s), component_(riders) {
    std::iota(component_.begin(), component_.end(), 0u);
  }

  void update(double time_s, const std::vector<GroupRider>& riders, const std::vector<std::uint32_t>& order) {
    for (std::size_t place = 1; place < order.size(); ++place)
      for (std::size_t k = 1; k <= 3 && k <= place; ++k) {
        const std::uint32_t ahead = order[place - k], behind = order[place];
        if (wheel_gap_m(riders[ahead].distance_m, riders[behind].distance_m) > leave_m(riders[behind].speed_mps)) break;
        clocks_.try_emplace(std::minmax(ahead, behind));
      }
    for (auto one = clocks_.begin(); one != clocks_.end();)
      one = stays(one->first, one->second, time_s, riders) ? std::next(one) : clocks_.erase(one);
    walk(time_s);
  }
  /// By rider: the first rider of the same component.
  const std::vector<std::uint32_t>& component() const { return component_; }

 private:
  struct Clock {
    double near_s = 0.0, far_s = 0.0;
    bool linked = false;
  };
  double leave_m(double speed_mps) const { return std::max(settings_.leave_gap_m, settings_.leave_headway_s * speed_mps); }
  bool stays(const Pair& pair, Clock& clock, double time_s, const std::vector<GroupRider>& riders) const {
    const GroupRider &a = riders[pair.first], &b = riders[pair.second];
    if (!a.riding || !b.riding) return false;
    const double gap_m = wheel_gap_m(std::max(a.distance_m, b.distance_m), std::min(a.distance_m, b.distance_m));
    const double v = 0.5 * (a.speed_mps + b.speed_mps);
    const bool near = gap_m < std::max(settings_.join_gap_m, settings_.join_headway_s * v) &&
                      std::abs(a.speed_mps - b.speed_mps) < settings_.join_speed_difference_mps;
    clock.near_s = near ? clock.near_s + 1.0 : 0.0;
    clock.far_s = gap_m > leave_m(v) ? clock.far_s + 1.0 : 0.0;
    const bool rested = time_s - std::max(came_off_s_[pair.first], came_off_s_[pair.second]) >= settings_.rest_s;
    clock.linked = clock.linked ? clock.far_s < settings_.leave_for_s : rested && clock.near_s >= settings_.join_for_s;
    return clock.linked || near;
  }
  void walk(double time_s) {
    const std::vector<std::uint32_t> before = component_;
    const std::set<std::uint32_t> had = with_company(before);
    std::iota(component_.begin(), component_.end(), 0u);
    for (bool moved = true; moved;) {
      moved = false;
      for (const auto& [pair, clock] : clocks_) {
        std::uint32_t &a = component_[pair.first], &b = component_[pair.second];
        if (!clock.linked || a == b) continue;
        a = b = std::min(a, b);
        moved = true;
      }
    }
    const std::set<std::uint32_t> have = with_company(component_);
    for (const std::uint32_t rider : had)
      if (!have.contains(rider)) came_off_s_[rider] = time_s;
  }
  static std::set<std::uint32_t> with_company(const std::vector<std::uint32_t>& component) {
    std::map<std::uint32_t, int> size;
    for (const std::uint32_t c : component) ++size[c];
    std::set<std::uint32_t> found;
    for (std::uint32_t i = 0; i < component.size(); ++i)
      if (size[component[i]] > 1) found.insert(i);
    return found;
  }
  GroupSettings settings_{};
  std::map<Pair, Clock> clocks_;
  std::vector<double> came_off_s_;
  std::vector<std::uint32_t> component_;
};

/// By rider: the first rider of the same group.
std::vector<std::uint32_t> first_of_group(std::span<const std::int32_t> group) {
  std::map<std::int32_t, std::uint32_t> first;
  std::vector<std::uint32_t> found(group.size());
  for (std::uint32_t i = 0; i < group.size(); ++i)
    found[i] = group[i] == no_group ? i : first.try_emplace(group[i], i).first->second;
  return found;
}

}  // namespace

TEST_CASE("who hangs together is what walking every link tells, whatever comes and goes", "[groups]") {
  for (const std::uint64_t seed : {1u, 2u, 3u, 4u, 5u, 6u}) {
    const std::size_t count = seed < 5 ? 12 : 60;
    Groups groups({}, count);
    PlainGroups plain(count);
    std::vector<GroupRider> riders(count);
    std::vector<Event> events;
    for (std::size_t i = 0; i < count; ++i) riders[i] = {1000.0 - 3.0 * static_cast<double>(i), 8.0, true};
    for (int second = 1; second <= 900; ++second) {
      CAPTURE(seed, second);
      for (std::size_t i = 0; i < count; ++i) {  // speeds wander about a common one, strongly enough to come off and back
        const double drawn = chance_normal(seed, i, static_cast<std::uint64_t>(second), Purpose::draw);
        const double middle_m = 1000.0 + 8.0 * second - 1.5 * static_cast<double>(count);
        const double home = std::clamp(0.004 * (middle_m - riders[i].distance_m), -0.5, 0.5);
        riders[i].speed_mps = 8.0 + 0.9 * (riders[i].speed_mps - 8.0) + 0.1 * home + 0.25 * drawn;
        riders[i].distance_m += riders[i].speed_mps;
        if (second > 600 && (i * 37 + static_cast<std::size_t>(second)) % 400 == 0) riders[i].riding = false;
      }
      std::vector<std::uint32_t> order;
      for (std::uint32_t i = 0; i < count; ++i)
        if (riders[i].riding) order.push_back(i);
      std::stable_sort(order.begin(), order.end(),
                       [&](auto a, auto b) { return riders[a].distance_m > riders[b].distance_m; });
      groups.update(
          second, 1.0, riders, order, [](std::uint32_t) { return Because{}; }, events);
      plain.update(second, riders, order);
      REQUIRE(first_of_group(groups.group_of()) == plain.component());
    }
    const auto told = [&](EventKind kind) {
      return std::count_if(events.begin(), events.end(), [&](const Event& e) { return e.kind == kind; });
    };
    CHECK(told(EventKind::split) + told(EventKind::dropped) > 0);  // the wandering makes something to find
    CHECK(told(EventKind::joined) + told(EventKind::merged) > 0);
  }
}
