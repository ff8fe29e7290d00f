/// Reading GPX: the points of tracks, or of a route when there is no track.

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <pugixml.hpp>

#include "io/clock_time.hpp"
#include "io/file_kind.hpp"
#include "io/plain_number.hpp"
#include "io/text_file.hpp"
#include "io/track_steps.hpp"
#include "io/yaml_reader.hpp"

namespace leewheel {

namespace {

constexpr std::size_t most_gpx_bytes = 256u << 20;

std::string_view local_name(const pugi::xml_node& node) {
  const std::string_view name = node.name();
  return name.substr(name.find(':') + 1);
}

/// Children by local name, whatever prefix the namespace has.
std::vector<pugi::xml_node> children(const pugi::xml_node& parent, std::string_view name) {
  std::vector<pugi::xml_node> found;
  for (const pugi::xml_node& child : parent.children())
    if (local_name(child) == name) found.push_back(child);
  return found;
}

/// What a device adds to a point, by local name in lower case.
struct Extra {
  std::string_view name;
  double TrackPoint::*value;
};
constexpr Extra extras[] = {{"power", &TrackPoint::power_W},
                            {"powerinwatts", &TrackPoint::power_W},
                            {"watts", &TrackPoint::power_W},
                            {"hr", &TrackPoint::heart_rate_bpm},
                            {"heartrate", &TrackPoint::heart_rate_bpm},
                            {"cad", &TrackPoint::cadence_rpm},
                            {"cadence", &TrackPoint::cadence_rpm},
                            {"atemp", &TrackPoint::temperature_C},
                            {"temp", &TrackPoint::temperature_C},
                            {"temperature", &TrackPoint::temperature_C},
                            {"speed", &TrackPoint::speed_mps}};

void read_extra(const pugi::xml_node& node, TrackPoint& point) {
  std::string name(local_name(node));
  for (char& c : name) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  for (const Extra& extra : extras)
    if (extra.name == name)
      if (const std::optional<double> value = number_in(node.text().get()); value && std::isnan(point.*extra.value))
        point.*extra.value = *value;
}

/// Extensions stand in groups of their own, as deep as their makers like.
void read_extras(const pugi::xml_node& group, TrackPoint& point, int deepest = 4) {
  for (const pugi::xml_node& child : group.children()) {
    read_extra(child, point);
    if (deepest > 0) read_extras(child, point, deepest - 1);
  }
}

class GpxReader {
 public:
  explicit GpxReader(const std::string& path) : path_(path), text_(read_whole_file(path, most_gpx_bytes)) {
    for (std::size_t i = 0; i < text_.size(); ++i)
      if (text_[i] == '\n') line_ends_.push_back(static_cast<std::ptrdiff_t>(i));
  }

  GpxFile read() {
    if (const FileKind kind = kind_of(text_); kind != FileKind::gpx) throw InputFault({path_, 1, 0, "", not_a_track(kind)});
    pugi::xml_document document;
    const pugi::xml_parse_result parsed = document.load_buffer(text_.data(), text_.size());
    if (!parsed)
      throw InputFault({path_, line(parsed.offset), 0, "", fmt::format("not readable as XML: {}", parsed.description())});
    const pugi::xml_node root = document.document_element();
    for (const pugi::xml_node& track : children(root, "trk")) {
      for (const pugi::xml_node& segment : children(track, "trkseg")) read_points(segment, "trkpt");
      ++track_;
    }
    if (file_.points.empty() && file_.faults.empty())
      for (const pugi::xml_node& route : children(root, "rte")) read_points(route, "rtept");
    for (const pugi::xml_node& place : children(root, "wpt")) read_waypoint(place);
    if (file_.points.empty() && file_.faults.empty())
      throw InputFault({path_, line(root.offset_debug()), 0, "gpx", "found no track points, expected trkpt or rtept"});
    return std::move(file_);
  }

 private:
  int line(std::ptrdiff_t offset) const {
    return 1 + static_cast<int>(std::lower_bound(line_ends_.begin(), line_ends_.end(), offset) - line_ends_.begin());
  }

  void read_points(const pugi::xml_node& parent, const char* name) {
    for (const pugi::xml_node& node : children(parent, name)) read_point(node);
    ++segment_;
  }

  void read_point(const pugi::xml_node& node) {
    TrackPoint point{0.0, 0.0, missing, missing, line(node.offset_debug()), track_, segment_, ++number_};
    const bool latitude_good = coordinate(node, "lat", 90.0, point, point.latitude_deg);
    const bool good = coordinate(node, "lon", 180.0, point, point.longitude_deg) && latitude_good;
    for (const pugi::xml_node& child : node.children()) {
      if (local_name(child) == "time") point.time_s = seconds_since_1970(child.text().get(), point.zoned);
      if (local_name(child) == "extensions") read_extras(child, point);
      if (local_name(child) == "speed") read_extra(child, point);  // of GPX 1.0
      if (local_name(child) != "ele" || trimmed(child.text().get()).empty()) continue;
      const std::optional<double> value = number_in(child.text().get());
      if (value)
        point.elevation_m = *value;
      else
        file_.faults.push_back({point, "ele", "found '" + shown(child.text().get()) + "', expected a number in m"});
    }
    if (good) file_.points.push_back(point);
  }

  /// Places without a name or with wrong coordinates are of no use for a road, and no fault of its track.
  void read_waypoint(const pugi::xml_node& node) {
    const std::optional<double> latitude = number_in(node.attribute("lat").value());
    const std::optional<double> longitude = number_in(node.attribute("lon").value());
    if (!latitude || !longitude || std::abs(*latitude) > 90.0 || std::abs(*longitude) > 180.0) return;
    for (const pugi::xml_node& name : children(node, "name"))
      if (const std::string text = shown(trimmed(name.text().get())); !text.empty())
        file_.waypoints.push_back({text, *latitude, *longitude});
  }

  bool coordinate(const pugi::xml_node& node, const char* name, double most, const TrackPoint& point, double& into) {
    const pugi::xml_attribute attribute = node.attribute(name);
    const std::optional<double> value = number_in(attribute.value());
    if (value && std::abs(*value) <= most) {
      into = *value;
      return true;
    }
    const std::string range = fmt::format("a number in [-{:g}, {:g}] degrees", most, most);
    file_.faults.push_back(
        {point, name,
         attribute ? "found '" + shown(attribute.value()) + "', expected " + range : "missing, expected " + range});
    return false;
  }

  std::string path_, text_;
  std::vector<std::ptrdiff_t> line_ends_;
  GpxFile file_;
  int track_ = 0, segment_ = 0, number_ = 0;
};

}  // namespace

GpxFile read_gpx_file(const std::string& path) { return GpxReader(path).read(); }

std::vector<TrackPoint> read_gpx(const std::string& path) {
  Track track(path, {}, read_gpx_file(path));
  track.throw_if_any();
  return std::move(track.points);
}

}  // namespace leewheel
