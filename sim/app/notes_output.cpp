#include "app/notes_output.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "leewheel/heat.hpp"
#include "leewheel/units.hpp"
#include "words/cautions.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

std::string caption_time(double time_s) {
  const long ms = std::lround(1000.0 * time_s);
  return fmt::format("{:02}:{:02}:{:02}.{:03}", ms / 3'600'000, ms / 60'000 % 60, ms / 1000 % 60, ms % 1000);
}

/// What the sentences before the start rest on.
void add_day(Json& out, const Scenario& scenario, const RoadNotes& notes) {
  for (const ForecastPoint& at : scenario.wind.forecast)
    out["forecast"].push_back({{"time_s", json_number(at.time_s, 1)},
                               {"speed_mps", json_number(at.speed_mps, 2)},
                               {"from_deg", json_number(deg_from_rad(at.from_rad), 1)}});
  double felt_C = scenario.air.temperature_C;
  for (const NotesStretch& s : notes.stretches) felt_C = std::max(felt_C, s.felt_C);
  out["felt_C"] = json_number(felt_C, 1);
  if (scenario.heat.on) out["heat_loss_share"] = json_number(heat_loss_share(felt_C, scenario.heat.acclimatised), 3);
  if (!notes.quickest.empty())
    out["quickest_alone"] = {{"name", notes.quickest}, {"time_s", json_number(notes.quickest_s, 1)}};
}

}  // namespace

std::string notes_text(const Scenario& scenario, const RoadNotes& notes, const std::vector<Note>& said,
                       const ShownUnits& units) {
  constexpr std::size_t columns = 100;
  std::string text = "Road notes: " + scenario.title + "\n\n";
  for (const std::string& line : notes_before(scenario, notes, units)) text += wrapped("", line, columns);
  for (std::size_t k = 0; k < notes.stretches.size(); ++k) {
    text += "\n";
    for (const Note& note : said)
      if (note.stretch == k) text += wrapped(note.about == NoteAbout::road ? "" : "  ", note.text, columns);
  }
  text += "\n";
  for (const std::string& line : notes_after(notes)) text += wrapped("", line, columns);
  return text + "\n" + planning_cautions;
}

std::string notes_captions(const RoadNotes& notes, const std::vector<Note>& said, std::size_t strength, double film_speed) {
  std::string text = "WEBVTT\n";
  for (const NoteTime& time : note_times(said, notes, strength, film_speed))
    text += fmt::format("\n{} --> {}\n{}\n", caption_time(time.from_s), caption_time(time.to_s), said[time.note].text);
  return text;
}

std::string notes_json(const Scenario& scenario, const RoadNotes& notes, const std::vector<Note>& said,
                       const ShownUnits& units) {
  Json out{{"layout_version", json_layout::notes},
           {"title", scenario.title},
           {"mass_kg", json_number(notes.mass_kg, 1)},
           {"wheel_gap_m", notes.wheel_gap_m}};
  for (const NotesStrength& s : notes.strengths)
    out["strengths"].push_back({{"wished_s", s.wished_s},
                                {"time_s", json_number(s.time_s, 1)},
                                {"critical_power_W", json_number(s.critical_power_W, 1)},
                                {"mean_power_W", json_number(s.mean_power_W, 1)}});
  out["said_of_s"] = notes.strengths[notes.middle].wished_s;
  out["before"] = notes_before(scenario, notes, units);
  add_day(out, scenario, notes);
  for (const Note& note : said) {
    const NotesStretch& s = notes.stretches[note.stretch];
    Json numbers = Json::object();
    for (const auto& [name, value] : note.numbers) numbers[name] = json_number(value, 3);
    out["notes"].push_back({{"about", note_about_names[static_cast<std::size_t>(note.about)]},
                            {"from_m", json_number(s.where.from_m, 1)},
                            {"to_m", json_number(s.where.to_m, 1)},
                            {"at_m", json_number(note.at_m, 1)},
                            {"text", note.text},
                            {"speaking_s", json_number(speaking_s(note.text), 1)},
                            {"numbers", numbers}});
  }
  constexpr const char* winds[] = {"none", "half_more", "turned_round"};
  out["other_winds"] = Json::array();
  for (const NotesWind& wind : notes.winds)
    out["other_winds"].push_back({{"wind", winds[static_cast<std::size_t>(wind.kind)]},
                                  {"later_s", json_number(wind.later_s, 1)},
                                  {"best_from", notes.stretches[wind.best_stretch].where.from},
                                  {"wheel_saves_W", json_number(wind.wheel_saves_W, 1)}});
  out["after"] = notes_after(notes);
  out["cautions"] = planning_cautions;
  return json_text(out);
}

}  // namespace leewheel
