/// An editable road, written.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/road_file.hpp"
#include "io/road_parts.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

constexpr double written_spacing_m = 10.0;

/// A name as YAML text, whatever stands in it.
std::string quoted(const std::string& name) {
  std::string text = "\"";
  for (const char c : name) {
    if (c == '"' || c == '\\') text += '\\';
    text += c == '\n' || c == '\r' || c == '\t' ? ' ' : c;
  }
  return text + "\"";
}

/// "  key: [..]" wrapped to readable lines.
void write_list(std::string& text, const char* key, const std::vector<std::string>& values) {
  std::string line = fmt::format("  {}: [", key);
  for (std::size_t i = 0; i < values.size(); ++i) {
    const std::string word = values[i] + (i + 1 < values.size() ? "," : "]");
    if (line.size() + word.size() > 110) {
      text += line + "\n";
      line = "   ";
    }
    line += (line.back() == '[' ? "" : " ") + word;
  }
  text += line + "\n";
}

/// Ranges of equal values, one line each; `shown_as(i)` is what to write for grid point i.
template <class Shown>
void write_ranges(std::string& text, const char* key, const RoadProfile& profile, const Shown& shown_as) {
  text += fmt::format("{}:\n", key);
  const std::size_t points = profile.elevation_m.size();
  for (std::size_t from = 0, to = 0; from < points; from = to) {
    const std::string value = shown_as(from);
    while (to < points && shown_as(to) == value) ++to;
    text += fmt::format("  - {{from_m: {:.0f}, ", static_cast<double>(from) * profile.spacing_m);
    if (to < points) text += fmt::format("to_m: {:.0f}, ", static_cast<double>(to) * profile.spacing_m);
    text += value + "}\n";
  }
}

std::string exposure_shown(Exposure left, Exposure right) {
  const auto name = [](Exposure exposure) { return exposure_names[static_cast<std::size_t>(exposure)]; };
  return left == right ? fmt::format("is: {}", name(left)) : fmt::format("left: {}, right: {}", name(left), name(right));
}

std::string_view surface_of(double rolling) {
  std::size_t nearest = 0;
  const auto error = [&](std::size_t i) { return std::abs(rolling_coefficient(static_cast<Surface>(i)) - rolling); };
  for (std::size_t i = 1; i < surface_names.size(); ++i)
    if (error(i) < error(nearest)) nearest = i;
  return surface_names[nearest];
}

void write_line(std::string& text, const RoadProfile& profile) {
  const double length_m = static_cast<double>(profile.elevation_m.size() - 1) * profile.spacing_m;
  const auto samples = static_cast<std::size_t>(std::max(2.0, std::ceil(length_m / written_spacing_m - 1e-6)));
  const double spacing_m = std::min(written_spacing_m, length_m / 2.0);
  std::vector<double> turned_rad = profile.heading_rad;
  unwrap(turned_rad);
  std::vector<std::string> elevation, heading;
  for (std::size_t i = 0; i <= samples; ++i) {
    const double position = std::min(static_cast<double>(i) * spacing_m, length_m) / profile.spacing_m;
    elevation.push_back(fmt::format("{:.2f}", between(profile.elevation_m, position)));
    const double heading_deg = std::fmod(deg_from_rad(between(turned_rad, position)), 360.0);
    heading.push_back(fmt::format("{:.1f}", heading_deg < 0.0 ? heading_deg + 360.0 : heading_deg));
  }
  text += fmt::format("line:\n  spacing_m: {:g}\n  length_m: {:.3f}\n", spacing_m, length_m);
  write_list(text, "elevation_m", elevation);
  write_list(text, "heading_deg", heading);
}

}  // namespace

std::string road_yaml(const RoadProfile& profile, const std::string& comment) {
  std::string text;
  for (std::size_t from = 0; from < comment.size();) {
    const std::size_t end = std::min(comment.find('\n', from), comment.size());
    text += "# " + comment.substr(from, end - from) + "\n";
    from = end + 1;
  }
  if (profile.has_position)
    text += fmt::format("position: {{latitude_deg: {:.6f}, longitude_deg: {:.6f}}}\n", deg_from_rad(profile.latitude_rad),
                        deg_from_rad(profile.longitude_rad));
  const auto points = [&](const auto& column) { return [&](std::size_t i) { return fmt::format("is: {}", column[i]); }; };
  text += fmt::format("# exposure: {}\n", listed(exposure_names));
  write_ranges(text, "exposure", profile,
               [&](std::size_t i) { return exposure_shown(profile.exposure_left[i], profile.exposure_right[i]); });
  text += fmt::format("# surface: {}\n", listed(surface_names));
  write_ranges(text, "surface", profile,
               [&](std::size_t i) { return fmt::format("is: {}", surface_of(profile.rolling[i])); });
  write_ranges(text, "width_m", profile, points(profile.width_m));
  write_ranges(text, "abreast", profile, points(profile.abreast));
  if (std::find(profile.closed.begin(), profile.closed.end(), 1) != profile.closed.end())
    write_ranges(text, "closed", profile, [&](std::size_t i) { return fmt::format("is: {}", no_yes[profile.closed[i]]); });
  text += profile.landmarks.empty() ? "landmarks: []\n" : "landmarks:\n";
  for (const Landmark& mark : profile.landmarks)
    text += fmt::format("  - {{name: {}, at_m: {:.1f}{}}}\n", quoted(mark.name), mark.distance_m,
                        mark.water ? ", water: yes" : "");
  write_line(text, profile);
  return text;
}

}  // namespace leewheel
