#pragma once
/// What `leewheel lineup` says to people.

#include <string>

#include "leewheel/lineup.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

extern const std::string lineup_cautions;

/// The kind of ride, in a sentence without its full stop; and in two or three words.
std::string kind_words(const GroupPlan& plan);
std::string plan_label(const GroupPlan& plan);

/// The whole plan as a captain would say it: "Ride together to Wood gate; climb at your own pace to ...".
std::string plan_in_words(const PlanResult& plan, const Scenario& scenario);

/// Why the chosen plan is chosen, in full sentences; wins only as far as they hold on the drawn days.
std::string why_chosen(const Lineup& lineup, const Scenario& scenario);

void print_lineup(const Lineup& lineup, const Scenario& scenario, const LineupSettings& settings, const ShownUnits& units);

}  // namespace leewheel
