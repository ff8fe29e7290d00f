#include "viz/view/pointer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "leewheel/units.hpp"

namespace leewheel::view {

namespace {

/// The greater part of the wind names it: against, from behind, from the left or the right.
std::string wind_words(const MetWind& wind, Units units) {
  const double speed_mps = std::hypot(wind.along_mps, wind.cross_mps);
  const bool along = std::abs(wind.along_mps) >= std::abs(wind.cross_mps);
  return fmt::format(
      "wind {:.0f} {} {}", units == Units::metric ? kmh_from_mps(speed_mps) : speed_mps * 3600.0 / mile_m,
      units == Units::metric ? "km/h" : "mph",
      along ? (wind.along_mps < 0 ? "against" : "from behind") : (wind.cross_mps > 0 ? "from the right" : "from the left"));
}

}  // namespace

std::string profile_words(const Replay& replay, std::optional<std::uint32_t> rider, double distance_m, Units units) {
  const double d = std::clamp(distance_m, 0.0, replay.road().length_m());
  const double grade = replay.road().grade(d);
  std::string words = fmt::format("{}: {}", place_text(d, units), grade_text(grade));
  words += grade >= 5e-4 ? " up" : grade <= -5e-4 ? " down" : "";
  if (const auto wind = replay.met_wind(d)) words += ", " + wind_words(*wind, units);
  const SavedAlong& along = replay.saved_along();
  const auto pieces = rider ? along.of(*rider) : along.mean();
  const auto k = std::min(pieces.size() - 1, static_cast<std::size_t>(d / along.piece_m()));
  const WholeWatts watts = whole_watts(pieces[k].alone_W - pieces[k].saved_W, pieces[k].alone_W);
  const std::string who = rider ? replay.head().riders[*rider].name : "the mean of all";
  if (watts.saved < 0) return words + fmt::format(", company costs {} {} W", rider ? who : "all in the mean", -watts.saved);
  return words + fmt::format(", {} saves {} of {} W", who, watts.saved, watts.alone);
}

}  // namespace leewheel::view
