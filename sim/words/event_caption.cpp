#include "words/event_caption.hpp"

#include <fmt/format.h>

#include <vector>

#include "words/plain_text.hpp"

namespace leewheel {
namespace {

/// What happened, with the verb for one and for several riders; empty: no caption.
struct Happening {
  const char *one, *many;
};

Happening happening(EventKind kind) {
  switch (kind) {
    case EventKind::formed: return {"is in company", "ride together now"};
    case EventKind::joined: return {"is with the others now", "are with the others now"};
    case EventKind::dropped: return {"loses the others", "lose the others"};
    case EventKind::pulled_away: return {"rides away from the others", "ride away from the others"};
    case EventKind::split: return {"is left behind", "go on in a group of their own"};
    case EventKind::merged: return {"has caught the others", "are one group again"};
    case EventKind::waits: return {"waits", "wait"};
    case EventKind::regrouped: return {"goes on with the others", "go on together"};
    case EventKind::leaves: return {"goes on without the last", "go on without the last"};
    case EventKind::finished: return {"is home", "are home"};
    default: return {"", ""};
  }
}

/// Why, in a club's words. Reasons that already are such words are told as everywhere.
std::string club_reason(const Event& event, const NameOf& name, const ShownUnits& units) {
  const Because& b = event.because;
  const std::string other = b.other == no_rider ? "the rider ahead" : name(b.other);
  const auto shown = [&](std::size_t value) {
    return shown_value(reason_rows()[static_cast<std::size_t>(b.reason)].values[value].quantity, b.values[value], units);
  };
  switch (b.reason) {
    case Reason::wheel_too_costly:
      return fmt::format("{}'s wheel asks {}, more than the {} to give", other, shown(0), shown(1));
    case Reason::behind_wheel: return fmt::format("{} behind {}, too far for shelter", shown(0), other);
    case Reason::let_wheel_go: return fmt::format("{}'s wheel was too hard to hold", other);
    case Reason::gap_opened: return fmt::format("the gap to {} opened", other);
    case Reason::nothing_left: return "nothing left in the legs";
    case Reason::climbs_freely: return "here everyone climbs at their own pace";
    case Reason::leads: return fmt::format("{} in front is too fast for the others", shown(0));
    case Reason::within_reach: return "close enough for a wheel";
    case Reason::groups_met: return "one group caught the other";
    case Reason::waits_for_last: return "the first wait for the last";
    case Reason::all_together: return fmt::format("all are there after {}", minutes_text(b.values[0]));
    case Reason::waited_enough: return fmt::format("{} of waiting is enough", minutes_text(b.values[0]));
    case Reason::at_the_finish: return "";
    default: return because_text({b.reason, b.other, b.values, no_group}, event.group, name, units);
  }
}

}  // namespace

std::string event_caption(const Event& event, const NameOf& name, const ShownUnits& units) {
  const Happening what = happening(event.kind);
  if (!*what.one || event.riders.empty()) return "";
  std::vector<std::string> names;
  for (const std::uint32_t rider : event.riders) names.push_back(name(rider));
  if (event.kind == EventKind::waits) names.resize(1);  // the second is whom the wait is for
  const std::string why = club_reason(event, name, units);
  return fmt::format("{} {}{}{}.", enumerated_briefly(names), names.size() == 1 ? what.one : what.many,
                     why.empty() ? "" : ": ", why);
}

}  // namespace leewheel
