#include "app/debrief_asked.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/asking.hpp"
#include "io/named_files.hpp"
#include "io/recording_reader.hpp"
#include "io/text_file.hpp"
#include "io/track_import.hpp"

namespace leewheel {

namespace {

struct NamedFile {
  std::string rider, file;
};

NamedFile named_file(const std::string& text) {
  const std::size_t equals = text.find('=');
  if (equals == std::string::npos || equals == 0 || equals + 1 == text.size())
    throw InputFault(Fault{"", 0, 0, "--recorded", "found '" + shown(text) + "', expected NAME=FILE, as in Ada=ada.gpx"});
  return {text.substr(0, equals), text.substr(equals + 1)};
}

/// What is known of a rider whom nobody described: one standard deviation between riders (assumed; of critical power Clark et al.
/// 2019, J Appl Physiol 127:726: 37 of 260 W among trained riders, so more among any).
constexpr double any_mass_kg = 12.0, any_critical_power_share = 0.25, any_w_prime_share = 0.25, any_rolling_share = 0.25;

/// A scenario of nothing but the recorded road and riders with usual numbers, in still air.
Scenario scenario_of_recording(const std::vector<NamedFile>& named) {
  TrackImport track = import_track(named.front().file, {});
  Scenario scenario{.title = "Ride of " + named.front().rider,
                    .question = "",
                    .finding = "",
                    .road = Road(track.profile),
                    .air = {},
                    .wind = {},
                    .riders = {},
                    .plans = {},
                    .ride = {},
                    .tactics = {},
                    .groups = {},
                    .wake = {}};
  scenario.air_station_altitude_m = scenario.road.elevation_m(0.0);
  scenario.air.pressure_Pa = standard_pressure_Pa(scenario.air_station_altitude_m);
  if (track.profile.has_position) scenario.gravity_mps2 = normal_gravity_mps2(track.profile.latitude_rad);
  for (const NamedFile& one : named) {
    RiderSettings rider;
    rider.name = one.rider;
    scenario.riders.push_back(rider);
  }
  scenario.plans.resize(named.size());
  scenario.uncertainty.mass_kg = any_mass_kg, scenario.uncertainty.critical_power_share = any_critical_power_share;
  scenario.uncertainty.w_prime_share = any_w_prime_share, scenario.uncertainty.rolling_share = any_rolling_share;
  return scenario;
}

std::size_t rider_of(const std::string& path, const Scenario& scenario, const std::string& name, const char* option) {
  std::vector<std::string> names;
  for (const RiderSettings& rider : scenario.riders) names.push_back(rider.name);
  const auto found = std::find(names.begin(), names.end(), name);
  if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
  const std::string nearest = nearest_name(name, names);
  throw InputFault(Fault{path, 0, 0, option,
                         fmt::format("found {}, who does not ride in the scenario, expected {}", shown(name),
                                     nearest.empty() ? fmt::format("one of {}", fmt::join(names, ", ")) : nearest)});
}

void refuse_same(const DebriefInput& input, std::size_t rider, const std::string& file, const std::string& text,
                 std::vector<std::string>& texts) {
  for (std::size_t k = 0; k < texts.size(); ++k) {
    const std::string& other = input.scenario.riders[input.recorded[k]].name;
    if (input.recorded[k] == rider)
      throw InputFault(
          Fault{file, 0, 0, "--recorded", "found a second recording of " + other + ", expected one of each rider"});
    if (texts[k] == text)
      throw InputFault(Fault{file, 0, 0, "--recorded",
                             fmt::format("found the same recording as that of {}, expected each rider's own", other)});
  }
  texts.push_back(text);
}

/// "12:30" or "1:02:30" as seconds.
std::optional<double> clock_s(const std::string& text) {
  double sum_s = 0.0;
  std::size_t from = 0, parts = 0;
  for (;;) {
    const std::size_t colon = text.find(':', from);
    const auto part = number_in(text.substr(from, colon == std::string::npos ? colon : colon - from));
    if (!part || *part < 0.0) return std::nullopt;
    sum_s = 60.0 * sum_s + *part;
    ++parts;
    if (colon == std::string::npos) return parts > 1 ? std::optional(sum_s) : std::nullopt;
    from = colon + 1;
  }
}

/// NAME:FROM-TO; landmarks may have a minus in their names, so every one is tried.
AllOut all_out_of(const std::string& path, const Scenario& scenario, const std::string& text) {
  const std::size_t colon = text.find(':');
  const auto refuse = [&]() {
    return InputFault(Fault{path, 0, 0, "--all-out",
                            "found '" + shown(text) +
                                "', expected NAME:FROM-TO with landmarks, metres or times of the ride, as "
                                "in Ada:Chapel-Shelf gate or Ada:12:00-42:00"});
  };
  if (colon == std::string::npos) throw refuse();
  AllOut said{rider_of(path, scenario, text.substr(0, colon), "--all-out"), false, 0.0, 0.0};
  const std::string span = text.substr(colon + 1);
  for (std::size_t minus = span.find('-'); minus != std::string::npos; minus = span.find('-', minus + 1)) {
    const std::string from(trimmed(span.substr(0, minus))), to(trimmed(span.substr(minus + 1)));
    const auto from_s = clock_s(from), to_s = clock_s(to);
    said.by_time = from_s && to_s;
    try {
      said.from = said.by_time ? *from_s : place_named(path, scenario.road, "--all-out", from);
      said.to = said.by_time ? *to_s : place_named(path, scenario.road, "--all-out", to);
    } catch (const InputFault&) {
      continue;
    }
    if (said.to > said.from) return said;
  }
  throw refuse();
}

void add_all_out(const std::string& path, const std::string& text, DebriefInput& input) {
  const AllOut said = all_out_of(path, input.scenario, text);
  const std::string& name = input.scenario.riders[said.rider].name;
  const auto refuse = [&](const std::string& found) {
    throw InputFault(Fault{path, 0, 0, "--all-out",
                           fmt::format(fmt::runtime(found + ", expected one effort of a recorded rider"), name)});
  };
  if (std::find(input.recorded.begin(), input.recorded.end(), said.rider) == input.recorded.end())
    refuse("found {}, of whom there is no recording");
  for (const AllOut& other : input.all_out)
    if (other.rider == said.rider) refuse("found a second effort of {}");
  input.all_out.push_back(said);
}

void say_alone(DebriefInput& input, const std::string& named) {
  for (std::size_t k = 0; k < input.recordings.size(); ++k)
    if (input.recordings[k].file == named || input.recordings[k].rider == named) {
      input.alone[k] = true;
      return;
    }
  throw InputFault(
      Fault{named, 0, 0, "--alone", "found no recording of that name, expected a file or a rider of --recorded"});
}

void refuse_elsewhere(const DebriefInput& input) {
  const auto fault = not_on_road(input);
  if (!fault) return;
  const Recording& recording = input.recordings[fault->recording];
  if (!input.planned && fault->recording == 0)
    throw InputFault(
        Fault{recording.file, recording.points.front().line, 0, "trkpt[0]",
              "found a ride elsewhere than the road, which is made of the file's longest track, expected one track: "
              "hand in a file of the ride alone"});
  throw InputFault(Fault{
      recording.file, recording.points.front().line, 0, "trkpt[0]",
      fault->fault == RoadFault::other_way
          ? "found the road ridden the other way, from its end to its start, expected the scenario's direction: make a "
            "scenario of the road turned round (leewheel new, with a track and --reverse), or leave the scenario out"
          : fmt::format("found {:.0f} % of the points on this road, within 30 m of it, expected a ride along it: is it the "
                        "right ride, and the right scenario?",
                        100.0 * fault->on_road_share)});
}

}  // namespace

DebriefInput read_debrief_input(const DebriefAsked& asked, std::vector<std::string>& remarks) {
  std::vector<NamedFile> named;
  for (const std::string& one : asked.recorded) named.push_back(named_file(one));
  DebriefInput input{
      .scenario = asked.scenario_path.empty() ? scenario_of_recording(named) : asked_scenario(asked.scenario_path),
      .planned = !asked.scenario_path.empty(),
      .recordings = {},
      .recorded = {},
      .alone = {},
      .all_out = {}};
  std::vector<std::string> texts;
  for (const NamedFile& one : named) {
    const std::size_t rider = rider_of(one.file, input.scenario, one.rider, "--recorded");
    Recording recording = read_recording(one.file, one.rider, remarks);
    refuse_same(input, rider, one.file, read_whole_file(one.file, 256u << 20), texts);
    input.recorded.push_back(rider);
    input.recordings.push_back(std::move(recording));
  }
  input.alone.assign(input.recordings.size(), false);
  for (const std::string& one : asked.alone) say_alone(input, one);
  for (const std::string& one : asked.all_out) add_all_out(asked.scenario_path, one, input);
  refuse_elsewhere(input);
  return input;
}

void refuse_other_day(const DebriefInput& input, const Debrief& told) {
  constexpr double half_day_s = 43200.0;
  for (const RiderDebrief& rider : told.riders)
    if (std::abs(rider.notes.clock_shift_s) > half_day_s)
      throw InputFault(
          Fault{input.recordings[rider.recording].file, 0, 0, "--recorded",
                fmt::format("found {} with the others only {:.1f} days {}, expected recordings of one ride: is it "
                            "another day's? If the device's date is wrong, set it right in the file",
                            input.scenario.riders[rider.rider].name, std::abs(rider.notes.clock_shift_s) / 86400.0,
                            rider.notes.clock_shift_s > 0.0 ? "later" : "earlier")});
}

void refuse_effort(const DebriefInput& input, const Debrief& told) {
  for (const RiderDebrief& rider : told.riders) {
    const StrengthTold& s = rider.strength;
    std::string found;
    switch (s.fault) {
      case EffortFault::none: continue;
      case EffortFault::not_ridden: found = "found an effort beyond what was recorded, expected one within it"; break;
      case EffortFault::too_short: found = "found less than three minutes, expected an effort of three or more"; break;
      case EffortFault::stood:
        found = fmt::format(
            "found {:.0f} s of standing within the effort, expected one from a place to another without a stop", s.stood_s);
        break;
      case EffortFault::no_power: found = "found no power for more than a twentieth of it, expected an effort with power";
    }
    throw InputFault(Fault{input.recordings[rider.recording].file, 0, 0, "--all-out",
                           fmt::format("{}: {}", input.scenario.riders[rider.rider].name, found)});
  }
}

std::vector<std::string> files_read(const DebriefAsked& asked) {
  std::vector<std::string> files;
  if (!asked.scenario_path.empty()) files = files_with_named(asked.scenario_path);
  for (const std::string& one : asked.recorded) files.push_back(named_file(one).file);
  return files;
}

}  // namespace leewheel
