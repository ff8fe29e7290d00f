#pragma once
/// What tells the kinds of ride apart, a row each. Rules ask a row what holds, and never which kind it is.

#include <array>

#include "leewheel/tactics.hpp"

namespace leewheel::riding {

struct KindLaws {
  RideKind kind;
  double TacticsSettings::*pace_share;  ///< share of the line that the pace must suit; nullptr: of nobody
  bool keeps_whole;                     ///< nobody is left behind, and nobody goes ahead
  bool waits;                           ///< a lone rider eases for a group that comes
  bool climbs_freely;                   ///< everyone by their own plan where a wheel is worthless
  bool own_pace;                        ///< the front rides by its own plan, whatever the line could keep up
  bool own_way;                         ///< nobody rides below their own plan for others: a rider held up goes past
  bool spends;                          ///< W' is spent by the finish
  bool fights_for_shelter;              ///< a rider without room in an echelon begins another

  constexpr bool shares_pace() const { return pace_share != nullptr; }
};

inline constexpr std::array<KindLaws, ride_kind_names.size()> kind_laws{{
    {RideKind::together, &TacticsSettings::pace_share_together, true, true, false, false, false, false, false},
    {RideKind::steady, &TacticsSettings::pace_share_steady, false, true, true, false, true, false, false},
    {RideKind::free, nullptr, false, false, false, true, true, false, false},
    {RideKind::race, nullptr, false, false, false, false, true, true, true},
    {RideKind::by_strength, &TacticsSettings::pace_share_steady, false, true, true, false, true, false, false},
}};

inline constexpr const KindLaws& laws_of(RideKind kind) { return kind_laws[static_cast<std::size_t>(kind)]; }

static_assert([] {
  for (std::size_t k = 0; k < kind_laws.size(); ++k)
    if (static_cast<std::size_t>(kind_laws[k].kind) != k) return false;
  return true;
}());

}  // namespace leewheel::riding
