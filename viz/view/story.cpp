#include "viz/view/story.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "words/give_and_take_words.hpp"
#include "words/phrases.hpp"

namespace leewheel::view {
namespace {

constexpr double same_moment_s = 0.05;  // stepping moves on from the moment one stands at

/// Of a group's event every rider is a subject; of a decision the first is, and the second is whom it is about.
std::vector<std::uint32_t> subjects(const Event& event) {
  if (event_class(event.kind) != EventClass::decision || event.riders.size() < 2) return event.riders;
  return {event.riders.front()};
}

std::string names(const std::vector<std::uint32_t>& riders, const TraceHead& head) {
  constexpr std::size_t shown = 3;
  std::string text;
  for (std::size_t k = 0; k < std::min(shown, riders.size()); ++k) {
    const bool last = k + 1 == riders.size();
    text += (k == 0 ? "" : last ? " and " : ", ") + head.riders.at(riders[k]).name;
  }
  if (riders.size() > shown) text += fmt::format(" and {} more", riders.size() - shown);
  return text.empty() ? "The riders" : text;
}

/// A decision about another rider: "takes {other}'s wheel".
std::string with_other(std::string_view phrase, const std::string& other) {
  const std::size_t hole = phrase.find("{other}");
  return std::string(phrase.substr(0, hole)) + other + std::string(phrase.substr(hole + 7));
}

}  // namespace

EventClass event_class(EventKind kind) {
  if (kind == EventKind::caution) return EventClass::caution;
  if (kind == EventKind::finished) return EventClass::finish;
  return kind < EventKind::finished || kind == EventKind::regrouped || kind == EventKind::leaves ? EventClass::group
                                                                                                 : EventClass::decision;
}

std::string event_words(const Event& event, const TraceHead& head, Units units) {
  const std::string group =
      event.group >= 0 && event_class(event.kind) == EventClass::group ? fmt::format(" (group {})", event.group) : "";
  const NameOf name = [&head](std::uint32_t rider) -> const std::string& { return head.riders.at(rider).name; };
  const std::string cause = because_text(event.because, event.group, name, ShownUnits{units == Units::imperial});
  const auto who = subjects(event);
  const bool about = event_class(event.kind) == EventClass::decision && event.riders.size() > 1;
  const EventPhrase& phrase = event_phrase(event.kind);
  const std::string what = about && !phrase.about.empty() ? with_other(phrase.about, head.riders.at(event.riders[1]).name)
                                                          : std::string(who.size() != 1 ? phrase.many : phrase.one);
  return fmt::format("{} {}{} at {}: {}", names(who, head), what, group, place_text(event.distance_m, units), cause);
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
