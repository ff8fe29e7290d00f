/// When notes are said in a film.

#include <algorithm>

#include "words/notes_words.hpp"

namespace leewheel {

namespace {

double time_at(const Coming& way, double at_m) {
  const auto next = std::lower_bound(way.distance_m.begin(), way.distance_m.end(), at_m);
  if (next == way.distance_m.begin()) return way.time_s.front();
  if (next == way.distance_m.end()) return way.time_s.back();
  const auto k = static_cast<std::size_t>(next - way.distance_m.begin());
  const double share = (at_m - way.distance_m[k - 1]) / (way.distance_m[k] - way.distance_m[k - 1]);
  return way.time_s[k - 1] + share * (way.time_s[k] - way.time_s[k - 1]);
}

}  // namespace

std::vector<NoteTime> note_times(const std::vector<Note>& said, const RoadNotes& notes, std::size_t strength,
                                 double film_speed) {
  const NotesStrength& rider = notes.strengths[strength];
  std::vector<NoteTime> times;
  for (std::size_t n = 0; n < said.size(); ++n) times.push_back({n, 0.0, 0.0});
  std::stable_sort(times.begin(), times.end(), [&](const NoteTime& a, const NoteTime& b) {
    const Note &one = said[a.note], &other = said[b.note];
    return one.stretch != other.stretch ? one.stretch < other.stretch : one.at_m < other.at_m;
  });
  const auto speaking = [&](const NoteTime& time) { return speaking_s(said[time.note].text); };
  // From the last to the first: the latest end that leaves time for those behind it.
  double latest_s = 0.0;
  for (std::size_t n = times.size(); n-- > 0;) {
    const std::size_t k = said[times[n].note].stretch;
    if (n + 1 == times.size() || said[times[n + 1].note].stretch != k) latest_s = rider.arrive_s[k] / film_speed;
    times[n].to_s = latest_s;
    latest_s -= speaking(times[n]);
  }
  double said_s = 0.0;
  for (NoteTime& time : times) {
    const Note& note = said[time.note];
    const double there_s = time_at(rider.way, note.at_m) / film_speed, speaks_s = speaking(time);
    const double begin_s = (note.stretch == 0 ? 0.0 : rider.arrive_s[note.stretch - 1]) / film_speed;
    const double wanted_s = note.about == NoteAbout::recover ? there_s : there_s - speaks_s;
    time.from_s = std::min(std::max({wanted_s, begin_s, said_s}), time.to_s - speaks_s);
    time.to_s = said_s = time.from_s + speaks_s;
  }
  return times;
}

}  // namespace leewheel
