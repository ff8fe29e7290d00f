#include "app/lineup_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "app/asking.hpp"
#include "leewheel/ride_facts.hpp"
#include "words/formation_words.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

const std::string lineup_cautions =
    std::string(planning_cautions) +
    "Two abreast only where law and road allow; single file on descents, with gaps that grow with "
    "speed; let no one chase to hold\n"
    "a wheel that asks too much. Gusts and crosswinds move riders sideways: leave room. Nobody is "
    "left alone without word.\n";

std::string kind_words(const GroupPlan& plan) {
  switch (plan.kind) {
    case RideKind::together: return "all together: the first rider sets a pace that everyone can follow";
    case RideKind::steady:
      return fmt::format("a steady pace that suits {:.0f} % of the group{}", 100.0 * plan.pace_share,
                         plan.free_climb_fraction > 1.0 ? ", kept on the climbs too"
                                                        : "; everyone climbs freely where a wheel saves little");
    case RideKind::free: return "everyone by their own plan; any cheap wheel is held, and the front is shared";
    case RideKind::race: return "everyone for the top; W' is spent by the finish";
    case RideKind::by_strength: return "two groups of similar strength, each at a steady pace";
  }
  return "";
}

namespace {

std::string value_text(LineupAim aim, double value) {
  return aim == LineupAim::time ? clock_text(value) : fmt::format("{:.1f} %", 100.0 * value);
}
const char* value_name(LineupAim aim) {
  constexpr const char* names[] = {"last home", "weakest's effort", "spread of effort"};
  return names[static_cast<std::size_t>(aim)];
}

void print_plan(const Lineup& lineup, const Scenario& scenario, const ShownUnits& units) {
  const GroupPlan& plan = lineup.best.plan;
  fmt::print("The plan: {}.\n", kind_words(plan));
  fmt::print("  front     {}\n", formation_words(plan));
  fmt::print("  order     {} ({})\n", plan.order.empty() ? "by name" : fmt::format("{}", fmt::join(plan.order, ", ")),
             plan.order_rule);
  if (plan.kind != RideKind::race)
    fmt::print(
        "  power     in front at most {:.2f} times the rider's own target, on a wheel at most {:.2f} times for long;\n      "
        "      "
        "with W' below {:.0f} %: leave the front, let costly wheels go\n",
        plan.front_effort, plan.hold_margin, 100.0 * plan.wprime_reserve);
  if (plan.lean > 0.0)
    fmt::print("  efforts   {:.0f} % harder where it is steep, easier elsewhere, the same on average\n", 100.0 * plan.lean);
  if (plan.weakest_effort < 1.0)
    fmt::print("  {:<9} rides at {:.0f} % of his or her own plan when alone or in front\n",
               scenario.riders[lineup.weakest].name, 100.0 * plan.weakest_effort);
  for (std::size_t g = 0; lineup.groups.size() > 1 && g < lineup.groups.size(); ++g)
    fmt::print("  group {}   {}\n", g + 1, fmt::join(names_of(scenario, lineup.groups[g]), ", "));
  if (lineup.waits.empty()) fmt::print("  regroup   nowhere on the way\n");
  for (const RegroupWait& wait : lineup.waits) {
    const std::string who = wait.first_rider == wait.last_rider
                                ? "nobody waits"
                                : fmt::format("{} waits {} for {}", scenario.riders[wait.first_rider].name,
                                              clock_text(wait.first_waits_s), scenario.riders[wait.last_rider].name);
    fmt::print("  regroup   at {} {:.2f}{}: {}\n", units.way_name(), units.way(wait.at_m),
               wait.name.empty() ? "" : " (" + wait.name + ")", who);
  }
}

std::string pullers(const LineupStretch& s, const Scenario& scenario) {
  std::vector<std::size_t> who;
  for (std::size_t i = 0; i < s.front_s.size(); ++i)
    if (s.front_s[i] >= 20.0) who.push_back(i);
  std::stable_sort(who.begin(), who.end(), [&](std::size_t a, std::size_t b) { return s.front_s[a] > s.front_s[b]; });
  if (s.form == LineupStretch::Form::own_pace) return "free; no one pulls for long";
  std::vector<std::string> words;
  for (const std::size_t i : who) words.push_back(fmt::format("{} {}", scenario.riders[i].name, clock_text(s.front_s[i])));
  return fmt::format("{}", fmt::join(words, ", "));
}

void print_stretches(const Lineup& lineup, const Scenario& scenario, const ShownUnits& units) {
  fmt::print("\n  {:>5}   {:>5}  {:<34} {:>6} {:>8} {:>6} {:>6} {:>6}  {:<26} {}\n", "from", "to", "", "slope", "headwind",
             "front", "front", "saves", "how", "who pulls");
  fmt::print("  {:>5}   {:>5}  {:<34} {:>6} {:>8} {:>6} {:>6} {:>6}\n", units.way_name(), units.way_name(), "", "%",
             units.wind_name(), units.speed_name(), "W", "%");
  for (const LineupStretch& s : lineup.stretches)
    fmt::print("  {:5.2f} - {:5.2f}  {:<34} {:6.1f} {:8.1f} {:6.1f} {:6.0f} {:6.0f}  {:<26} {}\n", units.way(s.where.from_m),
               units.way(s.where.to_m), s.where.from + " to " + s.where.to, 100.0 * s.grade, units.wind(s.headwind_mps),
               units.speed(s.front_speed_mps), s.front_power_W, 100.0 * s.saved_share,
               form_names[static_cast<std::size_t>(s.form)], pullers(s, scenario));
}

double planned_effort(const Scenario& scenario, std::size_t rider) {
  return rider < scenario.plans.size() && !scenario.plans[rider].empty() ? scenario.plans[rider].front().effort
                                                                         : scenario.riders[rider].target_effort;
}

void print_riders(const Lineup& lineup, const Scenario& scenario) {
  fmt::print("\n  {:<16} {:>8} {:>9} {:>10} {:>10} {:>12} {:>9} {:>8}\n", "", "home", "effort", "own plan", "W' lowest",
             "on any day", "in front", "turns");
  fmt::print("  {:<16} {:>8} {:>9} {:>10} {:>10} {:>12} {:>9} {:>8}\n", "", "", "% of CP", "% of CP", "%", "%", "", "ended");
  const PlanScore& expected = lineup.best.expected;
  for (std::size_t i = 0; i < scenario.riders.size(); ++i) {
    double least = 1.0;
    for (const PlanScore& day : lineup.best.days) least = std::min(least, day.wbal_share[i]);
    fmt::print("  {:<16} {:>8} {:9.0f} {:10.0f} {:10.0f} {:12.0f} {:>9} {:8}\n", scenario.riders[i].name,
               clock_text(expected.finish_s[i]), 100.0 * expected.effort[i], 100.0 * planned_effort(scenario, i),
               100.0 * expected.wbal_share[i], 100.0 * least, clock_text(lineup.pulls[i].in_front_s), lineup.pulls[i].turns);
  }
}

/// A plan that asks more of someone than that rider meant to give is a question, not an order.
void print_asked_more(const Lineup& lineup, const Scenario& scenario) {
  constexpr double clearly = 0.04;
  for (std::size_t i = 0; i < scenario.riders.size(); ++i) {
    const double effort = lineup.best.expected.effort[i], own = planned_effort(scenario, i);
    if (effort > own + clearly)
      fmt::print("  {} must give {:.0f} % of critical power on average; the rider's own plan says {:.0f} %: ask first.\n",
                 scenario.riders[i].name, 100.0 * effort, 100.0 * own);
  }
}

std::string verdict(const PlanResult& result, const LineupSettings& settings) {
  const auto dry = [&](const PlanScore& day) { return day.wbal_least_share < settings.wbal_margin_share; };
  if (result.allowed) return "";
  if (!result.expected.all_home) return "not everyone gets home";
  if (dry(result.expected)) return "someone runs dry";
  if (std::any_of(result.days.begin(), result.days.end(), dry)) return "someone runs out of W' on another day";
  if (std::any_of(result.days.begin(), result.days.end(), [](const PlanScore& day) { return !day.all_home; }))
    return "not everyone gets home on another day";
  return "too late";
}

void print_comparison(const Lineup& lineup, const LineupSettings& settings) {
  fmt::print("\nAgainst the obvious plans, over {} days ({}):\n", lineup.day_names.size(),
             fmt::join(lineup.day_names, ", "));
  fmt::print("  {:<32} {:>16}  {:>21} {:>10} {:>14} {:>12}\n", "", value_name(lineup.aim), "lowest to highest", "last home",
             "weakest, % CP", "longest wait");
  const auto row = [&](const PlanResult& r, const std::string& name) {
    fmt::print("  {:<32} {:>16}  {:>21} {:>10} {:14.0f} {:>12}  {}\n", name, value_text(lineup.aim, r.value),
               fmt::format("{} to {}", value_text(lineup.aim, r.value_low), value_text(lineup.aim, r.value_high)),
               clock_text(r.expected.last_s), 100.0 * r.expected.weakest_effort, clock_text(r.expected.longest_wait_s),
               verdict(r, settings));
  };
  row(lineup.best, "this plan");
  for (const PlanResult& r : lineup.obvious) row(r, r.plan.name);
  fmt::print("Values are means over the days; last home, effort and wait are those of the expected day. {} rides.\n",
             lineup.rides);
  if (lineup.time_limit_s > 0.0)
    fmt::print("Plans may take {:.0f} % longer than the quickest obvious one: {}.\n", 100.0 * settings.time_limit_share,
               clock_text(lineup.time_limit_s));
}

void print_split(const Lineup& lineup, const Scenario& scenario) {
  fmt::print("\nWhole or split: ");
  if (lineup.split_groups.size() < 2) return fmt::print("no way to split was allowed or possible.\n");
  fmt::print("the best split tried ({} | {}) gives {}", fmt::join(names_of(scenario, lineup.split_groups[0]), ", "),
             fmt::join(names_of(scenario, lineup.split_groups[1]), ", "), value_text(lineup.aim, lineup.best_split));
  if (lineup.best_whole > 0.0) fmt::print(", the best whole group {}", value_text(lineup.aim, lineup.best_whole));
  fmt::print(", means over the days: {}.\n", lineup.groups.size() > 1 ? "split" : "stay whole");
}

}  // namespace

void print_lineup(const Lineup& lineup, const Scenario& scenario, const LineupSettings& settings, const ShownUnits& units) {
  fmt::print("{}: for {}. The weakest here is {} (slowest alone).\n", scenario.title,
             settings.aim == LineupAim::time      ? "the earliest finish of the last rider"
             : settings.aim == LineupAim::weakest ? "the lowest effort of the weakest rider"
                                                  : "like work for all",
             scenario.riders[lineup.weakest].name);
  if (!lineup.found) {
    fmt::print("No plan brings everyone home with {:.0f} % of W' left on every day.\n", 100.0 * settings.wbal_margin_share);
    return print_comparison(lineup, settings);
  }
  print_plan(lineup, scenario, units);
  print_stretches(lineup, scenario, units);
  print_riders(lineup, scenario);
  print_asked_more(lineup, scenario);
  print_comparison(lineup, settings);
  print_split(lineup, scenario);
  fmt::print("\n{}", lineup_cautions);
}

}  // namespace leewheel
