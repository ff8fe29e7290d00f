#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "app/lineup_tables.hpp"
#include "app/lineup_words.hpp"
#include "leewheel/ride_facts.hpp"
#include "words/formation_words.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

std::string plan_label(const GroupPlan& plan) {
  if (plan.name != "found") return plan.name;
  constexpr const char* kinds[] = {"all together", "steady", "own plans", "for the finish", "two groups"};
  constexpr const char* formations[] = {"turns", "circulating", "one in front"};
  return fmt::format("{}, {}", kinds[static_cast<std::size_t>(plan.kind)],
                     formations[static_cast<std::size_t>(plan.formation)]);
}

namespace {

/// How many groups ride each stretch.
std::string parts_text(const PlanResult& plan) {
  std::vector<std::size_t> parts;
  for (const LineupStretch& s : plan.stretches) parts.push_back(s.groups.size());
  const bool whole = std::all_of(parts.begin(), parts.end(), [](std::size_t n) { return n == 1; });
  return whole ? "whole" : fmt::format("{}", fmt::join(parts, " "));
}

/// A plan beside the chosen one, as far as it holds on the days. How much stands in the columns of both.
std::string against_text(const Lineup& lineup, const PlanDuel& duel) {
  constexpr const char* worse[] = {"later", "more", "wider"};
  constexpr const char* better[] = {"sooner", "less", "closer"};
  const auto aim = static_cast<std::size_t>(lineup.aim);
  const std::size_t days = lineup.best().days.size();
  if (duel.wins) return fmt::format("{} on {} of {}", worse[aim], duel.days_better, days);
  return duel.loses ? fmt::format("{} on {} of {}", better[aim], duel.days_worse, days) : "as good";
}

/// Columns that are shown only where they decide something.
struct Columns {
  bool fair, wbal;
};

void print_head(const Lineup& lineup, const Scenario& scenario, Columns shown) {
  std::string first, second;
  for (const std::uint32_t i : lineup.strong) {
    first += fmt::format(" {:>8}", "later");
    second += fmt::format(" {:>8}", shortened(scenario.riders[i].name, 8));
  }
  fmt::print("     {:<38} {:>9} {:>8}{} {:>8}{}{}  {:<12}  {}\n", "", "last at",
             shortened(scenario.riders[lineup.weakest].name, 8), first, "longest", shown.fair ? "  efforts" : "",
             shown.wbal ? "   W' kept" : "", "groups by", "beside the chosen,");
  fmt::print("     {:<38} {:>9} {:>8}{} {:>8}{}{}  {:<12}  {}\n", "", "finish", "% of CP", second, "wait",
             shown.fair ? " apart, %" : "", shown.wbal ? " % of days" : "", "stretch", "on drawn days");
}

void print_row(const Lineup& lineup, const PlanResult& r, const std::string& mark, const std::string& label,
               const std::string& against, Columns shown) {
  std::string later;
  for (const std::uint32_t i : lineup.strong)
    later += fmt::format(" {:8.0f}", std::round(r.expected.later_s[i] / 60.0) + 0.0);
  const std::string fair = shown.fair ? fmt::format(" {:8.1f}", 100.0 * r.expected.unfairness) : "";
  const std::string kept = !shown.wbal ? "" : r.days.empty() ? "         –" : fmt::format(" {:9.0f}", 100.0 * r.margin_days);
  fmt::print("  {:<2} {:<38} {:>9} {:8.0f}{} {:>8}{}{}  {:<12}  {}\n", mark, shortened(label, 38),
             clock_text(r.expected.last_s), 100.0 * r.expected.weakest_effort, later, clock_text(r.expected.longest_wait_s),
             fair, kept, parts_text(r), against);
}

/// In words, one a lever that the description of a plan leaves out and that both have otherwise.
std::vector<std::string> differences(const GroupPlan& plan, const GroupPlan& other) {
  std::vector<std::string> told;
  const auto tell = [&](double GroupPlan::*lever, const std::string& words) {
    if (plan.*lever != other.*lever) told.push_back(words);
  };
  const auto percent = [](double share) { return fmt::format("{:.0f} %", 100.0 * share); };
  tell(&GroupPlan::pace_share, fmt::format("a pace that suits {} of the group", percent(plan.pace_share)));
  tell(&GroupPlan::free_climb_fraction, plan.free_climb_fraction > 1.0
                                            ? "nobody climbs freely"
                                            : fmt::format("everyone climbs freely where a wheel saves less than {}",
                                                          percent(1.0 - plan.free_climb_fraction)));
  tell(&GroupPlan::hold_margin,
       plan.hold_margin > 1.0 ? fmt::format("a wheel may ask {} more than the own effort", percent(plan.hold_margin - 1.0))
                              : "a wheel may ask the own effort and no more");
  tell(&GroupPlan::front_effort, fmt::format("in front {} of critical power at most", percent(plan.front_effort)));
  tell(&GroupPlan::wprime_reserve, fmt::format("who has {} of W' left eases", percent(plan.wprime_reserve)));
  tell(&GroupPlan::lean,
       plan.lean > 0.0 ? fmt::format("{} harder where it is steep", percent(plan.lean)) : "the same effort all along");
  tell(&GroupPlan::weakest_effort, fmt::format("the weakest rides at {} of the usual effort", percent(plan.weakest_effort)));
  return told;
}

std::string waits_text(const PlanResult& plan) {
  std::vector<std::string> places;
  for (const RegroupWait& wait : plan.waits)
    places.push_back(wait.name.empty() ? fmt::format("km {:.1f}", wait.at_m / 1000.0) : wait.name);
  return places.empty() ? "no waits" : "wait at " + enumerated(places);
}

std::string description(const PlanResult& r) {
  return fmt::format("{}; {}; {}; {}", kind_words(r.plan), formation_words(r.plan), r.plan.order_rule, waits_text(r));
}

/// The description of a row; where an earlier row has the same, with what is otherwise.
std::string description_in_table(const std::vector<PlanResult>& table, std::size_t row) {
  const std::string text = description(table[row]);
  for (std::size_t k = 0; k < row; ++k)
    if (description(table[k]) == text)
      if (const auto told = differences(table[row].plan, table[k].plan); !told.empty())
        return fmt::format("as {}, but {}", plan_letter(k), enumerated(told));
  return text;
}

/// The label of a row; where another row has the same, with what tells them apart at once.
std::string label_in_table(const std::vector<PlanResult>& table, std::size_t row) {
  const std::string label = plan_label(table[row].plan);
  const auto same = [&](const PlanResult& r) { return plan_label(r.plan) == label; };
  if (std::count_if(table.begin(), table.end(), same) < 2) return label;
  const std::size_t waits = table[row].waits.size();
  const std::string longer = fmt::format("{}, {}", label, waits == 0 ? "no waits" : counted(waits, "wait"));
  const auto alike = [&](const PlanResult& r) { return same(r) && r.waits.size() == waits; };
  const auto before = std::count_if(table.begin(), table.begin() + static_cast<std::ptrdiff_t>(row), alike);
  return before == 0 ? longer : fmt::format("{} ({})", longer, before + 1);
}

}  // namespace

void print_choices(const Lineup& lineup, const Scenario& scenario, const LineupSettings& settings) {
  const auto& table = lineup.table;
  const Columns shown{lineup.aim == LineupAim::fair,
                      std::any_of(table.begin(), table.end(), [](const PlanResult& r) { return r.margin_days < 1.0; })};
  const auto is_clubs = [&](const PlanResult& r) { return r.plan.name == lineup.clubs.plan.name; };
  if (!table.empty()) {
    fmt::print(
        "\nPlans worth choosing between; columns are of the day as expected, minutes later than alone at the usual "
        "effort\n");
    print_head(lineup, scenario, shown);
  }
  for (std::size_t k = 0; k < table.size(); ++k)
    print_row(lineup, table[k], fmt::format("{}{}", plan_letter(k), k == lineup.chosen ? "*" : " "),
              label_in_table(table, k), k == lineup.chosen ? "chosen" : against_text(lineup, lineup.against[k]), shown);
  if (lineup.found && std::none_of(table.begin(), table.end(), is_clubs))
    print_row(lineup, lineup.clubs, "-", plan_label(lineup.clubs.plan), against_text(lineup, lineup.against_clubs), shown);
  for (std::size_t k = 0; k < table.size(); ++k)
    fmt::print("{}", wrapped(fmt::format("  {}  ", plan_letter(k)), description_in_table(table, k), 120));
  for (const PlanResult& r : lineup.left_out)
    fmt::print("{}", wrapped("  Left out: ", fmt::format("\"{}\" {}.", r.plan.name, unfit_words(r, lineup, scenario)), 120));
  if (!lineup.found) return;
  fmt::print("{}",
             wrapped("Limits: ",
                     fmt::format("nobody more than {:.0f} % above the own usual effort; nobody later than alone by more "
                                 "than {:.0f} min{}. {} rides.",
                                 100.0 * settings.harder_share, lineup.held_back_limit_s / 60.0,
                                 lineup.time_limit_s > 0.0
                                     ? fmt::format("; the last at the finish by {}", clock_text(lineup.time_limit_s))
                                     : "",
                                 lineup.rides),
                     120));
}

}  // namespace leewheel
