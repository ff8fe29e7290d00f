#include "app/lineup_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "app/lineup_words.hpp"
#include "leewheel/ride_facts.hpp"
#include "plan/group_places.hpp"
#include "words/day_clock.hpp"
#include "words/plain_text.hpp"
#include "words/turn_words.hpp"

namespace leewheel {

namespace {

std::string section(const LineupStretch& s) { return s.where.from + " to " + s.where.to; }

std::size_t largest(const std::vector<double>& values) {
  return static_cast<std::size_t>(std::max_element(values.begin(), values.end()) - values.begin());
}

std::string percent_text(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

}  // namespace

bool all_at_own_pace(const PlanResult& plan) {
  return std::all_of(plan.stretches.begin(), plan.stretches.end(),
                     [](const LineupStretch& s) { return s.form == LineupStretch::Form::own_pace; });
}

void print_turns(const PlanResult& plan, const Scenario& scenario) {
  if (all_at_own_pace(plan)) return fmt::print("\nTurns: none, everyone rides at the own pace\n");
  fmt::print("\nTurns: in this order, each as long as said, then to the back of the own group\n");
  const std::vector<GroupTurns>* before = nullptr;
  for (const LineupStretch& s : plan.stretches) {
    std::vector<std::string> lines;
    if (s.form == LineupStretch::Form::own_pace) {
      lines = {"no turns: everyone at the own pace"};
    } else if (before && same_rule(*before, s.groups)) {
      lines = {"as before"};
    } else {
      for (const GroupTurns& group : s.groups) lines.push_back(turns_text(group, scenario, plan.plan.formation));
    }
    before = &s.groups;
    for (std::size_t k = 0; k < lines.size(); ++k)
      fmt::print("{}", wrapped(fmt::format("  {:<34} ", k ? "" : section(s)), lines[k], 120));
  }
}

void print_stretches(const PlanResult& plan, const Scenario& scenario, const ShownUnits& units) {
  const DayClock clock(scenario.start);
  const auto time = [&](double time_s) { return clock.known() ? clock.at(time_s) : clock_text(time_s); };
  constexpr const char* row = "  {:>5}{}{:>5}  {:<34} {:>6} {:>8} {:>6} {:>6} {:>6} {:>8} {:>8}  {}\n";
  const auto number = [](double value, int decimals) { return fmt::format("{:.{}f}", value, decimals); };
  fmt::print("\nThe road and the pace\n");
  fmt::print(row, "from", "   ", "to", "", "slope", "headwind", "front", "front", "saved", "first", "last", "how");
  fmt::print(row, units.way_name(), "   ", units.way_name(), "", "%", units.speed_name(), units.speed_name(), "W", "W",
             "at end", "at end", "");
  for (const LineupStretch& s : plan.stretches)
    fmt::print(row, number(units.way(s.where.from_m), 2), " - ", number(units.way(s.where.to_m), 2), section(s),
               number(100.0 * s.grade, 1), number(std::round(units.speed(s.headwind_mps)) + 0.0, 0),
               s.front_power_W > 0.0 ? number(units.speed(s.front_speed_mps), 1) : "–",
               s.front_power_W > 0.0 ? number(s.front_power_W, 0) : "–", number(std::round(s.saved_W) + 0.0, 0),
               time(s.first_arrives_s), time(s.last_arrives_s), form_names[static_cast<std::size_t>(s.form)]);
}

void print_riders(const Lineup& lineup, const Scenario& scenario) {
  const PlanScore& expected = lineup.best().expected;
  const DayClock clock(scenario.start);
  const bool tells_wbal = expected.wbal_least_share < 0.3;  // where it decides something
  const GroupPlan& plan = lineup.best().plan;
  const bool other_efforts = plan.lean > 0.0 || plan.weakest_effort < 1.0;
  const auto later = [](double s) { return (s < 0.0 ? "-" : "+") + clock_text(std::abs(s)); };
  const auto row = [&](const std::string& name, const std::vector<std::string>& cells) {
    fmt::print("  {:<16} {:>15} {:>11}{} {:>9} {:>9} {:>9}{}\n", name, cells[0], cells[1],
               other_efforts ? fmt::format(" {:>15}", cells[2]) : "", cells[3], cells[4], cells[5],
               tells_wbal ? fmt::format("  {:>9}", cells[6]) : "");
  };
  fmt::print("\n");
  row("", {"finish", "than alone", "than alone at", "effort", "alone", "in front", "W' lowest"});
  row("", {"", "", "these efforts", "% of CP", "% of CP", "", "%"});
  for (std::size_t i = 0; i < scenario.riders.size(); ++i) {
    double in_front_s = 0.0;
    for (const LineupStretch& s : lineup.best().stretches) in_front_s += s.front_s[i];
    row(scenario.riders[i].name,
        {clock.beside(expected.finish_s[i]), later(expected.later_s[i]), later(-lineup.door_to_door_saved_s[i]),
         fmt::format("{:.0f}", 100.0 * expected.effort[i]), fmt::format("{:.0f}", 100.0 * lineup.usual_effort[i]),
         clock_text(in_front_s), fmt::format("{:.0f}", 100.0 * expected.wbal_share[i])});
  }
  fmt::print("  alone: by the own usual effort, nobody else on the road{}\n",
             other_efforts ? "; at these efforts: alone by this plan, as `ride` of it compares" : "");
}

std::string unfit_words(const PlanResult& plan, const Lineup& lineup, const Scenario& scenario) {
  const PlanScore& score = plan.expected;
  switch (plan.unfit) {
    case Unfit::none: return "may be chosen";
    case Unfit::not_home: return "does not bring everyone to the finish";
    case Unfit::runs_dry: return "leaves someone without strength on the way (W' below the margin)";
    case Unfit::bad_place:
      for (const double at_m : plan.plan.regroup_at_m)
        if (const std::string why = unfit_to_wait(scenario.road, at_m); !why.empty())
          return fmt::format("waits at km {:.1f}: {}", at_m / 1000.0, why);
      return "";
    case Unfit::harder: {
      std::vector<double> ratio;
      for (std::size_t i = 0; i < score.effort.size(); ++i) ratio.push_back(score.effort[i] / lineup.usual_effort[i]);
      return fmt::format("asks {} more of {} than usual", percent_text(ratio[largest(ratio)] - 1.0),
                         scenario.riders[largest(ratio)].name);
    }
    case Unfit::held_back:
      return fmt::format("holds {} back by {:.0f} min", scenario.riders[largest(score.later_s)].name,
                         score.held_back_s / 60.0);
    case Unfit::too_late:
      return fmt::format("is too late ({}, limit {})", clock_text(score.last_s), clock_text(lineup.time_limit_s));
    case Unfit::beaten: return "is hardly better than a plan of the table in any column";
  }
  return "";
}

}  // namespace leewheel
