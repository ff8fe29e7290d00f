#include "app/lineup_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "app/lineup_words.hpp"
#include "leewheel/ride_facts.hpp"
#include "plan/group_places.hpp"
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

void print_turns(const PlanResult& plan, const Scenario& scenario) {
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

void print_stretches(const PlanResult& plan, const ShownUnits& units) {
  fmt::print("\nThe road and the pace\n  {:>5}   {:>5}  {:<34} {:>6} {:>8} {:>6} {:>6} {:>6}  {}\n", "from", "to", "",
             "slope", "headwind", "front", "front", "saves", "how");
  fmt::print("  {:>5}   {:>5}  {:<34} {:>6} {:>8} {:>6} {:>6} {:>6}\n", units.way_name(), units.way_name(), "", "%",
             units.speed_name(), units.speed_name(), "W", "%");
  for (const LineupStretch& s : plan.stretches)
    fmt::print("  {:5.2f} - {:5.2f}  {:<34} {:6.1f} {:8.0f} {:6.1f} {:6.0f} {:6.0f}  {}\n", units.way(s.where.from_m),
               units.way(s.where.to_m), section(s), 100.0 * s.grade, std::round(units.speed(s.headwind_mps)) + 0.0,
               units.speed(s.front_speed_mps), s.front_power_W, 100.0 * s.saved_share,
               form_names[static_cast<std::size_t>(s.form)]);
}

void print_riders(const Lineup& lineup, const Scenario& scenario) {
  const PlanScore& expected = lineup.best().expected;
  const bool tells_wbal = expected.wbal_least_share < 0.3;  // where it decides something
  fmt::print("\n  {:<16} {:>9} {:>11} {:>9} {:>9} {:>9}{}\n", "", "finish", "than alone", "effort", "alone", "in front",
             tells_wbal ? "  W' lowest" : "");
  fmt::print("  {:<16} {:>9} {:>11} {:>9} {:>9} {:>9}{}\n", "", "", "", "% of CP", "% of CP", "",
             tells_wbal ? "          %" : "");
  for (std::size_t i = 0; i < scenario.riders.size(); ++i) {
    double in_front_s = 0.0;
    for (const LineupStretch& s : lineup.best().stretches) in_front_s += s.front_s[i];
    const double later_s = expected.later_s[i];
    fmt::print("  {:<16} {:>9} {:>11} {:9.0f} {:9.0f} {:>9}{}\n", scenario.riders[i].name, clock_text(expected.finish_s[i]),
               (later_s < 0.0 ? "-" : "+") + clock_text(std::abs(later_s)), 100.0 * expected.effort[i],
               100.0 * lineup.usual_effort[i], clock_text(in_front_s),
               tells_wbal ? fmt::format(" {:10.0f}", 100.0 * expected.wbal_share[i]) : "");
  }
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
