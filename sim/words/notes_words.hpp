#pragma once
/// Road notes as sentences to be read aloud on the way up. Each rests on numbers that stand beside it, is left out where
/// they are too small to matter, and fits into the time the quickest rider takes for the road it speaks of.

#include <string>
#include <utility>
#include <vector>

#include "leewheel/road_notes.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// What a note is about, the most important first: where there is no time for all, the last fall away.
enum class NoteAbout { walk, room, effort, wheel, water, road, recover, left, decide, settle, splits };
inline constexpr const char* note_about_names[] = {"walk",    "room", "effort", "wheel",  "water", "road",
                                                   "recover", "left", "decide", "settle", "splits"};

struct Note {
  NoteAbout about;
  std::size_t stretch;
  std::string text;
  std::vector<std::pair<std::string, double>> numbers;  ///< by name with unit, in SI
  double at_m = 0.0;  ///< the place it speaks of; where it speaks of a stretch as a whole, its beginning
};

inline constexpr double words_a_second = 2.5;  // read aloud, a number counted as two words (common practice, no source)
double speaking_s(const std::string& text);

/// All that is worth saying, by stretch, in the order in which it is said.
std::vector<Note> all_notes(const Scenario& scenario, const RoadNotes& notes, const ShownUnits& units = {});

/// Those for which there is time on each stretch, for a rider of that strength in a film that runs so many times as fast.
std::vector<Note> notes_in_time(const std::vector<Note>& all, const RoadNotes& notes, std::size_t strength,
                                double film_speed = 1.0);

/// When a note is said to a rider of that strength, in a film that runs so many times as fast.
struct NoteTime {
  std::size_t note;  ///< of those said
  double from_s, to_s;
};
/// One after the other, within their stretch, in the order of their places. Said by the time the rider gets to its place; where one
/// recovers it begins there. As near to that as the others of the stretch let it.
std::vector<NoteTime> note_times(const std::vector<Note>& said, const RoadNotes& notes, std::size_t strength,
                                 double film_speed);

/// What is said before the start: the road, and the average power that each wished time asks.
std::vector<std::string> notes_before(const Scenario& scenario, const RoadNotes& notes, const ShownUnits& units = {});
/// Why there are no notes for a wished time, and which times are possible.
std::string times_possible(const RoadNotes& notes);
/// What another wind would change, and of whom the page speaks.
std::vector<std::string> notes_after(const RoadNotes& notes);

}  // namespace leewheel
