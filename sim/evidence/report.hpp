#pragma once
/// The book as text for a terminal, as JSON, and as the page docs/evidence.md.

#include <string>
#include <vector>

#include "evidence/row.hpp"

namespace leewheel::evidence {

std::string book_text(const std::vector<JudgedGroup>& book);
std::string book_json(const std::vector<JudgedGroup>& book);
std::string book_page(const std::vector<JudgedGroup>& book);

/// Lines with that verdict.
std::size_t count(const std::vector<JudgedGroup>& book, Verdict verdict);

// Pieces that the fit and the model page share.
std::string number_text(double value, double resolution);  ///< enough digits to show `resolution`
std::string source_text(const Source& source);             ///< "Martin et al. 1998, J Appl Biomech 14:276, appendix"

}  // namespace leewheel::evidence
