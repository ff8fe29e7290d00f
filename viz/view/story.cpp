#include "viz/view/story.hpp"

#include <fmt/format.h>

#include <algorithm>

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

const char* verb(EventKind kind, bool many) {
  switch (kind) {
    case EventKind::formed: return many ? "come together" : "starts a group";
    case EventKind::joined: return many ? "join" : "joins";
    case EventKind::dropped: return many ? "are dropped" : "is dropped";
    case EventKind::pulled_away: return many ? "pull away" : "pulls away";
    case EventKind::split: return many ? "split off" : "splits off";
    case EventKind::merged: return many ? "merge" : "merges";
    case EventKind::finished: return many ? "are home" : "is home";
    case EventKind::regrouped: return many ? "are together again" : "is with the group again";
    case EventKind::caution: return many ? "come too close" : "takes care";
    case EventKind::follows: return "takes a wheel";
    case EventKind::lets_go: return "lets the wheel go";
    case EventKind::chases: return "chases";
    case EventKind::waits: return "waits";
    case EventKind::sits_in: return "sits in";
    case EventKind::takes_turn: return "takes a turn in front";
    case EventKind::ends_turn: return "ends the turn";
    case EventKind::skips_turn: return "skips the turn";
    case EventKind::eases: return "eases";
    case EventKind::goes_alone: return "goes on alone";
  }
  return "";
}

/// A decision about another rider, where the plain verb does not say it.
std::string decision_about(EventKind kind, const std::string& other) {
  switch (kind) {
    case EventKind::follows: return fmt::format("takes {}'s wheel", other);
    case EventKind::lets_go: return fmt::format("lets {}'s wheel go", other);
    case EventKind::chases: return fmt::format("chases {}", other);
    case EventKind::takes_turn: return fmt::format("takes the front from {}", other);
    case EventKind::skips_turn: return fmt::format("skips the turn after {}", other);
    case EventKind::goes_alone: return fmt::format("goes on without {}", other);
    case EventKind::eases: return fmt::format("eases for {}", other);
    default: return verb(kind, false);
  }
}

}  // namespace

EventClass event_class(EventKind kind) {
  if (kind == EventKind::caution) return EventClass::caution;
  if (kind == EventKind::finished) return EventClass::finish;
  return kind < EventKind::finished || kind == EventKind::regrouped ? EventClass::group : EventClass::decision;
}

std::string event_words(const Event& event, const TraceHead& head, Units units) {
  const std::string group =
      event.group >= 0 && event_class(event.kind) == EventClass::group ? fmt::format(" (group {})", event.group) : "";
  const std::string cause = event.cause.empty() ? "" : ": " + event.cause;
  const auto who = subjects(event);
  const bool about = event_class(event.kind) == EventClass::decision && event.riders.size() > 1;
  const std::string what =
      about ? decision_about(event.kind, head.riders.at(event.riders[1]).name) : verb(event.kind, who.size() != 1);
  return fmt::format("{} {}{} at {}{}", names(who, head), what, group, place_text(event.distance_m, units), cause);
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

}  // namespace leewheel::view
