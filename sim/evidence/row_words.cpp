#include "evidence/row_words.hpp"

#include "evidence/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "evidence/wake_laws.hpp"
#include "io/unit_names.hpp"

namespace leewheel::evidence {

namespace {

/// As it stands in the source: every digit of it.
std::string plain(double value) { return fmt::format("{:.10g}", value); }

std::string bound_text(const Published& p) {
  if (p.lowest && p.highest) return plain(*p.lowest) + " to " + plain(*p.highest);
  return p.lowest ? "at least " + plain(*p.lowest) : "at most " + plain(*p.highest);
}

}  // namespace

std::string_view word(Verdict verdict) { return verdict_words[static_cast<std::size_t>(verdict)]; }
std::string_view word(Role role) { return role_names[static_cast<std::size_t>(role)]; }
std::string_view word(Trust trust) { return trust_words[static_cast<std::size_t>(trust)]; }

std::vector<Block> blocks_of(const JudgedGroup& group) {
  std::vector<Block> blocks;
  for (const Line& line : group.lines) {
    const bool same = !blocks.empty() && line.published && blocks.back().row == line.row &&
                      blocks.back().first().quantity == line.published->quantity &&
                      blocks.back().first().is_bound() == line.published->is_bound();
    if (!same) blocks.push_back({line.row, {}});
    blocks.back().lines.push_back(&line);
  }
  return blocks;
}

double resolution(const Published& p) {
  return p.is_bound() ? std::max(1e-3 * std::max(std::abs(p.lowest.value_or(0.0)), std::abs(p.highest.value_or(0.0))), 1e-4)
         : p.band > 0.0 ? p.band
                        : std::max(1e-4 * std::abs(p.value), 1e-6);
}

std::string published_text(const Published& p) {
  std::string text = p.is_bound() ? bound_text(p) : plain(p.value);
  if (p.uncertainty > 0.0) text += " ± " + plain(std::round(p.uncertainty * 1e6) / 1e6);
  return text;
}

std::string signed_text(double value, double step) {
  const std::string text = number_text(value, step);
  return value > 0.0 && text != "0" ? "+" + text : text;
}

std::string band_text(const Published& p) {
  if (p.is_bound()) return p.band > 0.0 ? "bound, " + number_text(p.band, p.band / 10.0) + " wider" : "bound";
  return number_text(p.band, p.band / 10.0);
}

/// One word for all values if they share a verdict, else each its own.
std::string verdict_text(const Block& block) {
  const auto same = [&](const Line* line) { return line->verdict == block.lines.front()->verdict; };
  if (std::all_of(block.lines.begin(), block.lines.end(), same)) return std::string(word(block.lines.front()->verdict));
  std::vector<std::string> words;
  for (const Line* line : block.lines)
    if (line->verdict != Verdict::in_band)
      words.push_back(fmt::format("{} at {}", word(line->verdict), line->published->place));
  return fmt::format("{}; the others in band", fmt::join(words, ", "));
}

std::string quantity_text(const Published& p) {
  const std::string unit(shown_unit_of(p.quantity));
  return words_of(p.quantity) + (unit.empty() ? "" : ", " + unit);
}

std::string ours_text(const Line& line) { return number_text(line.ours, resolution(*line.published)); }
std::string residual_text(const Line& line) { return signed_text(line.residual, resolution(*line.published)); }

std::vector<const Series*> series_in_order(const Group& group) {
  std::vector<const Series*> all;
  for (const Series& series : group.series) all.push_back(&series);
  if (std::any_of(group.rows.begin(), group.rows.end(), [](const Row& row) { return row.series.empty(); }))
    all.push_back(nullptr);
  return all;
}

bool has_role(const JudgedGroup& group) {
  return std::any_of(group.group->rows.begin(), group.group->rows.end(),
                     [](const Row& row) { return row.role != Role::checked; });
}

std::string rms_text(double rms, std::size_t points) { return points ? fmt::format("{:.2f}", rms) : "-"; }

std::string count_text(const std::vector<JudgedGroup>& book) {
  std::size_t rows = 0;
  for (const JudgedGroup& group : book) rows += group.group->rows.size();
  const auto n = [&](Verdict v) { return count(book, v); };
  return fmt::format(
      "Rows {}, published numbers {}: {} in band, {} out of band with a written reason, {} out of band, {} set aside. Rows "
      "not modelled: {}.",
      rows, n(Verdict::in_band) + n(Verdict::out_with_reason) + n(Verdict::out_of_band) + n(Verdict::set_aside),
      n(Verdict::in_band), n(Verdict::out_with_reason), n(Verdict::out_of_band), n(Verdict::set_aside),
      n(Verdict::not_modelled));
}

}  // namespace leewheel::evidence
