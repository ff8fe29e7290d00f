#include <algorithm>
#include <limits>

#include "pages/sheet_page.hpp"
#include "words/turn_words.hpp"

namespace leewheel {

namespace {

constexpr double least_share = 0.2;   // of riding time in a line, for a rider to be told a wheel (assumed)
constexpr double least_front_s = 20;  // shorter spells in front are not worth a word (assumed)

/// The group of a rider on a stretch; nullptr where nobody was seen.
const GroupTurns* group_of(const Page& page, std::size_t i, std::size_t k) {
  for (const GroupTurns& group : page.sheet.stretches[k].groups)
    if (std::ranges::count(group.line, i)) return &group;
  return nullptr;
}

std::string leads(double turn_s) { return "lead " + turn_length(turn_s); }

}  // namespace

bool rides_in_line(const Page& page, std::size_t i, std::size_t k) {
  const SheetRidden* const r = page.ridden(i, k);
  const GroupTurns* const group = group_of(page, i, k);
  return r && group && !group->own_pace && !page.sheet.stretches[k].descent() && group->line.size() > 1 &&
         (r->follow_s >= least_share * r->riding_s || r->front_s >= least_front_s);
}

std::optional<std::size_t> wheel_to_follow(const Page& page, std::size_t i, std::size_t k) {
  if (!rides_in_line(page, i, k) || page.ridden(i, k)->follow_s < least_share * page.ridden(i, k)->riding_s) return {};
  const std::vector<std::uint32_t>& line = group_of(page, i, k)->line;
  const auto at = static_cast<std::size_t>(std::ranges::find(line, i) - line.begin());
  return line[(at + line.size() - 1) % line.size()];
}

double planned_turn_s(const Page& page, std::size_t i, std::size_t k) {
  if (!rides_in_line(page, i, k)) return 0.0;
  const GroupTurns& group = *group_of(page, i, k);
  const double turn_s = group.turn_s[static_cast<std::size_t>(std::ranges::find(group.line, i) - group.line.begin())];
  return turn_s > 0.0 && group.stays_in_front() ? std::numeric_limits<double>::infinity() : turn_s;
}

std::string whom_to_follow(const Page& page, std::size_t i, std::size_t k) {
  if (!rides_in_line(page, i, k)) return "own pace";
  const GroupTurns& group = *group_of(page, i, k);
  const auto at = static_cast<std::size_t>(std::ranges::find(group.line, i) - group.line.begin());
  const double turn_s = group.turn_s[at];
  const std::optional<std::size_t> wheel = wheel_to_follow(page, i, k);
  if (group.stays_in_front() && at == 0) return "lead all the way";
  if (!wheel) return turn_s > 0.0 ? leads(turn_s) + ", then to the back" : "own pace";
  if (turn_s <= 0.0) return "behind " + page.name(*wheel);
  if (at == 0) return fmt::format("{}, then behind {}", leads(turn_s), page.name(*wheel));
  return fmt::format("behind {}, {}", page.name(*wheel), leads(turn_s));
}

std::vector<TurnsOnWay> turns_by_stretch(const Page& page) {
  std::vector<TurnsOnWay> rows;
  const std::vector<GroupTurns>* before = nullptr;
  for (const SheetStretch& s : page.sheet.stretches) {
    std::string text;
    if (s.descent())
      text = "no turns, leave room";
    else if (!s.in_a_line())
      text = "no turns, everyone at his or her own pace";
    for (const GroupTurns& group : s.groups)
      if (s.wheels_advised())
        text += (text.empty() ? "" : ". ") + turns_text(group, page.scenario(), page.scenario().ride.formation);
    const bool as_before = !rows.empty() && (text == rows.back().text || (before && same_rule(*before, s.groups)));
    as_before ? void(rows.back().to = s.to) : rows.push_back({s.from, s.to, text});
    before = s.wheels_advised() ? &s.groups : nullptr;
  }
  return rows;
}

std::string rule_for_turns(const Page& page) {
  std::vector<double> turns_s;
  std::vector<std::string> own_pace;
  bool one_leads = true;
  std::string own_pace_from;
  for (const SheetStretch& s : page.sheet.stretches) {
    const bool last = &s == &page.sheet.stretches.back();
    if (!s.wheels_advised() && own_pace_from.empty()) own_pace_from = s.from;
    if (!own_pace_from.empty() && (s.wheels_advised() || last))
      own_pace.push_back(own_pace_from + " to " + (s.wheels_advised() ? s.from : s.to)), own_pace_from.clear();
    for (const GroupTurns& group : s.groups) {
      if (group.own_pace) continue;
      one_leads = one_leads && group.stays_in_front();
      for (const double turn_s : group.turn_s)
        if (turn_s > 0.0) turns_s.push_back(turn_s);
    }
  }
  if (turns_s.empty()) return "none: everyone rides at his or her own pace";
  std::ranges::sort(turns_s);
  const std::string length = turn_length(turns_s[turns_s.size() / 2]);
  std::string text = one_leads ? "whoever is first stays in front, nobody takes over"
                     : turns_s.front() == turns_s.back()
                         ? fmt::format("{} in front, then to the back of your own group", length)
                     : turns_s.back() <= 3.0 * turns_s.front()
                         ? fmt::format("about {} in front, the strong longer, then to the back of your own group", length)
                         : fmt::format("{} to {} in front by stretch and strength, then to the back of your own group",
                                       turn_length(turns_s.front()), turn_length(turns_s.back()));
  if (!own_pace.empty()) text += fmt::format("; no turns but your own pace from {}", enumerated(own_pace));
  return text;
}

}  // namespace leewheel
