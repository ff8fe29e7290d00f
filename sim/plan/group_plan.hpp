#pragma once
/// A group plan laid into a scenario: what each of its numbers changes there.

#include <vector>

#include "leewheel/lineup.hpp"

namespace leewheel {

/// Pieces of road that are steep for this road, or not.
struct LeanSection {
  double from_m, to_m, grade;
  bool steep;
  bool
      hard;  ///< a plan that leans rides it harder, else easier: as steep, but no run is over in `least_change_s` for anyone
};
inline constexpr double least_change_s = 120.0;  // (assumed)
std::vector<LeanSection> lean_sections(const Scenario& scenario, std::size_t rider);

/// `with_plan` on sections found before.
Scenario laid_in(const Scenario& scenario, const GroupPlan& plan, std::size_t weakest,
                 const std::vector<LeanSection>& sections);

/// The setting that holds the share of the group for which the pace must suit, in a ride of that kind.
double TacticsSettings::*pace_share_of(RideKind kind);

}  // namespace leewheel
