#pragma once
/// What `leewheel lineup` prints for people.

#include <string>

#include "leewheel/lineup.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

extern const std::string lineup_cautions;

std::string kind_words(const GroupPlan& plan);
void print_lineup(const Lineup& lineup, const Scenario& scenario, const LineupSettings& settings, const ShownUnits& units);

}  // namespace leewheel
