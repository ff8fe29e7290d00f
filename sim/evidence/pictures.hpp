#pragma once
/// Pictures of the wake law with the published points on our curves.

#include <string>
#include <vector>

#include "evidence/row.hpp"

namespace leewheel::evidence {

/// Writes drafting_gap.svg, drafting_line.svg and drafting_worth.svg into the folder. Throws InputFault when
/// it cannot be written.
void write_pictures(const std::string& folder, const std::vector<JudgedGroup>& book);

}  // namespace leewheel::evidence
