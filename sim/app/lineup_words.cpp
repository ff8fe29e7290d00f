#include "app/lineup_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "app/asking.hpp"
#include "app/lineup_tables.hpp"
#include "leewheel/ride_facts.hpp"
#include "words/day_clock.hpp"
#include "words/effort_words.hpp"
#include "words/formation_words.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

const std::string lineup_cautions =
    std::string(planning_cautions) +
    "Two abreast only where law and road allow; single file on descents, with gaps that grow with "
    "speed; let no one chase to hold\n"
    "a wheel that asks too much. Gusts and crosswinds move riders sideways: leave room. Wait off the road. Nobody is "
    "left alone without word.\n";

std::string kind_words(const GroupPlan& plan) {
  switch (plan.kind) {
    case RideKind::together: return "all together: the first rider sets a pace that everyone can follow";
    case RideKind::steady: {
      const std::string whom =
          plan.pace_share >= 1.0 ? "everyone" : fmt::format("{:.0f} % of the group", 100.0 * plan.pace_share);
      return fmt::format("a steady pace that suits {}{}", whom,
                         plan.free_climb_fraction > 1.0 ? ", kept on the climbs too"
                                                        : "; where a wheel saves little, everyone climbs at the own pace");
    }
    case RideKind::free: return "everyone by their own plan; any cheap wheel is held, and the front is shared";
    case RideKind::race: return "everyone for the finish, with nothing left there";
    case RideKind::by_strength: return "two groups, the stronger and the weaker riders, each at a steady pace";
  }
  return "";
}

namespace {

constexpr double uphill_grade = 0.03;  // from which riding is called climbing
constexpr double little_share = 0.03;  // of the power, that a line saves

/// Who is with whom, in the order of the scenario, and who is left alone: "Ada with Dario; Edda, Falk and Gesa; Ben is behind
/// alone".
std::string company_words(const std::vector<GroupTurns>& groups, const Scenario& scenario) {
  std::vector<std::vector<std::uint32_t>> together;
  std::vector<std::uint32_t> ahead, between, behind;
  for (const GroupTurns& group : groups)
    if (group.line.size() > 1) {
      together.push_back(group.line);
      std::sort(together.back().begin(), together.back().end());
    }
  std::size_t passed = 0;
  for (const GroupTurns& group : groups) {
    passed += group.line.size() > 1;
    if (group.line.size() == 1)
      (passed == 0 ? ahead : passed < together.size() ? between : behind).push_back(group.line.front());
  }
  std::sort(together.begin(), together.end());
  std::vector<std::string> parts;
  for (const std::vector<std::uint32_t>& group : together) {
    const std::vector<std::string> names = names_of(scenario, group);
    parts.push_back(names.size() == 2 ? fmt::format("{} with {}", names[0], names[1]) : enumerated(names));
  }
  if (together.empty()) return enumerated_briefly(names_of(scenario, ahead));
  const auto tell = [&](std::vector<std::uint32_t>& alone, const char* where) {
    std::sort(alone.begin(), alone.end());
    if (!alone.empty())
      parts.push_back(fmt::format("{} {} {} alone", enumerated_briefly(names_of(scenario, alone)),
                                  alone.size() == 1 ? "is" : "are each", where));
  };
  tell(ahead, "ahead"), tell(between, "between the groups"), tell(behind, "behind");
  return fmt::format("{}", fmt::join(parts, "; "));
}

std::string way_of_riding(const LineupStretch& s, const Scenario& scenario) {
  if (s.form == LineupStretch::Form::own_pace)
    return s.grade > uphill_grade ? "climb at your own pace" : "ride at your own pace";
  if (s.groups.size() == 1 && s.grade > uphill_grade && s.saved_share < little_share)
    return "climb together at a pace everyone can follow";
  if (s.groups.size() == 1) return "ride together";
  const auto alone = static_cast<std::size_t>(
      std::count_if(s.groups.begin(), s.groups.end(), [](const GroupTurns& group) { return group.line.size() == 1; }));
  const std::size_t groups = s.groups.size() - alone;
  const std::string how = groups == 0   ? "ride each alone"
                          : groups == 1 ? "ride in one group"
                          : groups == 2 ? "ride in two groups"
                                        : "ride in small groups";
  return fmt::format("{} ({})", how, company_words(s.groups, scenario));
}

/// "9:03", with a known start "9:03, 09:12 to 09:21".
std::string how_long(const RegroupWait& wait, const DayClock& clock) {
  const std::string length = clock_text(wait.first_waits_s);
  return clock.known() ? fmt::format("{}, {} to {}", length, clock.at(wait.first_arrives_s), clock.at(wait.first_goes_on_s))
                       : length;
}

std::string wait_words(const RegroupWait& wait, const Scenario& scenario) {
  const std::string place = wait.name.empty() ? fmt::format("km {:.1f}", wait.at_m / 1000.0) : wait.name;
  if (wait.first_rider == wait.last_rider || wait.first_waits_s < least_wait_s) return "";
  return fmt::format("wait at {} for {}, off the road ({} waits {})", place, scenario.riders[wait.last_rider].name,
                     scenario.riders[wait.first_rider].name, how_long(wait, DayClock(scenario.start)));
}

std::string margin_words(const Lineup& lineup, const LineupSettings& settings) {
  const PlanResult& best = lineup.best();
  const auto days = static_cast<double>(best.days.size());
  if (best.margin_days >= margin_days_share) return "";
  return fmt::format(
      "On {:.0f} of {} drawn days someone's W' falls below {:.0f} % or someone does not get there: have an easier "
      "plan ready.",
      std::round(days * (1.0 - best.margin_days)), best.days.size(), 100.0 * settings.wbal_margin_share);
}

void print_figures(const Lineup& lineup, const Scenario& scenario) {
  const PlanResult& best = lineup.best();
  const std::uint32_t weakest = lineup.weakest;
  const DayClock clock(scenario.start);
  const auto held = static_cast<std::size_t>(std::max_element(best.expected.later_s.begin(), best.expected.later_s.end()) -
                                             best.expected.later_s.begin());
  std::vector<std::string> later;
  for (const std::uint32_t i : lineup.strong) {
    const double minutes = std::round(best.expected.later_s[i] / 60.0);
    later.push_back(minutes == 0.0 ? scenario.riders[i].name + " as alone"
                                   : fmt::format("{} {:.0f} min {}", scenario.riders[i].name, std::abs(minutes),
                                                 minutes < 0.0 ? "sooner" : "later"));
  }
  fmt::print("  last at the finish   {}; on 8 days of 10 from {} to {}, ends good to {}\n",
             clock.beside(best.expected.last_s), clock.beside(best.last_low_s), clock.beside(best.last_high_s),
             clock_text(best.last_ends_s));
  fmt::print("  the weakest          {}: {:.0f} % of critical power, {:.0f} % alone\n", scenario.riders[weakest].name,
             100.0 * best.expected.weakest_effort, 100.0 * lineup.usual_effort[weakest]);
  fmt::print("  beside riding alone  {} (waits included)\n", enumerated(later));
  if (best.expected.later_s[held] >= 60.0)
    fmt::print("  held back most       {}: {:.0f} min later than alone, at {:.0f} % of critical power instead of {:.0f} %\n",
               scenario.riders[held].name, best.expected.later_s[held] / 60.0, 100.0 * best.expected.effort[held],
               100.0 * lineup.usual_effort[held]);
}

void print_plan(const GroupPlan& plan, const Lineup& lineup, const Scenario& scenario, const ShownUnits& units) {
  fmt::print("\nHow: {}.\n", kind_words(plan));
  fmt::print("  front     {}\n", formation_words(plan));
  fmt::print("  order     {} ({})\n", plan.order.empty() ? "by name" : fmt::format("{}", fmt::join(plan.order, ", ")),
             plan.order_rule);
  if (plan.lean > 0.0)
    fmt::print("{}", wrapped("  efforts   ", lean_text(plan.lean, with_plan(scenario, plan, lineup.weakest), units), 120));
  if (plan.weakest_effort < 1.0)
    fmt::print("  {:<9} rides at {:.0f} % of his or her own plan when alone or in front\n",
               scenario.riders[lineup.weakest].name, 100.0 * plan.weakest_effort);
  for (std::size_t g = 0; lineup.groups.size() > 1 && g < lineup.groups.size(); ++g)
    fmt::print("  group {}   {}\n", g + 1, fmt::join(names_of(scenario, lineup.groups[g]), ", "));
}

}  // namespace

std::string plan_in_words(const PlanResult& plan, const Scenario& scenario) {
  std::vector<std::string> parts;
  std::string way, to;
  const bool own_pace = all_at_own_pace(plan);
  const auto told = [&] {
    if (!way.empty()) parts.push_back(way + (to == "finish" ? " to the finish" : " to " + to));
    way.clear();
  };
  for (const LineupStretch& s : plan.stretches) {
    const std::string here = own_pace ? "ride at your own pace" : way_of_riding(s, scenario);
    if (here != way) told(), way = here;
    to = s.where.to;
    for (const RegroupWait& wait : plan.waits) {
      const std::string words = wait_words(wait, scenario);
      if (words.empty() || wait.at_m > s.where.to_m + 50.0 || wait.at_m <= s.where.from_m + 50.0) continue;
      told();
      parts.push_back(words);
    }
  }
  told();
  std::string text = fmt::format("{}.", fmt::join(parts, "; "));
  text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  return text;
}

void print_lineup(const Lineup& lineup, const Scenario& scenario, const LineupSettings& settings, const ShownUnits& units) {
  const char* aims[] = {"the last rider is at the finish soonest", "the weakest rider works least", "all work alike"};
  const std::string& weakest = scenario.riders[lineup.weakest].name;
  fmt::print("{}\n", scenario.title);
  if (!lineup.found) {
    fmt::print("No plan brings everyone to the finish with {:.0f} % of W' left. The weakest here is {} (slowest alone).\n",
               100.0 * settings.wbal_margin_share, weakest);
    return print_choices(lineup, scenario, settings);
  }
  fmt::print("{}", wrapped("", plan_in_words(lineup.best(), scenario), 120));
  fmt::print("{}", wrapped("",
                           fmt::format("Wanted: {}; the weakest here is {} (slowest alone). {} {}",
                                       aims[static_cast<std::size_t>(lineup.aim)], weakest, why_chosen(lineup, scenario),
                                       margin_words(lineup, settings)),
                           120));
  print_figures(lineup, scenario);
  print_plan(lineup.best().plan, lineup, scenario, units);
  print_turns(lineup.best(), scenario);
  print_choices(lineup, scenario, settings);
  print_stretches(lineup.best(), scenario, units);
  print_riders(lineup, scenario);
  fmt::print("\n{}", lineup_cautions);
}

}  // namespace leewheel
