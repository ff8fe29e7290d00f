/// Walking, descents, wheels and water in road notes.

#include <algorithm>
#include <cctype>
#include <cmath>

#include "leewheel/wheel_worth.hpp"
#include "words/notes_teller.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

constexpr double steep_grade = 0.05;      // too steep and slow for a wheel (assumed)
constexpr double wind_felt_mps = 1.0;     // (assumed)
constexpr double descent_told_m = 200.0;  // within a stretch that is none itself (assumed)

/// Whether a wheel is worth holding there.
bool wheel_pays(const NotesStretch& s) {
  return s.wheel_saves_percent >= least_worth_percent && s.wheel_saves_W >= least_worth_W;
}

std::string why_it_pays(const Teller& t, const NotesStretch& s) {
  if (s.headwind_mps >= wind_felt_mps) return fmt::format("headwind {}, ", t.speed(s.headwind_mps));
  if (s.crosswind_mps >= 2.0 * wind_felt_mps) return fmt::format("wind across {}, ", t.speed(s.crosswind_mps));
  return "";
}

/// The last stretch before k that is no descent; k itself where there is none.
std::size_t before_it(const RoadNotes& notes, std::size_t k) {
  for (std::size_t before = k; before-- > 0;)
    if (!notes.stretches[before].descent()) return before;
  return k;
}

}  // namespace

void add_wheel(const Teller& t, std::size_t k, std::vector<Note>& to) {
  const NotesStretch& s = t.notes.stretches[k];
  if (s.descent()) return;
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
  if (const std::size_t before = before_it(t.notes, k); before < k && !wheel_pays(t.notes.stretches[before])) return;
  const std::string why = s.grade >= steep_grade ? "Too steep and slow"
                          : s.headwind_mps <= -wind_felt_mps
                              ? fmt::format("The wind pushes with {}", t.speed(-s.headwind_mps))
                              : std::string("Too slow");
  to.push_back({NoteAbout::wheel, k,
                fmt::format("{}: a wheel saves {}, do not chase one.", why,
                            std::lround(s.wheel_saves_W) == 0 ? std::string("nothing") : "only " + saves),
                numbers});
}

void add_room(const Teller& t, std::size_t k, std::vector<Note>& to) {
  const NotesStretch& s = t.notes.stretches[k];
  const std::string leave_room = "leave room, brake before the bends, no one holds a wheel.";
  if (s.descent())
    to.push_back(
        {NoteAbout::room,
         k,
         fmt::format("{} at {}: {}", s.grade < descent_below_grade ? "Downhill" : "Fast", t.speed(s.speed_mps), leave_room),
         {{"speed_mps", s.speed_mps}, {"grade", s.grade}}});
  else if (s.falls_m >= descent_told_m)
    to.push_back({NoteAbout::room,
                  k,
                  fmt::format("Downhill from {} for {}: {}", t.at_km(s.falls_from_m), t.km(s.falls_m), leave_room),
                  {{"from_m", s.falls_from_m}, {"length_m", s.falls_m}}});
}

void add_walks(const Teller& t, std::size_t k, std::vector<Note>& to) {
  const NotesStretch& s = t.notes.stretches[k];
  std::vector<std::string> who;
  const LowGearRamp* steepest = nullptr;
  for (const NotesStrength& strength : t.notes.strengths) {
    bool walks = false;
    for (const LowGearRamp& ramp : strength.walks) {
      if (ramp.from_m < s.where.from_m || ramp.from_m >= s.where.to_m) continue;
      walks = true;
      if (!steepest || ramp.to_m - ramp.from_m > steepest->to_m - steepest->from_m) steepest = &ramp;
    }
    if (walks) who.push_back(clock_text(strength.wished_s));
  }
  if (!steepest) return;
  const bool all = who.size() == t.notes.strengths.size();
  to.push_back({NoteAbout::walk,
                k,
                fmt::format("{} from {}, {:.0f} {} at {:.0f} %: the lowest gear turns only {:.0f} times a minute.",
                            all ? "Plan to walk" : fmt::format("For {} plan to walk", enumerated(who)),
                            t.at_km(steepest->from_m), t.units.height(steepest->to_m - steepest->from_m),
                            t.units.height_name(), 100.0 * steepest->grade, steepest->cadence_rpm),
                {{"from_m", steepest->from_m},
                 {"to_m", steepest->to_m},
                 {"grade", steepest->grade},
                 {"cadence_rpm", steepest->cadence_rpm}}});
}

void add_water(const Teller& t, std::size_t k, std::vector<Note>& to) {
  const NotesStretch& s = t.notes.stretches[k];
  for (const Landmark& mark : t.scenario.road.landmarks())
    if (mark.water && mark.distance_m > s.where.from_m && mark.distance_m <= s.where.to_m)
      to.push_back({NoteAbout::water,
                    k,
                    fmt::format("Water at {}, {}.", mark.name, t.at_km(mark.distance_m)),
                    {{"at_m", mark.distance_m}}});
}

}  // namespace leewheel
