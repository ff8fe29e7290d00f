#pragma once
/// Rows of evidence in words, as the text, the JSON and the page share them.

#include <fmt/format.h>

#include <string>
#include <string_view>
#include <vector>

#include "evidence/row.hpp"

namespace leewheel::evidence {

/// The numbers of one quantity of one row.
struct Block {
  const Row* row;
  std::vector<const Line*> lines;
  const Published& first() const { return *lines.front()->published; }
};

std::string_view word(Verdict verdict);
std::string_view word(Role role);
std::string_view word(Trust trust);
std::vector<Block> blocks_of(const JudgedGroup& group);
double resolution(const Published& p);
std::string published_text(const Published& p);
std::string signed_text(double value, double step);
std::string band_text(const Published& p);
std::string verdict_text(const Block& block);
std::string quantity_text(const Published& p);
std::string ours_text(const Line& line);
std::string residual_text(const Line& line);
std::vector<const Series*> series_in_order(const Group& group);
bool has_role(const JudgedGroup& group);
std::string rms_text(double rms, std::size_t points);
std::string count_text(const std::vector<JudgedGroup>& book);

template <class TextOf>
std::string joined(const Block& block, const char* between, const TextOf& text_of) {
  std::vector<std::string> parts;
  for (const Line* line : block.lines) parts.push_back(text_of(*line));
  return fmt::format("{}", fmt::join(parts, between));
}

}  // namespace leewheel::evidence
