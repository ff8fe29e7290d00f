#pragma once
/// What changes a group, as a caption under a film: one short sentence in a club's words, with the reason.

#include <string>

#include "words/phrases.hpp"

namespace leewheel {

/// "Fenn loses the others: Elin's wheel asks 302 W, 11 W too many." Empty for what needs no caption, such as turns.
std::string event_caption(const Event& event, const NameOf& name, const ShownUnits& units = {});

}  // namespace leewheel
