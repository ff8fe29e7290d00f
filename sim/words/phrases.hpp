#pragma once
/// The sentences of events and their reasons: one table, read by the summary, the files, the sheet and the viewer. Metric
/// and imperial come from the same sentence, since the ride hands out numbers in SI.

#include <functional>
#include <string>
#include <string_view>

#include "leewheel/ride.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

using NameOf = std::function<const std::string&(std::uint32_t rider)>;
NameOf rider_names(const Scenario& scenario);  ///< which must outlive it

/// Why, as one clause: "the wheel of Ada asks 208 W, will give 200 W". `group`: the group the event is about.
std::string because_text(const Because& because, std::int32_t group, const NameOf& name, const ShownUnits& units = {});

/// The sentence of a reason with its holes: {other} a rider, {from} and {group} groups, {0} to {2} the values.
std::string_view reason_phrase(Reason reason);

/// The sentence of a kind of event.
struct EventPhrase {
  EventKind kind;
  std::string_view story;      ///< a sentence with {subject}, {all}, {group}: "{subject} joins {group}"
  std::string_view one, many;  ///< the verb for one and for several riders: "joins", "join"
  std::string_view about;      ///< the verb with {other}, for a decision about another rider; empty: as `one`
};
const EventPhrase& event_phrase(const Event& event);

/// The sentence of an event without its reason: "Fenn joins group 3". `all`: its riders as a list.
std::string event_story(const Event& event, const std::string& all, const NameOf& name);

/// A value of a reason with its unit, rounded for people: "208 W", "23.4 km/h".
std::string shown_value(Quantity quantity, double value, const ShownUnits& units, bool with_unit = true);

}  // namespace leewheel
