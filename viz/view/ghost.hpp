#pragma once
/// A second ride beside the first: where its riders are, and what the chosen rider has gained on it.

#include <optional>
#include <string>
#include <vector>

#include "viz/view/controls.hpp"

namespace leewheel::view {

inline constexpr double same_length_m = 20.0, same_length_share = 0.002, same_elevation_m = 5.0;
/// Nothing if both rides are on one road: of one length, within the larger of the two tolerances, and everywhere as high
/// above its start within `same_elevation_m`. Else what differs, in words: "a road of 9.00 km, expected 12.00 km".
std::optional<std::string> road_difference(const Road& found, const Road& expected);

/// What to call the second ride: "each rider alone", its title if that is another, else its file with the folder.
std::string ghost_name(const Replay& ride, const Replay& ghost);

/// The chosen rider in this ride against the rider of the same name in the other. All is > 0 where this ride is better off.
struct GainedHere {
  double time_s;  ///< earlier at this place
  double work_J;  ///< less work at the cranks up to this place
};
struct GainedNow {
  double way_m;   ///< further on the road at this time
  double work_J;  ///< less work at the cranks up to this time
};
struct Difference {
  std::optional<GainedHere> here;  ///< nothing: never recorded at this place there
  GainedNow now;
};
/// Nothing if nobody there has this name. Of a rider who is home here: at the finish.
std::optional<Difference> difference(const Replay& ride, const Replay& ghost, double time_s, std::uint32_t rider);

/// At `SavedAlong::pieces + 1` places from the start to the finish; nothing where a ride was not recorded.
std::vector<std::optional<GainedHere>> gained_along(const Replay& ride, const Replay& ghost, std::uint32_t rider);

/// The other ride at the same time, or at the time its rider of the same name was at the same place.
View ghost_at(Replay& ghost, const View& now, const std::string& rider, GhostBy by);

std::string gained_time_text(double time_s);  ///< "1:05 gained", "0:12 lost", "level"
std::string gained_work_text(double work_J);  ///< "12.3 kJ less work", "0.4 kJ more work"
/// Two sentences: at this place, and at this time.
std::string difference_words(const std::optional<Difference>& d, const std::string& rider, const std::string& ghost,
                             Units units);

}  // namespace leewheel::view
