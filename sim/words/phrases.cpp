#include "words/phrases.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "words/plain_text.hpp"

namespace leewheel {

namespace {

/// Holes: {other} the rider it is about, {from} the group before, {group} the group of the event, {0} {1} {2} the values with
/// their units, {1:n} the number alone.
struct ReasonPhrase {
  Reason reason;
  std::string_view text;
};

constexpr std::array<ReasonPhrase, reason_count> reason_phrases{{
    {Reason::at_start, "at the start"},
    {Reason::own_pace, "riding at his or her own pace"},
    {Reason::on_wheel, "on the wheel of {other}"},
    {Reason::wheel_too_costly, "the wheel of {other} needs {0}, gives at most {1}"},
    {Reason::faster_alone, "could ride {0}, {other} rides {1:n}"},
    {Reason::sprints, "sprints for the finish with {0} to spend"},
    {Reason::turn_over, "turn of {0} done, {other} is next"},
    {Reason::reserve_reached, "W' down to the reserve after {0} in front"},
    {Reason::turn_begins, "in front for {0}"},
    {Reason::cannot_pull, "too little strength to pull at this pace"},
    {Reason::gap_opened, "the gap to {other} opened"},
    {Reason::can_reach, "{0} behind {other}, closing it costs about {1}"},
    {Reason::wheel_within_reach, "the wheel of {other} is within reach"},
    {Reason::waits_for_last, "waits for the last at the regroup point"},
    {Reason::all_together, "all together after {0} of waiting"},
    {Reason::waited_enough, "the longest wait is over after {0}; the last are not there"},
    {Reason::keeps_group_whole, "eases to keep the group whole for {other}"},
    {Reason::waits_for_group, "eases for the group of {other}, {0} behind"},
    {Reason::in_gutter, "in the gutter behind {other}, drag still {0} of that alone; starts a second echelon"},
    {Reason::passes_gap, "goes past {other}, who is {0} off the wheel ahead"},
    {Reason::at_regroup_point, "at the regroup point"},
    {Reason::climbs_freely, "everyone climbs freely here; own pace {0}"},
    {Reason::nothing_left, "nothing left above critical power, rides {0}"},
    {Reason::behind_wheel, "{0} behind {other}, whose wheel needs {1}; gives at most {2}"},
    {Reason::back_with, "back with {other}, whose wheel was let go"},
    {Reason::let_wheel_go, "let the wheel of {other} go"},
    {Reason::comes_back, "coming back after a turn in front"},
    {Reason::leads, "in front at {0}"},
    {Reason::within_reach, "riding within a wheel's reach of one another"},
    {Reason::groups_met, "group {from} reached group {group}"},
    {Reason::at_the_finish, "at the finish"},
    {Reason::gust_across, "gust across: side force {0}"},
    {Reason::planned_stop, "stops as planned"},
    {Reason::stop_over, "the stop of {0} is over, {1} after the first came"},
}};

constexpr std::array<EventPhrase, event_names.size()> event_phrases{{
    {EventKind::formed, "{group} forms: {all}", "starts a group", "come together", ""},
    {EventKind::joined, "{subject} joins {group}", "joins", "join", ""},
    {EventKind::dropped, "{subject} comes off {group}", "comes off", "come off", ""},
    {EventKind::pulled_away, "{subject} pulls away from {group}", "pulls away", "pull away", ""},
    {EventKind::split, "a split leaves {all} as {group}", "splits off", "split off", ""},
    {EventKind::merged, "groups merge, {all} now in {group}", "merges", "merge", ""},
    {EventKind::finished, "{subject} finishes", "is home", "are home", ""},
    {EventKind::follows, "{subject} takes a wheel", "takes a wheel", "takes a wheel", "takes {other}'s wheel"},
    {EventKind::lets_go, "{subject} lets the wheel go", "lets the wheel go", "lets the wheel go", "lets {other}'s wheel go"},
    {EventKind::chases, "{subject} chases", "chases", "chases", "chases {other}"},
    {EventKind::waits, "{subject} waits", "waits", "waits", ""},
    {EventKind::sits_in, "{subject} sits in", "sits in", "sits in", ""},
    {EventKind::takes_turn, "{subject} takes the front", "takes a turn in front", "takes a turn in front",
     "takes the front from {other}"},
    {EventKind::ends_turn, "{subject} comes off the front", "ends the turn", "ends the turn", ""},
    {EventKind::skips_turn, "{subject} skips a turn", "skips the turn", "skips the turn", "skips the turn after {other}"},
    {EventKind::eases, "{subject} eases", "eases", "eases", "eases for {other}"},
    {EventKind::goes_alone, "{subject} goes on alone", "goes on alone", "goes on alone", "goes on without {other}"},
    {EventKind::regrouped, "the wait is over", "is with the group again", "are together again", ""},
    {EventKind::caution, "caution, {all}", "takes care", "come too close", ""},
    {EventKind::leaves, "the wait is given up, on without the last: {all}", "goes on without the last",
     "go on without the last", ""},
}};

/// Nobody comes off where everyone climbs freely.
constexpr EventPhrase leaves_freely{EventKind::dropped, "{subject} goes on without {group}", "goes on at the own pace",
                                    "go on at the own pace", ""};

template <class Phrases>
constexpr bool complete(const Phrases& phrases, auto member, auto sentence) {
  for (std::size_t k = 0; k < phrases.size(); ++k)
    if (static_cast<std::size_t>(phrases[k].*member) != k || (phrases[k].*sentence).empty()) return false;
  return true;
}
static_assert(complete(reason_phrases, &ReasonPhrase::reason, &ReasonPhrase::text), "a sentence for each reason, in order");
static_assert(complete(event_phrases, &EventPhrase::kind, &EventPhrase::story), "a sentence for each event, in order");

std::string whole(double value) { return std::to_string(std::lround(value)); }
std::string tenths(double value) {
  const long n = std::lround(value * 10.0);
  return (n < 0 ? "-" : "") + std::to_string(std::abs(n) / 10) + "." + std::to_string(std::abs(n) % 10);
}

/// The sentence with each {hole} filled by `fill(hole)`.
std::string filled(std::string_view text, const std::function<std::string(std::string_view)>& fill) {
  std::string out;
  while (true) {
    const std::size_t open = text.find('{');
    out += text.substr(0, open);
    if (open == std::string_view::npos) return out;
    const std::size_t close = text.find('}', open);
    out += fill(text.substr(open + 1, close - open - 1));
    text.remove_prefix(close + 1);
  }
}

}  // namespace

NameOf rider_names(const Scenario& scenario) {
  return [&scenario](std::uint32_t rider) -> const std::string& { return scenario.riders.at(rider).name; };
}

std::string shown_value(Quantity quantity, double value, const ShownUnits& units, bool with_unit) {
  const auto with = [&](std::string number, const char* unit) { return with_unit ? number + unit : number; };
  switch (quantity) {
    case Quantity::power_W: return with(whole(value), " W");
    case Quantity::speed_mps: return with(tenths(units.speed(value)), units.imperial ? " mph" : " km/h");
    case Quantity::distance_m: return with(whole(units.height(value)), units.imperial ? " ft" : " m");
    case Quantity::time_s: return value < 120.0 ? with(whole(value), " s") : clock_text(value);
    case Quantity::energy_J: return with(whole(value / 1000.0), " kJ");
    case Quantity::share: return with(whole(100.0 * value), " %");
    case Quantity::force_N: return with(whole(value), " N");
    case Quantity::none: break;
  }
  return "";
}

std::string because_text(const Because& because, std::int32_t group, const NameOf& name, const ShownUnits& units) {
  const auto index = static_cast<std::size_t>(because.reason);
  const ReasonRow& row = reason_rows()[index];
  const std::string text = filled(reason_phrases[index].text, [&](std::string_view hole) -> std::string {
    if (hole == "other") return because.other == no_rider ? "" : name(because.other);
    if (hole == "from") return std::to_string(because.from_group);
    if (hole == "group") return std::to_string(group);
    const auto k = static_cast<std::size_t>(hole.front() - '0');
    return shown_value(row.values[k].quantity, because.values[k], units, !hole.ends_with(":n"));
  });
  const bool came_off = because.from_group != no_group && because.reason != Reason::groups_met;
  return came_off ? fmt::format("came off group {}: {}", because.from_group, text) : text;
}

std::string_view reason_phrase(Reason reason) { return reason_phrases[static_cast<std::size_t>(reason)].text; }

const EventPhrase& event_phrase(const Event& event) {
  const bool freely = event.kind == EventKind::dropped && event.because.reason == Reason::climbs_freely;
  return freely ? leaves_freely : event_phrases[static_cast<std::size_t>(event.kind)];
}

std::string event_story(const Event& event, const std::string& all, const NameOf& name) {
  return filled(event_phrase(event).story, [&](std::string_view hole) -> std::string {
    if (hole == "subject") return event.riders.empty() ? "the group" : name(event.riders.front());
    if (hole == "all") return all;
    return event.group == no_group ? "a group" : fmt::format("group {}", event.group);
  });
}

}  // namespace leewheel
