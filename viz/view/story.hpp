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
/// Who carried whom over the whole ride, in at most three lines; none when the trace does not tell.
std::vector<std::string> give_and_take_story(const TraceHead& head);
/// Index of the last event at or before the time; nothing before the first.
std::optional<std::size_t> current_event(const std::vector<Event>& events, double time_s);
std::optional<std::size_t> next_event(const std::vector<Event>& events, double time_s);
std::optional<std::size_t> previous_event(const std::vector<Event>& events, double time_s);

}  // namespace leewheel::view
