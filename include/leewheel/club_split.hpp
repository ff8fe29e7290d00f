#pragma once
/// A big club in groups by strength: who rides with whom, what each group does, and when each starts so that all meet.

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "leewheel/lineup.hpp"

namespace leewheel {

struct SplitSettings {
  std::size_t groups = 0;      ///< 0: as many as it takes, `most_groups` at most
  double meet_at_m = -1.0;     ///< where all meet; < 0: at the finish
  double spread_share = 0.15;  ///< as many as it takes: slowest over quickest alone within a group, less 1 (assumed)
  double border_share = 0.03;  ///< of the time alone: so near to another group's nearest rider is on the border (assumed)
  std::size_t days = 20;       ///< drawn days on which each group's plan is ridden
};
inline constexpr std::size_t least_in_group = 3, most_groups = 8, least_in_club = 6, most_in_club = 60;

struct ClubGroup {
  std::vector<std::uint32_t> riders;  ///< of the whole scenario, the quickest alone first
  Scenario scenario;                  ///< that group alone on the road from its own start, with its plan laid in
  Lineup lineup;
  double ride_s = 0.0;               ///< from its start until its last is at the meeting place
  double start_s = 0.0;              ///< after the first group's start
  std::optional<Middle80> meet_s{};  ///< `ride_s` on drawn days; only where all meet at the finish
};
struct OnTheBorder {
  std::uint32_t rider;
  std::size_t group, other;
  double apart_s;  ///< of the time alone, from the nearest rider of the other group
};

struct ClubSplit {
  bool found = false;  ///< false: a group has no plan that brings everyone home
  bool stopped = false;
  std::vector<ClubGroup> groups;  ///< the quickest first
  std::vector<OnTheBorder> border;
  std::vector<double> alone_s;  ///< by rider
};

/// Groups of riders next to each other in time alone, each of `least_in_group` or more, so that the squares of the
/// differences from each group's mean are least (dynamic programming).
std::vector<std::vector<std::uint32_t>> by_strength(const std::vector<double>& alone_s, std::size_t groups);

/// Asserts `least_in_club` riders or more and enough for the groups.
ClubSplit split_club(const Scenario& scenario, const SplitSettings& settings, const LineupSettings& plans,
                     const std::function<bool(double)>& go_on = {});

}  // namespace leewheel
