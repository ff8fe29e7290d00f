#pragma once
/// The tables inside docs/model.md that the program writes itself: coefficients, and errors in watts.

#include <string>

#include "evidence/fit.hpp"

namespace leewheel::evidence {

/// The page at `path` with the text between "<!-- table: NAME -->" and "<!-- end of table -->" made anew. Throws InputFault
/// on an unknown name or a table that does not end.
std::string with_fresh_tables(const std::string& path, const Fit& fit);

}  // namespace leewheel::evidence
