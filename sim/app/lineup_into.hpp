#pragma once
/// `leewheel lineup --into`: a big club in groups.

#include <string>

#include "leewheel/club_split.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// `meet`: where all meet, in words.
std::string split_words(const ClubSplit& split, const Scenario& scenario, const std::string& meet);
std::string split_json(const ClubSplit& split, const Scenario& scenario, const SplitSettings& settings);

}  // namespace leewheel
