#pragma once
/// Tables of `leewheel lineup`, and its answer for programs.

#include <nlohmann/json.hpp>
#include <string>

#include "leewheel/lineup.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// Road, wind and pace by stretch.
void print_stretches(const PlanResult& plan, const Scenario& scenario, const ShownUnits& units);
/// The rule of the turns by stretch, group by group.
void print_turns(const PlanResult& plan, const Scenario& scenario);
void print_riders(const Lineup& lineup, const Scenario& scenario);
/// The plans worth choosing between, and why the other obvious ones are not.
void print_choices(const Lineup& lineup, const Scenario& scenario, const LineupSettings& settings);

/// Nobody rides in a line anywhere.
bool all_at_own_pace(const PlanResult& plan);

/// A row of the table of plans: "A".
inline char plan_letter(std::size_t row) { return static_cast<char>('A' + row); }

/// Why a plan is not chosen, after its name: "holds Anouk back by 31 min".
std::string unfit_words(const PlanResult& plan, const Lineup& lineup, const Scenario& scenario);

nlohmann::ordered_json lineup_json(const Lineup& lineup, const Scenario& scenario);

}  // namespace leewheel
