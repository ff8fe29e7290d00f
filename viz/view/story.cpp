#include "viz/view/story.hpp"

#include <algorithm>

#include "words/give_and_take_words.hpp"

namespace leewheel::view {
namespace {

constexpr double same_moment_s = 0.05;  // stepping moves on from the moment one stands at

}  // namespace

std::string event_words(const Event& event, const TraceHead& head, Units units) {
  const NameOf name = [&head](std::uint32_t rider) -> const std::string& { return head.riders.at(rider).name; };
  return event_sentence(event, name, ShownUnits{units == Units::imperial});
}

std::optional<std::size_t> current_event(const std::vector<Event>& events, double time_s) {
  const auto after = std::ranges::upper_bound(events, time_s + same_moment_s, {}, &Event::time_s);
  if (after == events.begin()) return {};
  return static_cast<std::size_t>(after - events.begin()) - 1;
}

std::optional<std::size_t> next_event(const std::vector<Event>& events, double time_s) {
  const auto after = std::ranges::upper_bound(events, time_s + same_moment_s, {}, &Event::time_s);
  if (after == events.end()) return {};
  return static_cast<std::size_t>(after - events.begin());
}

std::optional<std::size_t> previous_event(const std::vector<Event>& events, double time_s) {
  const auto at = std::ranges::lower_bound(events, time_s - same_moment_s, {}, &Event::time_s);
  if (at == events.begin()) return {};
  return static_cast<std::size_t>(at - events.begin()) - 1;
}

std::vector<std::string> give_and_take_story(const TraceHead& head) {
  const auto name = [&](std::uint32_t rider) -> const std::string& { return head.riders[rider].name; };
  return give_and_take_lines(give_and_take(head.riders.size(), head.debts), name);
}

}  // namespace leewheel::view
