#include "app/lineup_into.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "app/lineup_tables.hpp"
#include "app/lineup_words.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "leewheel/ride_facts.hpp"
#include "words/day_clock.hpp"
#include "words/plain_text.hpp"
#include "words/turn_words.hpp"

namespace leewheel {

namespace {

constexpr std::size_t columns = 100;

/// "starts 09:24", or "starts 12:30 after the first group".
std::string start_words(const ClubGroup& group, const DayClock& clock) {
  if (clock.known()) return "starts at " + clock.at(group.start_s);
  return group.start_s < 1.0 ? std::string("starts first")
                             : fmt::format("starts {} after the first group", clock_text(group.start_s));
}

/// Who rides a stretch alone on which others ride together, and what to do about it: a line a rider.
std::string alone_words(const ClubGroup& group, std::size_t number, std::size_t groups) {
  std::map<std::uint32_t, std::pair<bool, std::vector<std::string>>> alone;  // behind the others last; where
  for (const LineupStretch& s : group.lineup.best().stretches) {
    const auto in_company = [](const GroupTurns& turns) { return turns.line.size() > 1; };
    const auto first = std::find_if(s.groups.begin(), s.groups.end(), in_company);
    if (s.form == LineupStretch::Form::own_pace || first == s.groups.end()) continue;
    for (auto it = s.groups.begin(); it != s.groups.end(); ++it)
      if (!in_company(*it)) {
        auto& [behind, where] = alone[it->line.front()];
        behind = it > first, where.push_back(fmt::format("{} to {}", s.where.from, s.where.to));
      }
  }
  std::string text;
  for (const auto& [rider, told] : alone) {
    const std::string& name = group.scenario.riders[rider].name;
    const auto& [behind, where] = told;
    const std::size_t other = behind ? number + 1 : number - 1;
    const std::string there = other >= 1 && other <= groups ? fmt::format(", or {} rides in group {}", name, other) : "";
    text += wrapped("         ",
                    fmt::format("{} is alone {} the others ({}): somebody rides with {}{}.", name,
                                behind ? "behind" : "ahead of", enumerated(where), name, there),
                    columns);
  }
  return text;
}

std::string group_words(const ClubGroup& group, std::size_t number, const Scenario& scenario, const ClubSplit& split,
                        const DayClock& clock) {
  const auto [quick, slow] = std::pair(split.alone_s[group.riders.front()], split.alone_s[group.riders.back()]);
  std::string text =
      wrapped(fmt::format("Group {}  ", number),
              fmt::format("{}: {}. Alone they take {} to {}.", counted(group.riders.size(), "rider"),
                          fmt::join(names_of(scenario, group.riders), ", "), clock_text(quick), clock_text(slow)),
              columns);
  if (!group.lineup.found) return text + "         No plan brings all of them to the finish; make this group smaller.\n";
  const PlanResult& plan = group.lineup.best();
  text += wrapped("         ",
                  fmt::format("{}, rides {}{}.", start_words(group, clock), clock_text(group.ride_s),
                              group.meet_s ? fmt::format(" (on 8 of 10 days {} to {})", clock_text(group.meet_s->low),
                                                         clock_text(group.meet_s->high))
                                           : ""),
                  columns);
  text += wrapped("         ", "Captain: " + plan_in_words(plan, group.scenario), columns);
  text += alone_words(group, number, split.groups.size());
  std::string before;
  for (const LineupStretch& s : plan.stretches)
    for (const GroupTurns& turns : s.groups) {
      if (s.form == LineupStretch::Form::own_pace || turns.line.size() < 2) continue;
      const std::string rule = turns_text(turns, group.scenario, plan.plan.formation);
      if (rule != before)
        text += wrapped("         ", fmt::format("Turns {} to {}: {}.", s.where.from, s.where.to, rule), columns);
      before = rule;
    }
  return text;
}

}  // namespace

std::string split_words(const ClubSplit& split, const Scenario& scenario, const std::string& meet) {
  const DayClock clock(scenario.start);
  double slowest_s = 0.0;
  for (const ClubGroup& group : split.groups) slowest_s = std::max(slowest_s, group.ride_s);
  std::string text = scenario.title + "\n" +
                     wrapped("",
                             fmt::format("{} in {} by strength; all meet {} {} after the first start.",
                                         counted(scenario.riders.size(), "rider"), counted(split.groups.size(), "group"),
                                         meet, clock.beside(slowest_s)),
                             columns);
  for (std::size_t g = 0; g < split.groups.size(); ++g)
    text += "\n" + group_words(split.groups[g], g + 1, scenario, split, clock);
  text += "\n";
  if (split.border.empty()) return text + "Nobody is on the border between two groups.\n";
  std::vector<std::string> names;
  for (const OnTheBorder& b : split.border)
    names.push_back(fmt::format("{} (in {}, {} from {})", scenario.riders[b.rider].name, b.group + 1, clock_text(b.apart_s),
                                b.other + 1));
  return text +
         wrapped("On the border, who could as well ride with the next group: ", fmt::format("{}.", fmt::join(names, ", ")),
                 columns);
}

std::string split_json(const ClubSplit& split, const Scenario& scenario, const SplitSettings& settings) {
  using Json = nlohmann::ordered_json;
  const DayClock clock(scenario.start);
  Json out{{"layout_version", json_layout::lineup_into},
           {"title", scenario.title},
           {"meet_at_m", settings.meet_at_m < 0.0 ? scenario.road.length_m() : settings.meet_at_m},
           {"groups", Json::array()},
           {"border", Json::array()}};
  for (const ClubGroup& group : split.groups) {
    Json one{{"riders", names_of(scenario, group.riders)},
             {"start_s", json_number(group.start_s, 1)},
             {"start_at", clock.known() ? Json(clock.iso(group.start_s)) : Json(nullptr)},
             {"ride_s", json_number(group.ride_s, 1)},
             {"found", group.lineup.found}};
    if (group.lineup.found) one["in_words"] = plan_in_words(group.lineup.best(), group.scenario);
    out["groups"].push_back(std::move(one));
  }
  for (const OnTheBorder& b : split.border)
    out["border"].push_back({{"rider", scenario.riders[b.rider].name},
                             {"group", b.group + 1},
                             {"other", b.other + 1},
                             {"apart_s", json_number(b.apart_s, 1)}});
  out["cautions"] = lineup_cautions;
  return json_text(out);
}

}  // namespace leewheel
