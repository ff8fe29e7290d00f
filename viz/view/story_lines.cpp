/// The story of a ride as lines for a person: turns in one line each, runs of turns folded, captions, and the pace of a film.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/view/story.hpp"
#include "words/event_caption.hpp"
#include "words/plain_text.hpp"

namespace leewheel::view {
namespace {

constexpr double same_moment_s = 0.05;
constexpr std::size_t fold_from = 3;  // turns in a row

bool parts_riders(EventKind kind) {
  return kind == EventKind::dropped || kind == EventKind::pulled_away || kind == EventKind::split;
}

bool heavy(EventKind kind) {
  return parts_riders(kind) || kind == EventKind::joined || kind == EventKind::merged || kind == EventKind::waits ||
         kind == EventKind::regrouped || kind == EventKind::leaves || kind == EventKind::finished;
}

bool takeover(const Event& e) { return e.kind == EventKind::takes_turn && e.riders.size() > 1; }

bool about_turns(EventKind kind) {
  return kind == EventKind::takes_turn || kind == EventKind::ends_turn || kind == EventKind::skips_turn ||
         kind == EventKind::sits_in;
}

/// A turn that ends for the one who takes over in the same moment is told by the other's line.
bool told_by_takeover(const std::vector<Event>& events, std::size_t k) {
  const Event& e = events[k];
  if (e.kind != EventKind::ends_turn || e.riders.size() < 2) return false;
  for (std::size_t l = k + 1; l < events.size() && events[l].time_s <= e.time_s + same_moment_s; ++l)
    if (takeover(events[l]) && events[l].riders[0] == e.riders[1] && events[l].riders[1] == e.riders[0]) return true;
  return false;
}

/// The takeovers of one group that follow one another from here on; ends of turns and who sits in lie between them.
std::vector<std::size_t> turns_from(const std::vector<Event>& events, std::size_t k) {
  std::vector<std::size_t> turns;
  for (std::size_t l = k; l < events.size(); ++l) {
    if (events[l].group == events[k].group && about_turns(events[l].kind) && !takeover(events[l])) continue;
    if (!takeover(events[l]) || events[l].group != events[k].group) break;
    turns.push_back(l);
  }
  return turns;
}

std::string takeover_words(const Event& e, const NameOf& name, Units units) {
  return fmt::format("{} takes over from {} at {}: {}", name(e.riders[0]), name(e.riders[1]),
                     place_text(e.distance_m, units),
                     because_text(e.because, e.group, name, ShownUnits{units == Units::imperial}));
}

StoryLine folded(const std::vector<Event>& events, const std::vector<std::size_t>& turns, const NameOf& name, Units units) {
  std::vector<std::string> names;
  for (const std::size_t t : turns) names.push_back(name(events[t].riders[0]));
  const Event &first = events[turns.front()], &last = events[turns.back()];
  return {first.time_s,
          last.time_s,
          EventClass::decision,
          false,
          false,
          fmt::format("{} turns from {} to {}: {}", turns.size(), place_text(first.distance_m, units),
                      place_text(last.distance_m, units), enumerated_briefly(names)),
          ""};
}

}  // namespace

std::vector<StoryLine> story_lines(const TraceHead& head, Units units) {
  const std::vector<Event>& events = head.events;
  const NameOf name = [&head](std::uint32_t rider) -> const std::string& { return head.riders.at(rider).name; };
  const ShownUnits shown{units == Units::imperial};
  std::vector<StoryLine> lines;
  for (std::size_t k = 0; k < events.size(); ++k) {
    const Event& e = events[k];
    if (told_by_takeover(events, k)) continue;
    if (takeover(e)) {
      if (const auto turns = turns_from(events, k); turns.size() >= fold_from) {
        lines.push_back(folded(events, turns, name, units));
        k = turns.back();
        continue;
      }
    }
    lines.push_back({e.time_s, e.time_s, event_class(e.kind), heavy(e.kind), parts_riders(e.kind),
                     takeover(e) ? takeover_words(e, name, units) : event_words(e, head, units),
                     event_caption(e, name, shown)});
  }
  return lines;
}

std::optional<std::size_t> current_line(const std::vector<StoryLine>& lines, double time_s) {
  const auto after = std::ranges::upper_bound(lines, time_s + same_moment_s, {}, &StoryLine::from_s);
  if (after == lines.begin()) return {};
  return static_cast<std::size_t>(after - lines.begin()) - 1;
}

std::string caption_at(const std::vector<StoryLine>& lines, double time_s, double speed) {
  const auto last = current_line(lines, time_s);
  if (!last) return "";
  for (std::size_t k = *last + 1; k-- > 0 && lines[k].from_s > time_s - caption_stays_s * speed;)
    if (!lines[k].caption.empty()) return lines[k].caption;
  return "";
}

std::vector<double> film_times(const std::vector<StoryLine>& lines, double from_s, double to_s, double speed,
                               double pictures_per_s) {
  constexpr double slower = 4.0, before_s = 1.0, after_s = 3.0, rest_s = 4.0;  // of the film
  struct Stretch {
    double from_s, to_s;
  };
  std::vector<Stretch> slow;
  for (const StoryLine& line : lines) {
    if (!line.parts || speed <= 1.0) continue;
    const Stretch here{line.from_s - before_s * speed / slower, line.from_s + after_s * speed / slower};
    if (slow.empty() || here.from_s > slow.back().to_s + rest_s * speed) slow.push_back(here);
  }
  std::vector<double> times;
  const double step_s = speed / pictures_per_s;
  std::size_t next = 0;
  for (double t = from_s; t <= to_s + 1e-9;) {
    times.push_back(std::min(t, to_s));
    while (next < slow.size() && slow[next].to_s <= t) ++next;
    t += next < slow.size() && slow[next].from_s <= t ? step_s / slower : step_s;
  }
  return times;
}

}  // namespace leewheel::view
