#include "words/notes_teller.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <utility>

#include "words/plain_text.hpp"

namespace leewheel {

namespace {

constexpr double even_share = 0.015;      // of the average effort: not worth another word (assumed)
constexpr double steeper_share = 1.25;    // of the mean grade, from which the steepest part is worth telling (assumed)
constexpr double recovery_told_s = 60.0;  // shorter ones are no time to ease, drink and eat (assumed)
constexpr double spent_share = 0.02;      // of W', from which what is left is worth telling (assumed)

std::string percent_text(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

/// "225 W for 45:00, 180 W for 1:00:00", by stretch.
std::string watts_for_each(const RoadNotes& notes, std::size_t k) {
  std::vector<std::string> parts;
  for (const NotesStrength& s : notes.strengths)
    parts.push_back(fmt::format("{:.0f} W for {}", s.power_W[k], clock_text(s.wished_s)));
  return fmt::format("{}", fmt::join(parts, ", "));
}

Note road_note(const Teller& t, std::size_t k) {
  const NotesStretch& s = t.notes.stretches[k];
  const double length_m = s.where.to_m - s.where.from_m;
  std::string text = fmt::format("{} to {}: {} at {:.1f} %", s.where.from, s.where.to, t.km(length_m), 100.0 * s.grade);
  if (s.steepest_grade > std::max(0.02, steeper_share * s.grade))
    text += fmt::format(", steepest {:.0f} % from {}", 100.0 * s.steepest_grade, t.at_km(s.steepest_at_m));
  text += s.open_share > 0.5 ? ", mostly open." : ".";
  text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return {NoteAbout::road,
          k,
          text,
          {{"length_m", length_m},
           {"grade", s.grade},
           {"steepest_grade", s.steepest_grade},
           {"steepest_at_m", s.steepest_at_m},
           {"open_share", s.open_share}}};
}

Note effort_note(const Teller& t, std::size_t k) {
  const NotesStretch& s = t.notes.stretches[k];
  const bool even = std::abs(s.effort_share - 1.0) < even_share;
  Note note{
      NoteAbout::effort,
      k,
      even ? fmt::format("Ride your average effort, {}.", watts_for_each(t.notes, k))
           : fmt::format("Ride {} of your average effort, {}.", percent_text(s.effort_share), watts_for_each(t.notes, k)),
      {{"effort_share", s.effort_share}}};
  for (const NotesStrength& strength : t.notes.strengths)
    note.numbers.emplace_back(fmt::format("power_for_{:.0f}s_W", strength.wished_s), strength.power_W[k]);
  return note;
}

/// The start: no harder than the plan, and when the heart rate has come up.
void add_settle(const Teller& t, std::vector<Note>& to) {
  for (const HeartRise& rise : t.notes.pacing.heart)
    if (rise.share >= 0.85) {
      to.push_back({NoteAbout::settle,
                    0,
                    fmt::format("Settle here: let the heart rate come up, it takes about {} to be nearly there.",
                                minutes_text(rise.time_s)),
                    {{"heart_rise_s", rise.time_s}, {"heart_rise_share", rise.share}}});
      return;
    }
}

Note recovery_note(const Teller& t, std::size_t k, const Recovery& r) {
  return {NoteAbout::recover,
          k,
          fmt::format("You recover from {} on, {}, for {}: ease, drink, eat.", t.at_km(r.from_m),
                      r.easing == Easing::dip    ? "downhill"
                      : r.easing == Easing::flat ? "on the flat"
                                                 : "in the lee",
                      clock_text(r.time_s)),
          {{"from_m", r.from_m}, {"time_s", r.time_s}, {"regained_J", r.regained_J}}};
}

/// Nothing where the day changes nothing.
std::optional<Note> decide_note(const Teller& t, std::size_t k) {
  const Pacing& p = t.notes.pacing;
  const NotesStretch& s = t.notes.stretches[k];
  if (p.decide_at_m <= s.where.from_m || p.decide_at_m > s.where.to_m) return {};
  const double more = p.good_day.change_W / p.mean_power_W, less = -p.bad_day.change_W / p.mean_power_W;
  if (more < 0.005 && less < 0.005) return {};
  const bool at_end = p.decide_at_m == s.where.to_m;
  return Note{NoteAbout::decide,
              k,
              fmt::format("Judge the day at {}: {} more if it feels easy, {} less if it does not.",
                          at_end ? s.where.to : t.at_km(p.decide_at_m), percent_text(std::max(0.0, more)),
                          percent_text(std::max(0.0, less))),
              {{"decide_at_m", p.decide_at_m}, {"more_share", more}, {"less_share", less}}};
}

/// Where strength comes back and where the day is judged, in the order of the road.
void add_on_the_way(const Teller& t, std::size_t k, std::vector<Note>& to) {
  const NotesStretch& s = t.notes.stretches[k];
  std::optional<Note> decide = decide_note(t, k);
  for (const Recovery& r : t.notes.pacing.recoveries) {
    if (r.from_m < s.where.from_m || r.from_m >= s.where.to_m || r.time_s < recovery_told_s) continue;
    if (decide && t.notes.pacing.decide_at_m < r.from_m) to.push_back(*std::exchange(decide, std::nullopt));
    to.push_back(recovery_note(t, k, r));
  }
  if (decide) to.push_back(*decide);
}

void add_left(const Teller& t, std::size_t k, std::vector<Note>& to) {
  const NotesStretch& s = t.notes.stretches[k];
  if (k + 1 == t.notes.stretches.size()) return;
  const double before = k == 0 ? 1.0 : t.notes.stretches[k - 1].wbal_share;
  constexpr double hours_from_s = 5400.0;
  std::string text = fmt::format(
      "At {} {} are left, about {} of riding", s.where.to, t.km(t.scenario.road.length_m() - s.where.to_m),
      s.left_s < hours_from_s ? minutes_text(60.0 * std::round(s.left_s / 60.0)) : hours_minutes_text(s.left_s) + " h");
  if (std::abs(before - s.wbal_share) >= spent_share)
    text += fmt::format(", and {} of your reserve for hard efforts", percent_text(s.wbal_share));
  to.push_back(
      {NoteAbout::left,
       k,
       text + ".",
       {{"left_m", t.scenario.road.length_m() - s.where.to_m}, {"left_s", s.left_s}, {"wbal_share", s.wbal_share}}});
}

Note splits_note(const Teller& t, std::size_t k) {
  std::vector<std::string> parts;
  Note note{NoteAbout::splits, k, "", {}};
  for (const NotesStrength& s : t.notes.strengths) {
    parts.push_back(fmt::format("{} for {}", clock_text(s.arrive_s[k]), clock_text(s.wished_s)));
    note.numbers.emplace_back(fmt::format("arrive_for_{:.0f}s_s", s.wished_s), s.arrive_s[k]);
  }
  note.text = fmt::format("{}: {}.", t.notes.stretches[k].where.to, fmt::join(parts, ", "));
  note.text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(note.text[0])));
  return note;
}

/// The place in its numbers, or an end of the stretch.
double place_of(const RoadNotes& notes, const Note& note) {
  for (const auto& [name, value] : note.numbers)
    if (name == "from_m" || name == "at_m" || name == "decide_at_m") return value;
  const RoadStretch& where = notes.stretches[note.stretch].where;
  return note.about == NoteAbout::left || note.about == NoteAbout::splits ? where.to_m : where.from_m;
}

}  // namespace

double speaking_s(const std::string& text) {
  double words = 0.0;
  bool in_word = false;
  for (const char c : text) {
    const bool letter = !std::isspace(static_cast<unsigned char>(c));
    if (letter && !in_word) words += std::isdigit(static_cast<unsigned char>(c)) ? 2.0 : 1.0;
    in_word = letter;
  }
  return words / words_a_second;
}

std::vector<Note> all_notes(const Scenario& scenario, const RoadNotes& notes, const ShownUnits& units) {
  const Teller t{scenario, notes, units};
  std::vector<Note> all;
  for (std::size_t k = 0; k < notes.stretches.size(); ++k) {
    all.push_back(road_note(t, k));
    add_walks(t, k, all);
    all.push_back(effort_note(t, k));
    if (k == 0) add_settle(t, all);
    add_room(t, k, all);
    add_wheel(t, k, all);
    add_on_the_way(t, k, all);
    add_water(t, k, all);
    if (k + 1 < notes.stretches.size()) all.push_back(splits_note(t, k));  // at the finish it is the wished time
    add_left(t, k, all);
  }
  for (Note& note : all) note.at_m = place_of(notes, note);
  return all;
}

std::vector<Note> notes_in_time(const std::vector<Note>& all, const RoadNotes& notes, std::size_t strength,
                                double film_speed) {
  const NotesStrength& rider = notes.strengths[strength];
  std::vector<bool> said(all.size(), false);
  for (std::size_t k = 0; k < notes.stretches.size(); ++k) {
    double left_s = (rider.arrive_s[k] - (k == 0 ? 0.0 : rider.arrive_s[k - 1])) / film_speed;
    for (int about = 0; about <= static_cast<int>(NoteAbout::splits); ++about)
      for (std::size_t n = 0; n < all.size(); ++n) {
        if (all[n].stretch != k || static_cast<int>(all[n].about) != about || speaking_s(all[n].text) > left_s) continue;
        said[n] = true;
        left_s -= speaking_s(all[n].text);
      }
  }
  std::vector<Note> in_time;
  for (std::size_t n = 0; n < all.size(); ++n)
    if (said[n]) in_time.push_back(all[n]);
  return in_time;
}

}  // namespace leewheel
