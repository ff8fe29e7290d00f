#pragma once
/// Events as sentences, and stepping between them.

#include <optional>
#include <string>
#include <vector>

#include "io/trace_file.hpp"
#include "viz/view/text.hpp"
#include "words/event_sentence.hpp"

namespace leewheel::view {

std::string event_words(const Event& event, const TraceHead& head,
                        Units units);  ///< "Fenn lets go of the wheel at 6.21 km: ..."

/// One line of the story: an event, or several turns folded into one.
struct StoryLine {
  double from_s, to_s;  ///< the same, but for folded turns
  EventClass kind;
  bool heavy;  ///< splits, merges, waits and finishes: what the timeline marks heavily
  bool parts;  ///< riders part: films slow down here
  std::string words;
  std::string caption;  ///< as under a film; empty: none
};
/// A turn is one line, who takes over from whom; three or more with nothing between them are one line together.
std::vector<StoryLine> story_lines(const TraceHead& head, Units units);
/// Index of the last line that has begun; nothing before the first.
std::optional<std::size_t> current_line(const std::vector<StoryLine>& lines, double time_s);

inline constexpr double caption_stays_s = 5.0;  ///< of a person's time
/// The newest caption that still stands at that moment of the ride, played at that speed; "" when there is none.
std::string caption_at(const std::vector<StoryLine>& lines, double time_s, double speed);

/// Moments of the pictures of a film, so many a second. Where riders part it runs at a quarter of the speed, from one second
/// before to three seconds after, but not again within four seconds; at 1x or slower its speed stays.
std::vector<double> film_times(const std::vector<StoryLine>& lines, double from_s, double to_s, double speed,
                               double pictures_per_s);

/// Who carried whom over the whole ride, in at most three lines; none when the trace does not tell.
std::vector<std::string> give_and_take_story(const TraceHead& head);
/// Index of the last event at or before the time; nothing before the first.
std::optional<std::size_t> current_event(const std::vector<Event>& events, double time_s);
std::optional<std::size_t> next_event(const std::vector<Event>& events, double time_s);
std::optional<std::size_t> previous_event(const std::vector<Event>& events, double time_s);

}  // namespace leewheel::view
