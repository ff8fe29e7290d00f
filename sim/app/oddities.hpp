#pragma once
/// What is odd about a scenario before anything is ridden in company: allowed, but seldom meant.

#include <string>
#include <vector>

#include "leewheel/ride.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

struct Oddity {
  std::string where;   ///< field or person
  std::string what;    ///< with the numbers found
  std::string why;     ///< it matters
  std::string change;  ///< what to do about it
};

/// In the order of the file: road, air, wind, riders, ride. Rides every rider alone once, to see what the plan asks.
std::vector<Oddity> oddities(const Scenario& scenario, const ShownUnits& units = {});

std::string odd_place(double m, const ShownUnits& units);  ///< "km 3.2"

// oddities_plan.cpp
void look_at_plan(const Scenario& scenario, std::size_t rider, const ShownUnits& units, std::vector<Oddity>& list);

// oddities_gears.cpp
void look_at_gears(const Scenario& scenario, std::size_t rider, const ShownUnits& units, std::vector<Oddity>& list);
void look_at_heat(const Scenario& scenario, std::vector<Oddity>& list);
void look_at_places_in_metres(const Scenario& scenario, std::vector<Oddity>& list);

}  // namespace leewheel
