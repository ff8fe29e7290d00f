#pragma once
/// An event of a ride as one sentence, and the class of events it belongs to.

#include <string>

#include "words/phrases.hpp"

namespace leewheel {

enum class EventClass { group, decision, finish, caution };
EventClass event_class(EventKind kind);

/// "Fenn lets go of the wheel at 6.21 km: the wheel asks 208 W, will give 200 W".
std::string event_sentence(const Event& event, const NameOf& name, const ShownUnits& units = {});

}  // namespace leewheel
