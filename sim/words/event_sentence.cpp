#include "words/event_sentence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

namespace leewheel {
namespace {

/// Of a group's event every rider is a subject; of a decision the first is, and the second is whom it is about.
std::vector<std::uint32_t> subjects(const Event& event) {
  if (event_class(event.kind) != EventClass::decision || event.riders.size() < 2) return event.riders;
  return {event.riders.front()};
}

std::string names(const std::vector<std::uint32_t>& riders, const NameOf& name) {
  constexpr std::size_t shown = 3;
  std::string text;
  for (std::size_t k = 0; k < std::min(shown, riders.size()); ++k) {
    const bool last = k + 1 == riders.size();
    text += (k == 0 ? "" : last ? " and " : ", ") + name(riders[k]);
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

std::string event_sentence(const Event& event, const NameOf& name, const ShownUnits& units) {
  const std::string group =
      event.group >= 0 && event_class(event.kind) == EventClass::group ? fmt::format(" (group {})", event.group) : "";
  const std::string cause = because_text(event.because, event.group, name, units);
  const auto who = subjects(event);
  const bool about = event_class(event.kind) == EventClass::decision && event.riders.size() > 1;
  const EventPhrase& phrase = event_phrase(event);
  const std::string what = about && !phrase.about.empty() ? with_other(phrase.about, name(event.riders[1]))
                                                          : std::string(who.size() != 1 ? phrase.many : phrase.one);
  return fmt::format("{} {}{} at {:.2f} {}: {}", names(who, name), what, group, units.way(event.distance_m),
                     units.way_name(), cause);
}

}  // namespace leewheel
