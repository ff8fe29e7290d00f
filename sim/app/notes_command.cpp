/// `leewheel notes`: a talk through the road for riders one has never met, as text, page and captions.

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <thread>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/notes_output.hpp"
#include "app/progress.hpp"
#include "app/track_arguments.hpp"
#include "io/atomic_file.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/compass.hpp"
#include "leewheel/kilometres.hpp"
#include "leewheel/road_notes.hpp"
#include "pages/notes_page.hpp"
#include "words/notes_words.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string path, times, page, captions, captions_for, wind_from = "W";
  double wind_kmh = 0.0, film_speed = 1.0;
  bool road = false, json = false, quiet = false;
  TrackArguments track;
  ShownUnits units;
};

constexpr const char* examples = R"(Examples:
  leewheel notes scenarios/larkmoor/scenario.yaml --times 45:00,1:00:00,1:20:00
  leewheel notes scenarios/larkmoor/scenario.yaml -o notes.html --captions notes.vtt --film-speed 8
  leewheel notes --road my-climb.gpx --wind-from WSW --wind-kmh 20

Without --times: those of the quickest, the middle and the slowest rider alone, to five minutes.
Captions (WebVTT) begin with the film; of a film that runs N times as fast as the ride only what there is time for.

Exit codes: 0 done, 1 no plan for these times, 2 bad input or arguments, 3 stopped before the end.
)";

/// "45:00" or "1:20:00".
double seconds_in(const std::string& option, const std::string& text) {
  double seconds = 0.0;
  std::size_t parts = 0, begin = 0;
  while (begin <= text.size()) {
    const std::size_t end = std::min(text.find(':', begin), text.size());
    const std::string part = text.substr(begin, end - begin);
    const bool digits = !part.empty() && part.size() <= 3 && part.find_first_not_of("0123456789") == std::string::npos;
    if (!digits || (parts > 0 && (part.size() != 2 || part[0] > '5'))) parts = 9;
    if (parts > 3) break;
    seconds = 60.0 * seconds + std::stod(part);
    ++parts, begin = end + 1;
  }
  if (parts < 2 || parts > 3 || seconds < 60.0)
    throw InputFault(
        {option, 0, 0, "", fmt::format("found '{}', expected minutes and seconds such as 45:00 or 1:20:00", text)});
  return seconds;
}

std::vector<double> wished_s(const Options& options, const Scenario& scenario) {
  if (options.times.empty()) return usual_times_s(scenario);
  constexpr std::size_t most = 6;
  std::vector<double> times_s;
  for (std::size_t begin = 0; begin <= options.times.size();) {
    const std::size_t end = std::min(options.times.find(',', begin), options.times.size());
    times_s.push_back(seconds_in("--times", options.times.substr(begin, end - begin)));
    begin = end + 1;
  }
  if (times_s.size() > most)
    throw InputFault({"--times", 0, 0, "", fmt::format("found {} times, expected at most {}", times_s.size(), most)});
  return times_s;
}

/// A road of one's own in a steady wind, and a rider of usual build without a name: nobody is listed.
Scenario on_road(const Options& options) {
  Scenario scenario{std::filesystem::path(options.path).stem().string(),
                    "",
                    "",
                    Road(read_road_or_track(options.path, options.track).profile),
                    {},
                    0.0,
                    9.80665,
                    {},
                    {},
                    {},
                    {},
                    {},
                    {},
                    {}};
  const auto from = std::find(compass_points.begin(), compass_points.end(), options.wind_from) - compass_points.begin();
  scenario.wind.forecast.front().speed_mps = mps_from_kmh(options.wind_kmh);
  scenario.wind.forecast.front().from_rad = rad_from_deg(22.5 * static_cast<double>(from));
  scenario.riders.resize(1);
  scenario.plans.resize(1);
  return scenario;
}

/// Of whom the captions speak: the wished time nearest to the one asked for.
std::size_t strength_of_captions(const Options& options, const RoadNotes& notes) {
  if (options.captions_for.empty()) return notes.middle;
  const double wanted_s = seconds_in("--captions-for", options.captions_for);
  const auto away = [&](const NotesStrength& s) { return std::abs(s.wished_s - wanted_s); };
  const auto nearest = std::min_element(notes.strengths.begin(), notes.strengths.end(),
                                        [&](const auto& a, const auto& b) { return away(a) < away(b); });
  return static_cast<std::size_t>(nearest - notes.strengths.begin());
}

std::size_t quickest(const RoadNotes& notes) {
  return static_cast<std::size_t>(std::min_element(notes.strengths.begin(), notes.strengths.end(),
                                                   [](const auto& a, const auto& b) { return a.time_s < b.time_s; }) -
                                  notes.strengths.begin());
}

int run(const Options& options) {
  Scenario scenario = options.road ? on_road(options) : asked_scenario(options.path);
  scenario.road = with_kilometres(scenario.road);
  const StopAsked stop;
  RoadNotes notes;
  {
    Progress progress("looking at the road", !options.quiet);
    notes = road_notes(scenario, wished_s(options, scenario), [&](double share) {
      progress.at(share);
      return !StopAsked::yes();
    });
  }
  if (StopAsked::yes()) {
    fmt::print(stderr, "leewheel: stopped; nothing was written\n");
    return exit_stopped;
  }
  if (!notes.found) {
    fmt::print(stderr, "leewheel: {}\n", notes.not_possible_s > 0.0 ? times_possible(notes) : notes.why_not);
    return exit_answer_no;
  }
  const std::vector<Note> all = all_notes(scenario, notes, options.units);
  const std::vector<Note> said = notes_in_time(all, notes, quickest(notes));
  const std::size_t strength = strength_of_captions(options, notes);
  WholeFiles files;
  if (!options.page.empty()) files.add(options.page, notes_html(scenario, notes, said, options.units));
  if (!options.captions.empty())
    files.add(options.captions,
              notes_captions(notes, notes_in_time(all, notes, strength, options.film_speed), strength, options.film_speed));
  files.appear();
  if (options.quiet) return exit_ok;
  if (options.json)
    fmt::print("{}\n", notes_json(scenario, notes, said, options.units));
  else
    fmt::print("{}", notes_text(scenario, notes, said, options.units));
  return exit_ok;
}

}  // namespace

Command add_notes_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command = app.add_subcommand("notes", "what to tell riders about a road before they ride up it");
  command->footer(examples);
  add_scenario(*command, options->path, "; with --road a road or a track")->required();
  command->add_option("--times", options->times, "wished times, such as 45:00,1:00:00");
  command->add_flag("--road", options->road, "the file is a road (YAML) or a recorded track (.gpx)");
  command->add_option("--wind-from", options->wind_from, "with --road: where the wind comes from: N, NNE, NE, ...")
      ->transform(one_of_any_case(words_of(compass_points)))
      ->capture_default_str();
  command->add_option("--wind-kmh", options->wind_kmh, "with --road: its speed at 10 m over open land")
      ->check(number_within(0, 150))
      ->capture_default_str();
  add_track_options(*command, options->track);
  command->add_option("-o,--out", options->page, "file for the page (HTML)");
  command->add_option("--captions", options->captions, "file for captions (WebVTT) of a film of the road or of the ride");
  command->add_option("--captions-for", options->captions_for, "the wished time of whom the film is [the middle one]");
  command->add_option("--film-speed", options->film_speed, "how many times as fast as the ride the film runs")
      ->check(number_within(0.1, 100))
      ->capture_default_str();
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print notes and their numbers as JSON");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  return [options] { return run(*options); };
}

}  // namespace leewheel
