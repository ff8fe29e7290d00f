#include "viz/view/ghost.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "leewheel/saved_along.hpp"
#include "words/plain_text.hpp"

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

std::string ghost_name(const Replay& ride, const Replay& ghost) {
  const std::string &title = ride.head().title, &other = ghost.head().title;
  if (other == title + each_alone_title) return std::string(each_alone_title).substr(2);
  if (!other.empty() && other != title) return other;
  const std::filesystem::path file(ghost.name());
  return (file.parent_path().filename() / file.filename()).string();
}

std::optional<Difference> difference(const Replay& ride, const Replay& ghost, double time_s, std::uint32_t rider) {
  const auto other = ghost.find_rider(ride.head().riders[rider].name);
  if (!other) return {};
  const double place_m = ride.place_m(rider, time_s), here_s = std::min(time_s, ride.finish_s(rider).value_or(time_s));
  Difference d{{}, {place_m - ghost.place_m(*other, time_s), ghost.pedal_J(*other, time_s) - ride.pedal_J(rider, time_s)}};
  if (const auto then_s = ghost.passing_s(*other, place_m))
    d.here = GainedHere{*then_s - here_s, ghost.pedal_J(*other, *then_s) - ride.pedal_J(rider, here_s)};
  return d;
}

std::vector<std::optional<GainedHere>> gained_along(const Replay& ride, const Replay& ghost, std::uint32_t rider) {
  std::vector<std::optional<GainedHere>> gained(SavedAlong::pieces + 1);
  const auto other = ghost.find_rider(ride.head().riders[rider].name);
  if (!other) return gained;
  for (std::size_t k = 0; k < gained.size(); ++k) {
    const double at_m = ride.road().length_m() * static_cast<double>(k) / SavedAlong::pieces;
    const auto here_s = ride.passing_s(rider, at_m), then_s = ghost.passing_s(*other, at_m);
    if (!here_s || !then_s) continue;
    const GainedHere one{*then_s - *here_s, ghost.pedal_J(*other, *then_s) - ride.pedal_J(rider, *here_s)};
    if (std::isfinite(one.time_s) && std::isfinite(one.work_J)) gained[k] = one;
  }
  return gained;
}

std::string gained_time_text(double time_s) {
  if (std::abs(time_s) < 0.5) return "level";
  return minutes_seconds_text(std::abs(time_s)) + (time_s > 0 ? " gained" : " lost");
}

std::string gained_work_text(double work_J) {
  return fmt::format("{:.1f} kJ {} work", std::abs(work_J) / 1000, work_J >= 0 ? "less" : "more");
}

std::string difference_words(const std::optional<Difference>& d, const std::string& name, const std::string& ghost,
                             Units units) {
  if (!d) return fmt::format("Nobody is called {} in the other ride, {}.", name, ghost);
  const std::string here = d->here
                               ? fmt::format("{}, {}", gained_time_text(d->here->time_s), gained_work_text(d->here->work_J))
                               : std::string("never recorded there");
  return fmt::format("{} against {} (hollow), at this place: {}. At this time: {} {}, {}.", name, ghost, here,
                     way_text(std::abs(d->now.way_m), units), d->now.way_m >= 0 ? "ahead" : "behind",
                     gained_work_text(d->now.work_J));
}

}  // namespace leewheel::view
