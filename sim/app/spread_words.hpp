#pragma once
/// What `leewheel spread` prints for people.

#include <string>
#include <string_view>

#include "leewheel/ensemble.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// What an input is called in the table of shares, the others' strength included.
std::string_view shown_name(std::size_t k);

std::string spread_words(const Scenario& scenario, const SpreadAnswer& answer, const ShownUnits& units);

}  // namespace leewheel
