#pragma once
/// Road notes as text, as JSON with the numbers that each sentence rests on, and as captions.

#include <string>
#include <vector>

#include "words/notes_words.hpp"

namespace leewheel {

std::string notes_text(const Scenario& scenario, const RoadNotes& notes, const std::vector<Note>& said,
                       const ShownUnits& units);
std::string notes_json(const Scenario& scenario, const RoadNotes& notes, const std::vector<Note>& said,
                       const ShownUnits& units);
/// WebVTT: one caption after the other from the beginning of each stretch, each for as long as it takes to say.
std::string notes_captions(const RoadNotes& notes, const std::vector<Note>& said, std::size_t strength, double film_speed);

}  // namespace leewheel
