#include "plan/group_turns.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leewheel {

namespace {

constexpr double together_share = 0.5;       // of a stretch, for two riders to be in one group there
constexpr double least_spell_s = 5.0;        // shorter spells in front are no turn
constexpr double least_turn_share = 0.25;    // of an equal share of the front: who leads less sits in (assumed)
constexpr double all_the_time_share = 0.85;  // of the front: nobody else need take a turn (assumed)

bool leads(const RideView& view, std::size_t rider) {
  return view.role(rider) == Role::front && view.group(rider) != no_group;
}

}  // namespace

double round_turn_s(double turn_s) {
  constexpr double announced_s[] = {10, 15, 20, 30, 45, 60, 90, 120, 180, 240, 300, 420, 600, 900, 1200, 1800};
  const auto apart = [&](double s) { return std::abs(std::log(s / std::max(1.0, turn_s))); };
  return *std::min_element(std::begin(announced_s), std::end(announced_s),
                           [&](double a, double b) { return apart(a) < apart(b); });
}

TurnsTally::TurnsTally(const Scenario& scenario)
    : riders_(scenario.riders.size()),
      one_in_front_(scenario.ride.formation == Formation::one_in_front),
      least_turn_s_(scenario.ride.formation == Formation::circulating ? 0.0 : 20.0),
      sums_(scenario.road,
            {std::vector<double>(riders_), std::vector<double>(riders_), std::vector<double>(riders_),
             std::vector<double>(riders_), std::vector<double>(riders_, std::numeric_limits<double>::infinity()),
             std::vector<double>(riders_ * riders_)}),
      in_front_(riders_) {}

void TurnsTally::operator()(const RideView& view) {
  if (!view.whole_interval) return;
  for (std::size_t i = 0; i < riders_; ++i) look_at(view, i);
}

void TurnsTally::look_at(const RideView& view, std::size_t rider) {
  Spell& spell = in_front_[rider];
  if (!view.on_road(rider) || view.role(rider) == Role::waiting) return void(spell = {});
  const std::size_t k = sums_.index_at(view.distance_m(rider));
  Sums& s = sums_[k];
  s.here_s[rider] += 1.0;
  s.moment_s[rider] += view.time_s();
  for (std::size_t other = 0; view.group(rider) != no_group && other < riders_; ++other)
    if (view.on_road(other) && view.group(other) == view.group(rider)) s.together_s[rider * riders_ + other] += 1.0;
  if (!leads(view, rider)) return void(spell = {});
  s.front_s[rider] += 1.0;
  spell = {k, spell.stretch == k ? spell.s + 1.0 : 1.0};
  if (spell.s == least_spell_s) ++s.turns[rider];
  s.first_led_s[rider] = std::min(s.first_led_s[rider], view.time_s());
}

std::vector<GroupTurns> TurnsTally::on(std::size_t stretch, bool own_pace) const {
  const Sums& s = sums_[stretch];
  std::vector<std::uint32_t> group_of(riders_);
  for (std::uint32_t i = 0; i < riders_; ++i) group_of[i] = i;
  for (std::size_t i = 0; i < riders_; ++i)
    for (std::size_t j = 0; j < i; ++j) {
      const double longest_s = std::max(s.here_s[i], s.here_s[j]);
      if (longest_s <= 0.0 || s.together_s[i * riders_ + j] < together_share * longest_s) continue;
      const std::uint32_t from = group_of[i], to = group_of[j];
      for (std::uint32_t& g : group_of)
        if (g == from) g = to;
    }
  const auto moment_s = [&](std::uint32_t i) { return s.moment_s[i] / std::max(1.0, s.here_s[i]); };
  std::vector<std::uint32_t> order;
  for (std::uint32_t i = 0; i < riders_; ++i)
    if (s.here_s[i] > 0.0) order.push_back(i);
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return moment_s(a) < moment_s(b); });
  std::vector<GroupTurns> groups;
  std::vector<bool> told(riders_, false);
  for (const std::uint32_t first : order) {
    if (told[group_of[first]]) continue;
    told[group_of[first]] = true;
    std::vector<std::uint32_t> group;
    for (const std::uint32_t i : order)
      if (group_of[i] == group_of[first]) group.push_back(i);
    groups.push_back(turns_of(s, group, own_pace));
  }
  return groups;
}

GroupTurns TurnsTally::turns_of(const Sums& s, std::vector<std::uint32_t> group, bool own_pace) const {
  double led_s = 0.0;
  for (const std::uint32_t i : group) led_s += s.front_s[i];
  const bool alone = group.size() < 2 || led_s <= 0.0;
  if (own_pace || alone) return {group, std::vector<double>(group.size(), 0.0), true};
  const double least_s = least_turn_share * led_s / static_cast<double>(group.size());
  const auto most = std::ranges::max_element(group, {}, [&](auto i) { return s.front_s[i]; });
  const auto one = one_in_front_ || s.front_s[*most] > all_the_time_share * led_s ? most : group.end();
  const auto turn_s = [&](std::uint32_t i) { return round_turn_s(s.front_s[i] / std::max(1.0, s.turns[i])); };
  const auto pulls = [&](std::uint32_t i) {
    if (one != group.end()) return i == *one;
    return i == *most || (s.front_s[i] >= least_s && turn_s(i) >= least_turn_s_);
  };
  GroupTurns rule;
  for (const std::uint32_t i : group)
    if (pulls(i)) rule.line.push_back(i);
  std::stable_sort(rule.line.begin(), rule.line.end(), [&](auto a, auto b) { return s.first_led_s[a] < s.first_led_s[b]; });
  for (const std::uint32_t i : rule.line) rule.turn_s.push_back(turn_s(i));
  for (const std::uint32_t i : group)
    if (!pulls(i)) rule.line.push_back(i), rule.turn_s.push_back(0.0);
  return rule;
}

}  // namespace leewheel
