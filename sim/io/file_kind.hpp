#pragma once
/// What a file is, by its first bytes: people hand over whatever their device or web page gave them.

#include <string>
#include <string_view>

namespace leewheel {

enum class FileKind {
  gpx,
  text,  ///< a road or scenario in YAML, as far as can be told
  empty,
  activity_binary,
  activity_xml,
  kml,
  xml,
  html,
  geojson,
  json,
  csv,
  zip,
  gzip,
  picture,
  binary
};

FileKind kind_of(std::string_view text);

/// "found a zip archive, expected a GPX track: unpack it and give the .gpx file inside".
std::string not_a_track(FileKind kind);

/// Whether the file at `path` is to be read as a recorded track: any kind but YAML. A missing file is one if its name ends in .gpx.
bool is_track_file(const std::string& path);

}  // namespace leewheel
