/// A recorded track: its points, the road made of it, and the ride that it may be.

#include <cmath>

#include "fuzz/fuzz.hpp"
#include "io/recording_reader.hpp"
#include "io/track_import.hpp"

namespace {

void import(const std::string& path) {
  const leewheel::TrackImport track = leewheel::import_track(path);
  for (const std::vector<double>* column : {&track.profile.elevation_m, &track.profile.heading_rad, &track.profile.width_m})
    for (const double value : *column)
      if (!std::isfinite(value)) fuzz::wrong("a road made of a track is made of numbers");
}

void recording(const std::string& path) {
  std::vector<std::string> remarks;
  leewheel::read_recording(path, "Ada", remarks);
}

}  // namespace

void fuzz::begin() {}

bool fuzz::take(std::string_view bytes) {
  const std::string path = put("track.gpx", bytes);
  const bool ridden = accepts(recording, path), imported = accepts(import, path);
  return ridden || imported;
}
