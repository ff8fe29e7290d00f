#include "viz/view/ghost.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leewheel::view {
namespace {

const RiderView* named(const View& view, const std::string& name) {
  const auto found = std::ranges::find(view.riders, name, &RiderView::name);
  return found == view.riders.end() ? nullptr : &*found;
}

std::optional<double> ghost_time_s(const Replay& ghost, const View& now, const std::string& name) {
  const auto other = ghost.find_rider(name);
  const RiderView* rider = named(now, name);
  if (!other || !rider) return {};
  return ghost.passing_s(*other, rider->distance_m);
}

}  // namespace

std::optional<std::string> road_difference(const Road& found, const Road& expected) {
  const double length_m = expected.length_m();
  if (std::abs(found.length_m() - length_m) > std::max(same_length_m, same_length_share * length_m))
    return fmt::format("a road of {}, expected {}", place_text(found.length_m(), Units::metric),
                       place_text(length_m, Units::metric));
  for (double d = 0; d <= length_m; d += 10.0) {
    const double risen_m = found.elevation_m(d) - found.elevation_m(0),
                 expected_m = expected.elevation_m(d) - expected.elevation_m(0);
    if (std::abs(risen_m - expected_m) > same_elevation_m)
      return fmt::format("{:.0f} m above the start at {}, expected {:.0f} m", risen_m, place_text(d, Units::metric),
                         expected_m);
  }
  return {};
}

View ghost_at(Replay& ghost, const View& now, const std::string& rider, GhostBy by) {
  const auto same_place_s = by == GhostBy::place ? ghost_time_s(ghost, now, rider) : std::nullopt;
  return view_at(ghost, same_place_s.value_or(now.time_s));
}

std::optional<Difference> difference(Replay& ghost, const View& now, const std::string& name) {
  const RiderView* here = named(now, name);
  const auto then_s = ghost_time_s(ghost, now, name);
  if (!then_s || here->finished) return {};
  const View then = view_at(ghost, *then_s);
  const RiderView* there = named(then, name);
  return Difference{*then_s - now.time_s, here->pedal_J - there->pedal_J, here->saved_J - there->saved_J};
}

std::string difference_words(const std::optional<Difference>& d, const std::string& name) {
  if (!d) return "Other ride: " + name + " was never recorded at this place.";
  return fmt::format("{} here: {:.1f} s {} and {:.1f} kJ {} than in the other ride.", name, std::abs(d->time_s),
                     d->time_s >= 0 ? "earlier" : "later", std::abs(d->pedal_J) / 1000, d->pedal_J >= 0 ? "more" : "less");
}

}  // namespace leewheel::view
