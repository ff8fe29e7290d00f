#include "io/file_kind.hpp"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>

#include "io/plain_number.hpp"
#include "io/text_file.hpp"

namespace leewheel {

namespace {

constexpr std::size_t looked_at_bytes = 4096;

/// "gpx" of "<?xml ..?> <!-- .. --> <g:gpx version=..": the name of the root element without its prefix, in small letters.
std::string root_name(std::string_view text) {
  std::size_t at = text.find('<');
  while (at != text.npos && at + 1 < text.size() && (text[at + 1] == '?' || text[at + 1] == '!'))
    at = text.find('<', text.substr(at).starts_with("<!--") ? text.find("-->", at) : at + 1);
  if (at == text.npos) return "";
  std::string name(text.substr(at + 1, text.find_first_of(" \t\r\n/>", at) - at - 1));
  name.erase(0, name.find(':') + 1);
  std::transform(name.begin(), name.end(), name.begin(), [](unsigned char c) { return std::tolower(c); });
  return name;
}

FileKind xml_kind(std::string_view text) {
  const std::string root = root_name(text);
  if (root == "gpx") return FileKind::gpx;
  if (root == "kml") return FileKind::kml;
  if (root == "html" || root == "head" || root == "body") return FileKind::html;
  for (const char* word : {"<Activities", "<Activity", "<Courses", "<Trackpoint"})
    if (text.find(word) != text.npos) return FileKind::activity_xml;
  return FileKind::xml;
}

FileKind json_kind(std::string_view text) {
  if (text.find("\"FeatureCollection\"") != text.npos || text.find("\"Feature\"") != text.npos ||
      text.find("\"LineString\"") != text.npos)
    return FileKind::geojson;
  return text.find("\":") != text.npos || text.starts_with("[") ? FileKind::json : FileKind::text;
}

/// Two lines of as many commas, semicolons or tabs, at least two a line, and no "key:" in front.
bool looks_like_table(std::string_view text) {
  const std::size_t first_end = text.find('\n');
  if (first_end == text.npos) return false;
  const std::string_view first = text.substr(0, first_end);
  const std::string_view second = text.substr(first_end + 1, text.find('\n', first_end + 1) - first_end - 1);
  if (first.starts_with("#") || first.find_first_of(":{[") != first.npos) return false;
  for (const char mark : {',', ';', '\t'})
    if (const auto marks = std::count(first.begin(), first.end(), mark);
        marks >= 2 && marks == std::count(second.begin(), second.end(), mark))
      return true;
  return false;
}

}  // namespace

FileKind kind_of(std::string_view whole) {
  using namespace std::string_view_literals;
  const std::string_view text = whole.substr(0, looked_at_bytes);
  if (text.size() >= 12 && text.substr(8, 4) == ".FIT") return FileKind::activity_binary;
  if (text.starts_with("PK\x03\x04"sv)) return FileKind::zip;
  if (text.starts_with("\x1f\x8b"sv)) return FileKind::gzip;
  for (const std::string_view start : {"\x89PNG"sv, "\xff\xd8\xff"sv, "GIF8"sv, "%PDF"sv})
    if (text.starts_with(start)) return FileKind::picture;
  const std::string_view words = trimmed(text);
  if (words.empty()) return FileKind::empty;
  if (words.starts_with("<")) return xml_kind(words);
  if (text.find('\0') != text.npos) return FileKind::binary;
  if (words.starts_with("{") || words.starts_with("[")) return json_kind(words);
  return looks_like_table(words) ? FileKind::csv : FileKind::text;
}

std::string not_a_track(FileKind kind) {
  constexpr const char* as_gpx = "export the ride as GPX where it is kept, and give that file";
  const auto said = [](const std::string& found, const std::string& what_to_do) {
    return "found " + found + ", expected a GPX track: " + what_to_do;
  };
  switch (kind) {
    case FileKind::gpx: return "";
    case FileKind::empty: return "found an empty file, expected a GPX track";
    case FileKind::activity_binary: return said("a binary recording of an activity", as_gpx);
    case FileKind::activity_xml: return said("an activity in another kind of XML", as_gpx);
    case FileKind::kml: return said("KML (places on a map)", as_gpx);
    case FileKind::geojson: return said("GeoJSON (shapes on a map)", as_gpx);
    case FileKind::json: return said("JSON", as_gpx);
    case FileKind::html:
      return said("a web page", "the link led to the page of the ride; use its export or download button");
    case FileKind::csv: return said("a table", "times, places and elevations must be converted to GPX first");
    case FileKind::zip: return said("a zip archive", "unpack it and give the .gpx file inside");
    case FileKind::gzip: return said("a compressed file", "unpack it and give the .gpx file inside");
    case FileKind::picture: return said("a picture or a printed page", as_gpx);
    case FileKind::xml: return said("another kind of XML", as_gpx);
    case FileKind::text: return said("plain text", "a road written by hand has a name that ends in .yaml");
    case FileKind::binary: break;
  }
  return said("a binary file", as_gpx);
}

bool is_track_file(const std::string& path) {
  std::string extension = std::filesystem::path(path).extension().string();
  std::transform(extension.begin(), extension.end(), extension.begin(), [](unsigned char c) { return std::tolower(c); });
  if (extension == ".gpx") return true;
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) return false;
  std::ifstream file(path, std::ios::binary);
  std::string start(looked_at_bytes, '\0');
  file.read(start.data(), static_cast<std::streamsize>(start.size()));
  start.resize(static_cast<std::size_t>(file.gcount()));
  const FileKind kind = kind_of(start);
  return kind != FileKind::text && kind != FileKind::empty && kind != FileKind::json;  // YAML may be written like JSON
}

}  // namespace leewheel
