#pragma once
/// Road notes as one page for a phone and for paper.

#include <string>
#include <vector>

#include "words/notes_words.hpp"

namespace leewheel {

/// `said`: what is told on the way, by stretch.
std::string notes_html(const Scenario& scenario, const RoadNotes& notes, const std::vector<Note>& said,
                       const ShownUnits& units = {});

}  // namespace leewheel
