/// Recordings of rides: which kind of file it is, and what every recording must have.

#include "io/recording_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/fault_words.hpp"
#include "io/file_kind.hpp"
#include "io/text_file.hpp"
#include "io/track_import.hpp"

namespace leewheel {

namespace {

constexpr std::size_t most_bytes = 256u << 20;
Recording from_gpx(const std::string& path) {
  Recording recording;
  recording.file = path;
  std::size_t untimed = 0, index = 0, first_untimed = 0;
  Faults faults;
  for (const TrackPoint& p : read_gpx(path)) {
    if (std::isnan(p.time_s) && untimed++ == 0) first_untimed = index;
    if (!p.zoned && !std::isnan(p.time_s) && faults.count() == 0)
      faults.add({path, p.line, 0, fmt::format("trkpt[{}].time", index),
                  "found a time without its zone, expected one as 2027-05-16T09:00:00Z or ...+02:00: add what the device's "
                  "clock was set to"});
    ++index;
    if (!std::isnan(p.time_s))
      recording.points.push_back({p.time_s, p.latitude_deg, p.longitude_deg, not_recorded, p.elevation_m, p.speed_mps,
                                  p.power_W, p.heart_rate_bpm, p.cadence_rpm, p.temperature_C, p.line});
  }
  faults.throw_if_any();
  if (recording.points.size() < 2)
    throw InputFault({path, 0, 0, fmt::format("trkpt[{}].time", first_untimed),
                      "found no times, expected a recorded ride: this is a route, as drawn or stripped of its times; export "
                      "the ride itself"});
  if (2 * untimed > index)
    throw InputFault(
        {path, 0, 0, fmt::format("trkpt[{}].time", first_untimed),
         fmt::format("found times at {} of {} points, expected one at every point: export the ride itself, as it "
                     "was recorded",
                     index - untimed, index)});
  return recording;
}

/// 0 W throughout: no ride is freewheeled from its start to its end, so the meter was asleep, empty or not paired.
void note_silent_meter(Recording& recording) {
  constexpr std::ptrdiff_t least_points = 60;
  std::vector<RecordedPoint>& points = recording.points;
  const auto powered = std::count_if(points.begin(), points.end(), [](const auto& p) { return !std::isnan(p.power_W); });
  const auto zero = std::count_if(points.begin(), points.end(), [](const auto& p) { return p.power_W == 0.0; });
  recording.silent_meter = zero >= least_points && zero == powered;
  if (!recording.silent_meter) return;
  for (RecordedPoint& p : points) p.power_W = not_recorded;
}

}  // namespace

Recording read_recording(const std::string& path, const std::string& rider, std::vector<std::string>& remarks) {
  Recording recording;
  const std::string text = read_whole_file(path, most_bytes);
  const FileKind kind = kind_of(text);
  const bool xml = kind == FileKind::gpx;
  if (!xml && kind != FileKind::csv && kind != FileKind::text) throw InputFault({path, 0, 0, "", not_a_track(kind)});
  recording = xml ? from_gpx(path) : read_recording_csv(path, remarks);
  recording.rider = rider;
  check_recording(recording, xml ? "trkpt" : "row", remarks);
  return recording;
}

void check_recording(Recording& recording, const char* point_name, std::vector<std::string>& remarks) {
  std::vector<RecordedPoint>& points = recording.points;
  std::size_t doubled = 0, first_doubled = 0;
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (points[i].time_s < points[i - 1].time_s)
      throw InputFault({recording.file, points[i].line, 0, fmt::format("{}[{}].time", point_name, i),
                        fmt::format("found a time {:.0f} s before that of the point before, expected rising times: cut the "
                                    "file there and hand in the part with the ride",
                                    points[i - 1].time_s - points[i].time_s)});
    if (points[i].time_s == points[i - 1].time_s && doubled++ == 0) first_doubled = i;
  }
  if (doubled * 50 > points.size())
    throw InputFault({recording.file, points[first_doubled].line, 0, fmt::format("{}[{}].time", point_name, first_doubled),
                      fmt::format("found the time of the point before, at {} points in all, expected rising times: export "
                                  "the ride again with a time at every point",
                                  doubled)});
  const auto same_time = [](const RecordedPoint& a, const RecordedPoint& b) { return a.time_s == b.time_s; };
  points.erase(std::unique(points.begin(), points.end(), same_time), points.end());
  if (doubled > 0)
    remarks.push_back(fmt::format("{}: {} with the time of the point before left out (first: {}[{}])", recording.file,
                                  doubled == 1 ? "a point" : fmt::format("{} points", doubled), point_name, first_doubled));
  note_silent_meter(recording);
  const RecordingFacts facts = facts_of(recording);
  if (facts.constant_power_share > plan_power_share && points.size() >= 60)
    throw InputFault({recording.file, points.front().line, 0, fmt::format("{}[0].power", point_name),
                      fmt::format("found {:g} W at {:.0f} % of the points, expected a recording: this is a plan; hand in "
                                  "what the device wrote on the road",
                                  facts.constant_power_W, 100.0 * facts.constant_power_share)});
}

}  // namespace leewheel
