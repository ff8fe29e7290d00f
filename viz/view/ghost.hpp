#pragma once
/// A second ride beside the first: where its riders are, and the running difference of the chosen rider.

#include <optional>
#include <string>

#include "viz/view/controls.hpp"

namespace leewheel::view {

inline constexpr double same_length_m = 20.0, same_length_share = 0.002, same_elevation_m = 5.0;
/// Nothing if both rides are on one road: of one length, within the larger of the two tolerances, and everywhere as high
/// above its start within `same_elevation_m`. Else what differs, in words: "a road of 9.00 km, expected 12.00 km".
std::optional<std::string> road_difference(const Road& found, const Road& expected);

/// The chosen rider here against the rider of the same name there, at the same place on the road.
struct Difference {
  double time_s;   ///< > 0: this ride is ahead (was here earlier)
  double pedal_J;  ///< > 0: this ride has cost more work up to here
  double saved_J;  ///< > 0: this ride has saved more up to here
};

/// The other ride at the same time, or at the time its rider of the same name was at the same place.
View ghost_at(Replay& ghost, const View& now, const std::string& rider, GhostBy by);
std::optional<Difference> difference(Replay& ghost, const View& now, const std::string& rider);
std::string difference_words(const std::optional<Difference>& d, const std::string& rider);

}  // namespace leewheel::view
