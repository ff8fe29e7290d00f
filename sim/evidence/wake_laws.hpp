#pragma once
/// The wake laws beside each other on the published rows.

#include <string>

#include "evidence/row.hpp"

namespace leewheel::evidence {

/// Two tables for the page: drag behind one wheel, row by row, and the residuals by series. Rows that name a law of their own, or
/// are set aside, are left out. Empty without such rows.
std::string law_comparison(const Group& drafting);

}  // namespace leewheel::evidence
