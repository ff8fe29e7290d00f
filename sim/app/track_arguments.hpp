#pragma once
/// Options of commands that take a recorded track, and the road they read: a track or a road in YAML, whichever it is.

#include <CLI/CLI.hpp>
#include <cmath>
#include <optional>
#include <string>

#include "app/asking.hpp"
#include "io/file_kind.hpp"
#include "io/road_file.hpp"
#include "io/track_import.hpp"

namespace leewheel {

struct TrackArguments {
  std::optional<double> from_km, to_km, smoothing_m;
  bool reverse = false, bridge_gaps = false;

  bool any() const { return from_km || to_km || smoothing_m || reverse || bridge_gaps; }
  TrackOptions options() const {
    TrackOptions given{smoothing_m, 1e3 * from_km.value_or(0.0)};
    if (to_km) given.to_m = 1e3 * *to_km;
    given.reverse = reverse;
    given.bridge_gaps = bridge_gaps;
    given.typed = true;
    return given;
  }
};

inline void add_track_options(CLI::App& command, TrackArguments& track) {
  command.add_option("--from-km", track.from_km, "take the track from this kilometre of it on")
      ->check(number_within(0, 1e5));
  command.add_option("--to-km", track.to_km, "and up to this one")->check(number_within(0, 1e5));
  command.add_flag("--reverse", track.reverse, "ride the track the other way");
  command.add_flag("--bridge-gaps", track.bridge_gaps,
                   "lay straight lines over gaps, of places or elevations, that are refused");
  command
      .add_option("--smoothing-m", track.smoothing_m,
                  "length over which the track's elevations are smoothed [as its noise asks]")
      ->check(number_within(5, 1000));
}

/// A road in YAML has no report, and takes no options of a track.
inline TrackImport read_road_or_track(const std::string& path, const TrackArguments& track) {
  if (is_track_file(path)) return import_track(path, track.options());
  TrackImport road{read_road(path), {}};
  if (track.any())
    throw InputFault(Fault{path, 0, 0, "",
                           "found a road, expected a recorded track beside --from-km, --to-km, --reverse, "
                           "--bridge-gaps or --smoothing-m"});
  return road;
}

}  // namespace leewheel
