#pragma once
/// Pictures of the wake law with the published points on our curves.

#include <string>
#include <vector>

#include "evidence/row.hpp"

namespace leewheel::evidence {

/// Writes lee_gap.svg, lee_line.svg and lee_worth.svg into the folder. Throws InputFault when it cannot be written.
void write_pictures(const std::string& folder, const std::vector<JudgedGroup>& book);

}  // namespace leewheel::evidence
