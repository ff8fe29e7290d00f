#pragma once
/// GPX made up for tests of the import.

#include <fmt/format.h>

#include <GeographicLib/Geodesic.hpp>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "io/track_import.hpp"
#include "leewheel/units.hpp"
#include "support.hpp"

namespace track_test {

using namespace leewheel;

struct Place {
  double east_m, north_m, up_m;
  std::string extra = "";  // instead of the elevation, if given
};

/// GPX of places around 46 N 8 E.
inline std::string gpx(const std::vector<Place>& places) {
  const GeographicLib::Geodesic& earth = GeographicLib::Geodesic::WGS84();
  std::string text = "<?xml version='1.0'?>\n<gpx version='1.1' xmlns='http://www.topografix.com/GPX/1/1'><trk><trkseg>\n";
  for (const Place& p : places) {
    double lat = 0.0, lon = 0.0;
    earth.Direct(46.0, 8.0, deg_from_rad(std::atan2(p.east_m, p.north_m)), std::hypot(p.east_m, p.north_m), lat, lon);
    text += fmt::format("<trkpt lat='{:.9f}' lon='{:.9f}'>{}</trkpt>\n", lat, lon,
                        p.extra.empty() ? fmt::format("<ele>{:.2f}</ele>", p.up_m) : p.extra);
  }
  return text + "</trkseg></trk></gpx>\n";
}

inline TrackImport import(const std::string& text, const TrackOptions& options = {}) {
  io_test::Folder folder;
  return import_track(folder.write("track.gpx", text), options);
}

/// 2 km due north at 5 %, a place every 10 m.
inline std::vector<Place> straight_hill() {
  std::vector<Place> places;
  for (int i = 0; i <= 200; ++i) places.push_back({0.0, 10.0 * i, 400.0 + 0.5 * i});
  return places;
}

inline std::string all_lines(const ImportReport& report) {
  std::string text;
  for (const std::string& line : report.lines) text += line + "\n";
  return text;
}

/// Sum of twelve: a normal number from the standard's fixed generator.
inline double noise(std::mt19937& random) {
  double sum = -6.0;
  for (int k = 0; k < 12; ++k) sum += random() / 4294967296.0;
  return sum;
}

}  // namespace track_test
