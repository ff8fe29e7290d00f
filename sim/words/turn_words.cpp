#include "words/turn_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "leewheel/ride_facts.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

std::string turn_length(double s) {
  return s < 60.0 || std::fmod(s, 60.0) != 0.0 ? fmt::format("{:.0f} s", s) : fmt::format("{:.0f} min", s / 60.0);
}

bool same_rule(const std::vector<GroupTurns>& one, const std::vector<GroupTurns>& other) {
  const auto rule = [](const GroupTurns& group) {
    std::vector<std::pair<std::uint32_t, double>> turns;
    const bool one_leads = group.stays_in_front();
    for (std::size_t k = 0; k < group.line.size(); ++k)
      turns.emplace_back(group.line[k], one_leads && group.turn_s[k] > 0.0 ? 1.0 : group.turn_s[k]);
    std::sort(turns.begin(), turns.end());
    return std::pair(group.own_pace, turns);
  };
  return std::equal(one.begin(), one.end(), other.begin(), other.end(),
                    [&](const GroupTurns& a, const GroupTurns& b) { return rule(a) == rule(b); });
}

std::string turns_text(const GroupTurns& turns, const Scenario& scenario, Formation formation) {
  const std::vector<std::string> names = names_of(scenario, turns.line);
  if (turns.line.size() == 1) return names.front() + " alone";
  if (turns.own_pace) return enumerated(names) + ": no turns, each at the own pace";
  std::vector<std::string> pull, sit;
  for (std::size_t k = 0; k < names.size(); ++k)
    turns.turn_s[k] > 0.0 ? pull.push_back(fmt::format("{} {}", names[k], turn_length(turns.turn_s[k])))
                          : sit.push_back(names[k]);
  if (turns.stays_in_front()) return fmt::format("{} stays in front; then {}", names.front(), fmt::join(sit, ", "));
  const bool alike =
      std::all_of(turns.turn_s.begin(), turns.turn_s.end(), [&](double s) { return s == turns.turn_s[0] || s == 0.0; });
  std::string text = fmt::format("{}", fmt::join(pull, ", "));
  if (alike) {
    const std::vector<std::string> first(names.begin(), names.begin() + static_cast<std::ptrdiff_t>(pull.size()));
    text = fmt::format("{} each: {}", turn_length(turns.turn_s[0]), fmt::join(first, ", "));
  }
  if (formation == Formation::circulating) text = "circulating, " + text;
  if (!sit.empty()) text += fmt::format("; {} {} in", enumerated(sit), sit.size() == 1 ? "sits" : "sit");
  return text;
}

}  // namespace leewheel
