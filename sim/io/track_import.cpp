#include "io/track_import.hpp"

#include <fmt/format.h>

#include <GeographicLib/Geodesic.hpp>
#include <algorithm>
#include <charconv>
#include <chrono>
#include <cmath>
#include <limits>
#include <optional>
#include <pugixml.hpp>
#include <string_view>

#include "io/yaml_reader.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

constexpr std::size_t most_gpx_bytes = 256u << 20;
constexpr double missing = std::numeric_limits<double>::quiet_NaN();

// Limits of mending (all assumed; docs/road_import.md tells what each is for).
constexpr double shortest_track_m = 50.0;
constexpr double longest_track_m = 500e3;
constexpr double same_place_m = 0.1;
constexpr double stop_radius_m = 12.0;
constexpr double stop_path_m = 48.0;  // walked within the radius: not a hairpin, which leaves after about 30 m
constexpr double backtrack_m = 30.0;
constexpr double least_position_spike_m = 50.0;
constexpr double elevation_spike_m = 15.0;
constexpr double longest_elevation_gap_m = 500.0;
constexpr double gap_worth_telling_m = 150.0;
constexpr double longest_gap_m = 1500.0;
constexpr double one_ride_gap_m = 500.0;       // from the end of one track to the start of the next
constexpr double position_smoothing_m = 12.0;  // halves waves of 75 m: keeps hairpins, flattens wandering
constexpr double position_spike_m = 30.0;
constexpr double step_worth_telling_m = 10.0;
constexpr double largest_step_m = 60.0;
constexpr double steepest_believed_grade = 0.5;
constexpr double steep_for_a_paved_road = 0.22;  // over 100 m; common practice, no source
constexpr Range elevation_range{-430.0, 6000.0};

// --- reading ---------------------------------------------------------------------------------------------------

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

std::string_view trimmed(std::string_view text) {
  const std::size_t from = text.find_first_not_of(" \t\r\n");
  return from == std::string_view::npos ? "" : text.substr(from, text.find_last_not_of(" \t\r\n") - from + 1);
}

std::optional<double> number_in(std::string_view text) {
  text = trimmed(text);
  if (text.size() > 1 && text[0] == '+' && text[1] != '-') text.remove_prefix(1);
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

/// Seconds since 1970 of 2024-05-01T08:00:00Z or ...+02:00; NaN when it is not such a time.
double seconds_of(std::string_view text) {
  const std::string time(trimmed(text));
  int year = 0, month = 0, day = 0, hour = 0, minute = 0, used = 0;
  double second = 0.0;
  if (std::sscanf(time.c_str(), "%4d-%2d-%2dT%2d:%2d:%lf%n", &year, &month, &day, &hour, &minute, &second, &used) != 6)
    return missing;
  const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok() || hour > 24 || minute > 59 || !(second >= 0.0 && second < 61.0)) return missing;
  int zone_hour = 0, zone_minute = 0;
  char sign = '+';
  std::sscanf(time.c_str() + used, "%c%2d:%2d", &sign, &zone_hour, &zone_minute);
  const double zone_s = (sign == '-' ? -1.0 : 1.0) * (3600.0 * zone_hour + 60.0 * zone_minute);
  return 86400.0 * static_cast<double>(std::chrono::sys_days(date).time_since_epoch().count()) + 3600.0 * hour +
         60.0 * minute + second - zone_s;
}

class GpxReader {
 public:
  explicit GpxReader(const std::string& path) : path_(path), text_(read_whole_file(path, most_gpx_bytes)) {
    for (std::size_t i = 0; i < text_.size(); ++i)
      if (text_[i] == '\n') line_ends_.push_back(static_cast<std::ptrdiff_t>(i));
  }

  std::vector<TrackPoint> read() {
    pugi::xml_document document;
    const pugi::xml_parse_result parsed = document.load_buffer(text_.data(), text_.size());
    if (text_.empty()) throw InputFault({path_, 1, 0, "", "found an empty file, expected a GPX track"});
    if (!parsed)
      throw InputFault({path_, line(parsed.offset), 0, "", fmt::format("not readable as XML: {}", parsed.description())});
    const pugi::xml_node root = document.document_element();
    if (local_name(root) != "gpx")
      throw InputFault({path_, line(root.offset_debug()), 0, "", "found <" + shown(root.name()) + ">, expected <gpx>"});
    for (const pugi::xml_node& track : children(root, "trk")) {
      for (const pugi::xml_node& segment : children(track, "trkseg")) read_points(segment, "trkpt");
      ++track_;
    }
    if (points_.empty() && faults_.count() == 0)
      for (const pugi::xml_node& route : children(root, "rte")) read_points(route, "rtept");
    faults_.throw_if_any();
    if (points_.empty())
      throw InputFault({path_, line(root.offset_debug()), 0, "gpx", "found no track points, expected trkpt or rtept"});
    return std::move(points_);
  }

 private:
  int line(std::ptrdiff_t offset) const {
    return 1 + static_cast<int>(std::lower_bound(line_ends_.begin(), line_ends_.end(), offset) - line_ends_.begin());
  }

  void read_points(const pugi::xml_node& parent, const char* name) {
    for (const pugi::xml_node& node : children(parent, name)) read_point(node, name);
    ++segment_;
  }

  void read_point(const pugi::xml_node& node, const char* name) {
    TrackPoint point{0.0, 0.0, missing, missing, line(node.offset_debug()), track_, segment_};
    const std::string field = fmt::format("{}[{}].", name, index_++);
    const bool latitude_good = coordinate(node, "lat", 90.0, point, field, point.latitude_deg);
    const bool good = coordinate(node, "lon", 180.0, point, field, point.longitude_deg) && latitude_good;
    for (const pugi::xml_node& child : node.children()) {
      if (local_name(child) == "time") point.time_s = seconds_of(child.text().get());
      if (local_name(child) != "ele" || trimmed(child.text().get()).empty()) continue;
      const std::optional<double> value = number_in(child.text().get());
      if (value)
        point.elevation_m = *value;
      else
        faults_.add({path_, line(child.offset_debug()), 0, field + "ele",
                     "found '" + shown(child.text().get()) + "', expected a number in m"});
    }
    if (good) points_.push_back(point);
  }

  bool coordinate(const pugi::xml_node& node, const char* name, double most, const TrackPoint& point,
                  const std::string& field, double& into) {
    const pugi::xml_attribute attribute = node.attribute(name);
    const std::optional<double> value = number_in(attribute.value());
    if (value && std::abs(*value) <= most) {
      into = *value;
      return true;
    }
    const std::string range = fmt::format("a number in [-{:g}, {:g}] degrees", most, most);
    faults_.add({path_, point.line, 0, field + name,
                 attribute ? "found '" + shown(attribute.value()) + "', expected " + range : "missing, expected " + range});
    return false;
  }

  std::string path_, text_;
  std::vector<std::ptrdiff_t> line_ends_;
  std::vector<TrackPoint> points_;
  Faults faults_;
  int track_ = 0, segment_ = 0, index_ = 0;
};

// --- measuring -------------------------------------------------------------------------------------------------

/// A geodesic step: its length, and its direction in the middle of the step, clockwise from north.
struct Leg {
  double length_m, azimuth_rad;
};

Leg leg(const TrackPoint& a, const TrackPoint& b) {
  double length_m = 0.0, from_deg = 0.0, to_deg = 0.0;
  GeographicLib::Geodesic::WGS84().Inverse(a.latitude_deg, a.longitude_deg, b.latitude_deg, b.longitude_deg, length_m,
                                           from_deg, to_deg);
  return {length_m, rad_from_deg(from_deg + 0.5 * std::remainder(to_deg - from_deg, 360.0))};
}

double gap_m(const TrackPoint& a, const TrackPoint& b) { return leg(a, b).length_m; }

double turn_rad(const TrackPoint& a, const TrackPoint& b, const TrackPoint& c) {
  return std::abs(std::remainder(leg(b, c).azimuth_rad - leg(a, b).azimuth_rad, 2.0 * std::numbers::pi));
}

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

// --- mending ---------------------------------------------------------------------------------------------------

/// Counts what one kind of mending did, and where it did so first.
struct Mended {
  int count = 0, first_line = 0;
  void at(const TrackPoint& point) {
    if (count++ == 0) first_line = point.line;
  }
  void tell(ImportReport& report, const std::string& what) const {
    if (count > 0) report.lines.push_back(fmt::format("{} x {} (first in line {})", count, what, first_line));
  }
};

class Mender {
 public:
  Mender(const std::string& path, std::vector<TrackPoint> points) : path_(path), points_(std::move(points)) {}

  std::vector<TrackPoint> mend(ImportReport& report) {
    choose_track(report);
    recorded_ = points_.size();
    report.raw_ascent_m = raw_ascent_m();
    tell_segments_and_times(report);
    drop_doubles(report);
    drop_position_spikes(report);
    join_stops(report);
    drop_backtracks(report);
    drop_elevation_spikes(report);
    fill_elevations(report);
    tell_elevation_steps(report);
    check_gaps(report);
    report.lines.insert(report.lines.begin(), fmt::format("{} points recorded, {} kept", recorded_, points_.size()));
    return std::move(points_);
  }

 private:
  [[noreturn]] void refuse(const TrackPoint& point, const std::string& field, const std::string& what) const {
    throw InputFault({path_, point.line, 0, field, what});
  }

  /// Tracks that begin where the one before ended are one ride; of several rides in a file the longest is taken.
  void choose_track(ImportReport& report) {
    struct Ride {
      int first_track, last_track;
      double length_m;
    };
    std::vector<Ride> rides;
    std::size_t tracks = 0;
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const bool new_track = i == 0 || points_[i].track != points_[i - 1].track;
      const double step_m = i > 0 ? gap_m(points_[i - 1], points_[i]) : 0.0;
      tracks += new_track;
      if (i == 0 || (new_track && step_m > one_ride_gap_m))
        rides.push_back({points_[i].track, points_[i].track, 0.0});
      else if (new_track || points_[i].segment == points_[i - 1].segment)
        rides.back().length_m += step_m;
      rides.back().last_track = points_[i].track;
    }
    if (tracks < 2) return;
    const auto longest =
        std::max_element(rides.begin(), rides.end(), [](const Ride& a, const Ride& b) { return a.length_m < b.length_m; });
    std::erase_if(points_, [&](const TrackPoint& point) {
      return point.track < longest->first_track || point.track > longest->last_track;
    });
    const std::string which =
        rides.size() == 1 ? "joined, each begins near the end of the one before" : "the longest ride is taken";
    report.lines.push_back(fmt::format("{} tracks in the file: {}, {:.1f} km from line {} on", tracks, which,
                                       longest->length_m / 1e3, points_.front().line));
  }

  void tell_segments_and_times(ImportReport& report) {
    Mended disorder;
    const TrackPoint* last = nullptr;
    for (const TrackPoint& point : points_) {
      if (last && point.time_s < last->time_s) disorder.at(point);
      if (!std::isnan(point.time_s)) last = &point;
    }
    disorder.tell(report, "time before the one of the point before: the order in the file is kept, times are not used");
    Mended joined;
    double widest_m = 0.0;
    for (std::size_t i = 1; i < points_.size(); ++i) {
      if (points_[i].segment == points_[i - 1].segment) continue;
      joined.at(points_[i]);
      widest_m = std::max(widest_m, gap_m(points_[i - 1], points_[i]));
    }
    joined.tell(report, fmt::format("segment joined to the one before, at most {:.0f} m apart", widest_m));
  }

  void drop_doubles(ImportReport& report) {
    Mended doubles;
    std::vector<TrackPoint> kept;
    for (const TrackPoint& point : points_) {
      if (!kept.empty() && gap_m(kept.back(), point) < same_place_m) {
        doubles.at(point);
        if (std::isnan(kept.back().elevation_m)) kept.back().elevation_m = point.elevation_m;
      } else {
        kept.push_back(point);
      }
    }
    points_ = std::move(kept);
    doubles.tell(report, "point on the spot of the one before: left out");
  }

  /// A point far off whose neighbours lie close together: no road goes there and back.
  void drop_position_spikes(ImportReport& report) {
    if (points_.size() < 4) return;
    std::vector<double> steps_m;
    for (std::size_t i = 1; i < points_.size(); ++i) steps_m.push_back(gap_m(points_[i - 1], points_[i]));
    const double far_m = std::max(least_position_spike_m, 5.0 * median(steps_m));
    Mended spikes;
    std::vector<TrackPoint> kept;
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const bool inside = !kept.empty() && i + 1 < points_.size();
      const double nearest_m = inside ? std::min(gap_m(kept.back(), points_[i]), gap_m(points_[i], points_[i + 1])) : 0.0;
      if (inside && nearest_m > far_m && gap_m(kept.back(), points_[i + 1]) < 0.5 * nearest_m)
        spikes.at(points_[i]);
      else
        kept.push_back(points_[i]);
    }
    points_ = std::move(kept);
    spikes.tell(report, fmt::format("point more than {:.0f} m off the line of its neighbours: left out", far_m));
  }

  /// Many steps within a small circle are a rider standing still under a wandering position.
  void join_stops(ImportReport& report) {
    Mended stops;
    std::vector<TrackPoint> kept;
    for (std::size_t i = 0; i < points_.size();) {
      std::size_t end = i + 1;
      double path_m = 0.0, latitude_deg = points_[i].latitude_deg, longitude_deg = points_[i].longitude_deg;
      while (end < points_.size() && gap_m(points_[i], points_[end]) < stop_radius_m) {
        path_m += gap_m(points_[end - 1], points_[end]);
        latitude_deg += points_[end].latitude_deg;
        longitude_deg += points_[end].longitude_deg;
        ++end;
      }
      kept.push_back(points_[i]);
      if (path_m > stop_path_m) {
        stops.at(points_[i]);
        const auto n = static_cast<double>(end - i);
        kept.back().latitude_deg = latitude_deg / n;
        kept.back().longitude_deg = longitude_deg / n;
        kept.back().elevation_m = middle_elevation_m(i, end);
        i = end;
      } else {
        ++i;
      }
    }
    points_ = std::move(kept);
    stops.tell(report, fmt::format("stop (wandering within {:.0f} m): taken as one point", stop_radius_m));
  }

  double middle_elevation_m(std::size_t from, std::size_t to) const {
    std::vector<double> known;
    for (std::size_t i = from; i < to; ++i)
      if (!std::isnan(points_[i].elevation_m)) known.push_back(points_[i].elevation_m);
    return known.empty() ? missing : median(known);
  }

  /// Forward, back, forward again within a few metres: a jitter of the position. One turn back alone is a rider turning round.
  void drop_backtracks(ImportReport& report) {
    constexpr double sharp_rad = 2.1;
    Mended backtracks;
    std::vector<TrackPoint> kept;
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const bool inside = kept.size() >= 2 && i + 1 < points_.size();
      const bool zigzag = inside && gap_m(kept.back(), points_[i]) < backtrack_m &&
                          turn_rad(kept[kept.size() - 2], kept.back(), points_[i]) > sharp_rad &&
                          turn_rad(kept.back(), points_[i], points_[i + 1]) > sharp_rad;
      if (zigzag)
        backtracks.at(points_[i]);
      else
        kept.push_back(points_[i]);
    }
    points_ = std::move(kept);
    backtracks.tell(report, "point behind the one before (forward, back, forward): left out");
  }

  void drop_elevation_spikes(ImportReport& report) {
    Mended impossible, spikes;
    for (TrackPoint& point : points_)
      if (point.elevation_m < elevation_range.lowest || point.elevation_m > elevation_range.highest) {
        impossible.at(point);
        point.elevation_m = missing;
      }
    // A spike drags its neighbours' lines along, so only the farthest off of three is one.
    std::vector<double> off_m(points_.size(), 0.0);
    for (std::size_t i = 1; i + 1 < points_.size(); ++i) off_m[i] = off_the_line_m(i);
    for (std::size_t i = 1; i + 1 < points_.size(); ++i)
      if (off_m[i] > 0.0 && off_m[i] >= off_m[i - 1] && off_m[i] >= off_m[i + 1]) {
        spikes.at(points_[i]);
        points_[i].elevation_m = missing;
      }
    impossible.tell(report, fmt::format("elevation outside [{:g}, {:g}] m: taken as missing", elevation_range.lowest,
                                        elevation_range.highest));
    spikes.tell(report, fmt::format("elevation more than {:.0f} m off its neighbours: taken as missing", elevation_spike_m));
  }

  /// How far an elevation lies off the straight line between its neighbours', beyond what a road may; 0 within that.
  double off_the_line_m(std::size_t i) const {
    const double before_m = gap_m(points_[i - 1], points_[i]), after_m = gap_m(points_[i], points_[i + 1]);
    const double line_m = std::lerp(points_[i - 1].elevation_m, points_[i + 1].elevation_m, before_m / (before_m + after_m));
    const double allowed_m =
        elevation_spike_m + 0.4 * std::min(before_m, after_m);  // as steep as any road, up and down again
    const double off_m = std::abs(points_[i].elevation_m - line_m);
    return off_m > allowed_m ? off_m : 0.0;  // 0 also where an elevation is missing
  }

  void fill_elevations(ImportReport& report) {
    Mended filled;
    std::size_t last = points_.size();  // last point with an elevation; size() when there was none yet
    for (std::size_t i = 0; i <= points_.size(); ++i) {
      if (i < points_.size() && std::isnan(points_[i].elevation_m)) continue;
      const std::size_t from = last == points_.size() ? 0 : last + 1;
      if (i == points_.size() && last == points_.size())
        refuse(points_.front(), "ele", "found no elevation in any point, expected them");
      if (from < i) fill_run(from, i, filled);
      last = i;
    }
    filled.tell(report, "elevation missing: put in from its neighbours");
  }

  /// Points [from, to) lack elevations; the points beside them, where there are any, have one.
  void fill_run(std::size_t from, std::size_t to, Mended& filled) {
    const std::size_t first = from > 0 ? from - 1 : 0, last = std::min(to, points_.size() - 1);
    std::vector<double> along_m{0.0};
    for (std::size_t i = first; i < last; ++i) along_m.push_back(along_m.back() + gap_m(points_[i], points_[i + 1]));
    if (along_m.back() > longest_elevation_gap_m)
      refuse(points_[from], "ele",
             fmt::format("found {:.0f} m without elevations, expected at most {:.0f} m", along_m.back(),
                         longest_elevation_gap_m));
    const double start_m = from > 0 ? points_[from - 1].elevation_m : points_[to].elevation_m;
    const double end_m = to < points_.size() ? points_[to].elevation_m : start_m;
    for (std::size_t i = from; i < to; ++i) {
      points_[i].elevation_m = std::lerp(start_m, end_m, along_m[i - first] / along_m.back());
      filled.at(points_[i]);
    }
  }

  /// A device that corrects itself by a jump: nobody can tell which side is right, so it is told, not mended.
  void tell_elevation_steps(ImportReport& report) {
    Mended steps;
    for (std::size_t i = 1; i < points_.size(); ++i) {
      const double rise_m = std::abs(points_[i].elevation_m - points_[i - 1].elevation_m);
      if (rise_m > largest_step_m && rise_m > gap_m(points_[i - 1], points_[i]))
        refuse(points_[i], "ele",
               fmt::format("found an elevation {:.0f} m off the point before, expected at most {:.0f} m", rise_m,
                           largest_step_m));
      if (rise_m > std::max(step_worth_telling_m, steepest_believed_grade * gap_m(points_[i - 1], points_[i])))
        steps.at(points_[i]);
    }
    steps.tell(
        report,
        fmt::format("elevation jumps by more than {:.0f} m within a step: smoothed, but the road will look too steep there",
                    step_worth_telling_m));
  }

  void check_gaps(ImportReport& report) {
    Mended gaps;
    double widest_m = 0.0, length_m = 0.0;
    for (std::size_t i = 1; i < points_.size(); ++i) {
      const double step_m = gap_m(points_[i - 1], points_[i]);
      length_m += step_m;
      if (step_m > longest_gap_m)
        refuse(
            points_[i], "",
            fmt::format("found a jump of {:.0f} m from the point before, expected at most {:.0f} m", step_m, longest_gap_m));
      if (step_m > gap_worth_telling_m) gaps.at(points_[i]);
      widest_m = std::max(widest_m, step_m);
    }
    gaps.tell(report, fmt::format("gap of more than {:.0f} m (at most {:.0f} m): bridged by a straight line",
                                  gap_worth_telling_m, widest_m));
    if (length_m < shortest_track_m || points_.size() < 3)
      refuse(points_.front(), "",
             fmt::format("found a track of {:.1f} m with {} places, expected at least {:.0f} m and 3 places", length_m,
                         points_.size(), shortest_track_m));
    if (length_m > longest_track_m)
      refuse(points_.front(), "",
             fmt::format("found a track of {:.0f} km, expected at most {:.0f} km", length_m / 1e3, longest_track_m / 1e3));
  }

  /// Every rise between recorded points: an upper bound, mostly noise.
  double raw_ascent_m() const {
    double ascent_m = 0.0, last_m = missing;
    for (const TrackPoint& point : points_) {
      if (std::isnan(point.elevation_m)) continue;
      if (point.elevation_m > last_m) ascent_m += point.elevation_m - last_m;
      last_m = point.elevation_m;
    }
    return ascent_m;
  }

  std::string path_;
  std::vector<TrackPoint> points_;
  std::size_t recorded_ = 0;
};

// --- the line --------------------------------------------------------------------------------------------------

/// Linear between the nodes of a grid.
double value_between(const std::vector<double>& values, double position) {
  const auto i = std::min(static_cast<std::size_t>(std::max(position, 0.0)), values.size() - 2);
  return std::lerp(values[i], values[i + 1], std::clamp(position - static_cast<double>(i), 0.0, 1.0));
}

/// East, north and up over the measured distance, unrolled leg by leg: lengths and directions are those of the
/// ellipsoid at each place, which no single map projection keeps over a long road.
struct Line {
  std::vector<double> east_m, north_m, up_m;
};

/// Position first, then elevation over the length of the smoothed position: a wandering position makes the recorded
/// length too long, and elevations spread over it would come out too steep once the line is straightened.
Line smoothed_line(const std::vector<TrackPoint>& points, const SmoothingSettings& smoothing) {
  std::vector<double> distance_m{0.0}, east_m{0.0}, north_m{0.0}, up_m{points.front().elevation_m};
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Leg step = leg(points[i - 1], points[i]);
    distance_m.push_back(distance_m.back() + step.length_m);
    east_m.push_back(east_m.back() + step.length_m * std::sin(step.azimuth_rad));
    north_m.push_back(north_m.back() + step.length_m * std::cos(step.azimuth_rad));
    up_m.push_back(points[i].elevation_m);
  }
  const SmoothingSettings position{position_smoothing_m, smoothing.spacing_m, position_spike_m, smoothing.reweightings};
  Line line{smooth_elevation(distance_m, east_m, position), smooth_elevation(distance_m, north_m, position), {}};

  for (std::vector<double>* axis : {&line.east_m, &line.north_m})  // the grid may reach a little beyond the last point
    axis->back() = value_between(*axis, distance_m.back() / smoothing.spacing_m);

  std::vector<double> along_m{0.0};  // by node
  for (std::size_t i = 1; i < line.east_m.size(); ++i)
    along_m.push_back(along_m.back() + std::max(1e-6, std::hypot(line.east_m[i] - line.east_m[i - 1],
                                                                 line.north_m[i] - line.north_m[i - 1])));
  const double last_cell_m = distance_m.back() - static_cast<double>(along_m.size() - 2) * smoothing.spacing_m;
  for (double& distance : distance_m) {
    const double into_last_m = distance - (distance_m.back() - last_cell_m);
    distance = into_last_m > 0.0 ? std::lerp(along_m[along_m.size() - 2], along_m.back(), into_last_m / last_cell_m)
                                 : value_between(along_m, distance / smoothing.spacing_m);
  }
  const std::vector<double> elevation_m = smooth_elevation(distance_m, up_m, smoothing);
  for (const double along : along_m) line.up_m.push_back(value_between(elevation_m, along / smoothing.spacing_m));
  return line;
}

/// Walks the line in equal steps along the surface.
RoadProfile profile_along(const Line& line, double spacing_m) {
  const std::size_t nodes = line.up_m.size();
  std::vector<double> surface_m{0.0};
  for (std::size_t i = 1; i < nodes; ++i)
    surface_m.push_back(surface_m.back() + std::hypot(line.east_m[i] - line.east_m[i - 1],
                                                      line.north_m[i] - line.north_m[i - 1],
                                                      line.up_m[i] - line.up_m[i - 1]));
  const auto cells = static_cast<std::size_t>(std::max(2.0, std::round(surface_m.back() / spacing_m)));
  const Stretch plain;  // its defaults are those of a road without marks
  RoadProfile profile;
  profile.spacing_m = surface_m.back() / static_cast<double>(cells);
  std::size_t k = 0;
  for (std::size_t i = 0; i <= cells; ++i) {
    const double distance_m = i == cells ? surface_m.back() : static_cast<double>(i) * profile.spacing_m;
    while (k + 2 < nodes && surface_m[k + 1] < distance_m) ++k;
    const double share = std::clamp((distance_m - surface_m[k]) / std::max(surface_m[k + 1] - surface_m[k], 1e-9), 0.0, 1.0);
    profile.elevation_m.push_back(std::lerp(line.up_m[k], line.up_m[k + 1], share));
    const double heading_rad = std::atan2(line.east_m[k + 1] - line.east_m[k], line.north_m[k + 1] - line.north_m[k]);
    profile.heading_rad.push_back(heading_rad < 0.0 ? heading_rad + 2.0 * std::numbers::pi : heading_rad);
  }
  profile.rolling.assign(cells + 1, rolling_coefficient(plain.surface));
  profile.width_m.assign(cells + 1, plain.width_m);
  profile.exposure_left.assign(cells + 1, plain.exposure_left);
  profile.exposure_right.assign(cells + 1, plain.exposure_right);
  profile.abreast.assign(cells + 1, static_cast<std::uint8_t>(plain.abreast));
  return profile;
}

void check_grades(const std::string& path, const RoadProfile& profile) {
  for (std::size_t i = 1; i < profile.elevation_m.size(); ++i) {
    const double grade = (profile.elevation_m[i] - profile.elevation_m[i - 1]) / profile.spacing_m;
    if (std::abs(grade) > steepest_believed_grade)
      throw InputFault(
          {path, 0, 0, "ele",
           fmt::format("found a grade of {:.0f} percent at {:.0f} m after smoothing, expected elevations of a road, at most "
                       "{:.0f} percent",
                       100.0 * grade, static_cast<double>(i) * profile.spacing_m, 100.0 * steepest_believed_grade)});
  }
}

}  // namespace

std::vector<TrackPoint> read_gpx(const std::string& path) { return GpxReader(path).read(); }

TrackImport import_track(const std::string& path, const SmoothingSettings& smoothing) {
  TrackImport result;
  const std::vector<TrackPoint> points = Mender(path, read_gpx(path)).mend(result.report);
  result.profile = profile_along(smoothed_line(points, smoothing), smoothing.spacing_m);
  result.profile.latitude_rad = rad_from_deg(points.front().latitude_deg);
  result.profile.longitude_rad = rad_from_deg(points.front().longitude_deg);
  result.profile.has_position = true;
  check_grades(path, result.profile);
  const std::vector<double>& z = result.profile.elevation_m;
  for (std::size_t i = 1; i < z.size(); ++i) result.report.smoothed_ascent_m += std::max(0.0, z[i] - z[i - 1]);
  if (const RoadFacts facts = Road(result.profile).facts(); facts.steepest_100m_grade > steep_for_a_paved_road)
    result.report.lines.push_back(
        fmt::format("caution: {:.0f} % over the 100 m from {:.2f} km is steep for a paved road; look at the track there or "
                    "smooth over a longer length",
                    100.0 * facts.steepest_100m_grade, facts.steepest_at_m / 1e3));
  return result;
}

}  // namespace leewheel
