#include "words/notes_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "leewheel/wheel_worth.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

constexpr double even_share = 0.015;    // of the average effort: not worth another word (assumed)
constexpr double steep_grade = 0.05;    // too steep and slow for a wheel (assumed)
constexpr double steeper_share = 1.25;  // of the mean grade, from which the steepest part is worth telling (assumed)
constexpr double wind_felt_mps = 1.0;   // (assumed)
constexpr double spent_share = 0.02;    // of W', from which what is left is worth telling (assumed)

struct Teller {
  const Scenario& scenario;
  const RoadNotes& notes;
  const ShownUnits& units;
  std::string km(double m) const { return fmt::format("{:.1f} {}", units.way(m), units.way_name()); }
  std::string at_km(double m) const { return fmt::format("{} {:.1f}", units.way_name(), units.way(m)); }
  std::string speed(double mps) const { return fmt::format("{:.0f} {}", units.speed(mps), units.speed_name()); }
};

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

/// Whether a wheel is worth holding there.
bool wheel_pays(const NotesStretch& s) {
  return s.wheel_saves_percent >= least_worth_percent && s.wheel_saves_W >= least_worth_W;
}

std::string why_it_pays(const Teller& t, const NotesStretch& s) {
  if (s.headwind_mps >= wind_felt_mps) return fmt::format("headwind {}, ", t.speed(s.headwind_mps));
  if (s.crosswind_mps >= 2.0 * wind_felt_mps) return fmt::format("wind across {}, ", t.speed(s.crosswind_mps));
  return "";
}

/// Said where it pays, and where it stops paying.
void add_wheel(const Teller& t, std::size_t k, std::vector<Note>& to) {
  const NotesStretch& s = t.notes.stretches[k];
  const auto saves = fmt::format("{:.0f} W", s.wheel_saves_W);
  const std::vector<std::pair<std::string, double>> numbers{{"wheel_saves_W", s.wheel_saves_W},
                                                            {"wheel_saves_percent", s.wheel_saves_percent},
                                                            {"headwind_mps", s.headwind_mps},
                                                            {"crosswind_mps", s.crosswind_mps}};
  if (wheel_pays(s)) {
    std::string why = why_it_pays(t, s);
    if (!why.empty()) why[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(why[0])));
    to.push_back({NoteAbout::wheel, k,
                  why + (why.empty() ? "Look" : "look") +
                      fmt::format(" for a wheel: it saves {}, {:.0f} %.", saves, s.wheel_saves_percent),
                  numbers});
    return;
  }
  if (k > 0 && !wheel_pays(t.notes.stretches[k - 1])) return;
  const std::string why = s.grade >= steep_grade ? "Too steep and slow"
                          : s.headwind_mps <= -wind_felt_mps
                              ? fmt::format("The wind pushes with {}", t.speed(-s.headwind_mps))
                              : std::string("Too slow");
  to.push_back({NoteAbout::wheel, k,
                fmt::format("{}: a wheel saves {}, do not chase one.", why,
                            std::lround(s.wheel_saves_W) == 0 ? std::string("nothing") : "only " + saves),
                numbers});
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

void add_recoveries(const Teller& t, std::size_t k, std::vector<Note>& to) {
  const NotesStretch& s = t.notes.stretches[k];
  for (const Recovery& r : t.notes.pacing.recoveries) {
    if (r.from_m < s.where.from_m || r.from_m >= s.where.to_m) continue;
    to.push_back({NoteAbout::recover,
                  k,
                  fmt::format("You recover from {} on, {}, for {}: ease, drink, eat.", t.at_km(r.from_m),
                              r.easing == Easing::dip    ? "downhill"
                              : r.easing == Easing::flat ? "on the flat"
                                                         : "in the lee",
                              clock_text(r.time_s)),
                  {{"from_m", r.from_m}, {"time_s", r.time_s}, {"regained_J", r.regained_J}}});
  }
}

void add_decide(const Teller& t, std::size_t k, std::vector<Note>& to) {
  const Pacing& p = t.notes.pacing;
  const NotesStretch& s = t.notes.stretches[k];
  if (p.decide_at_m <= s.where.from_m || p.decide_at_m > s.where.to_m) return;
  const double more = p.good_day.change_W / p.mean_power_W, less = -p.bad_day.change_W / p.mean_power_W;
  if (more < 0.005 && less < 0.005) return;
  const bool at_end = p.decide_at_m == s.where.to_m;
  to.push_back({NoteAbout::decide,
                k,
                fmt::format("Judge the day at {}: {} more if it feels easy, {} less if it does not.",
                            at_end ? s.where.to : t.at_km(p.decide_at_m), percent_text(std::max(0.0, more)),
                            percent_text(std::max(0.0, less))),
                {{"decide_at_m", p.decide_at_m}, {"more_share", more}, {"less_share", less}}});
}

void add_left(const Teller& t, std::size_t k, std::vector<Note>& to) {
  const NotesStretch& s = t.notes.stretches[k];
  if (k + 1 == t.notes.stretches.size()) return;
  const double before = k == 0 ? 1.0 : t.notes.stretches[k - 1].wbal_share;
  std::string text =
      fmt::format("At {} {} are left, about {} of riding", s.where.to, t.km(t.scenario.road.length_m() - s.where.to_m),
                  minutes_text(60.0 * std::round(s.left_s / 60.0)));
  if (std::abs(before - s.wbal_share) >= spent_share)
    text += fmt::format(", and {} of what you have above critical power", percent_text(s.wbal_share));
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
    all.push_back(effort_note(t, k));
    if (k == 0) add_settle(t, all);
    add_wheel(t, k, all);
    add_recoveries(t, k, all);
    add_decide(t, k, all);
    if (k + 1 < notes.stretches.size()) all.push_back(splits_note(t, k));  // at the finish it is the wished time
    add_left(t, k, all);
  }
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
