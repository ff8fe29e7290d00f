#include "evidence/report.hpp"
#include "evidence/row_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "evidence/wake_laws.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "io/unit_names.hpp"

namespace leewheel::evidence {

std::string number_text(double value, double resolution) {
  if (!std::isfinite(value)) return "-";
  int decimals =
      resolution > 0.0 ? static_cast<int>(std::ceil(-std::log10(resolution) - 1e-9)) + (resolution < 1.0 ? 2 : 1) : 6;
  decimals = std::clamp(decimals, 0, 9);
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (text.find('.') != std::string::npos) {
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

std::string source_text(const Source& source) {
  std::string text = source.authors;
  if (source.year) text += fmt::format(" {}", source.year);
  if (!source.journal.empty()) text += ", " + source.journal;
  if (!source.where.empty()) text += ", " + source.where;
  return text;
}

std::size_t count(const std::vector<JudgedGroup>& book, Verdict verdict) {
  std::size_t n = 0;
  for (const JudgedGroup& group : book)
    for (const Line& line : group.lines) n += line.verdict == verdict;
  return n;
}

namespace {

void text_block(const Block& block, std::string& out) {
  const Published& p = block.first();
  if (block.lines.size() == 1) {
    const Line& line = *block.lines.front();
    const std::string place = p.place > 1 ? fmt::format(" (place {})", p.place) : "";
    out +=
        fmt::format("      {:<34} published {:<18} ours {:<11} residual {:<10} band {:<12} {}\n", quantity_text(p) + place,
                    published_text(p), ours_text(line), residual_text(line), band_text(p), word(line.verdict));
    return;
  }
  const auto widths = [&](const auto& text_of) {
    std::string text;
    for (const Line* line : block.lines) text += fmt::format("{:>11}", text_of(*line));
    return text;
  };
  out += fmt::format("      {:<24}{}\n", quantity_text(p) + ", place",
                     widths([](const Line& l) { return fmt::format("{}", l.published->place); }));
  out += fmt::format("        {:<22}{}\n", "published", widths([](const Line& l) { return published_text(*l.published); }));
  out += fmt::format("        {:<22}{}\n", "ours", widths(ours_text));
  out += fmt::format("        {:<22}{}\n", "residual", widths(residual_text));
  const bool one_band =
      std::all_of(block.lines.begin(), block.lines.end(), [&](const Line* l) { return l->published->band == p.band; });
  if (!one_band)
    out += fmt::format("        {:<22}{}\n", "band", widths([](const Line& l) { return band_text(*l.published); }));
  out += fmt::format("        {}{}\n", one_band ? "band " + band_text(p) + ": " : "", verdict_text(block));
}

void text_row_head(const JudgedGroup& group, const Row& row, std::string& out) {
  const std::string role =
      has_role(group) && row.not_modelled.empty() && row.set_aside.empty() ? fmt::format(" [{}]", word(row.role)) : "";
  out += fmt::format("    {}{}\n      source: {} ({})\n", row.name, role, source_text(row.source), word(row.source.trust));
  if (!row.given_text.empty()) out += "      given: " + row.given_text + "\n";
  if (!row.conditions.empty()) out += "      conditions: " + row.conditions + "\n";
  if (!row.says.empty()) out += "      says: " + row.says + "\n";
  if (!row.not_modelled.empty()) out += "      not modelled: " + row.not_modelled + "\n";
  if (!row.set_aside.empty()) out += "      set aside: " + row.set_aside + "\n";
  if (!row.note.empty()) out += "      note: " + row.note + "\n";
}

void text_group(const JudgedGroup& group, std::string& out) {
  out += fmt::format("{} ({})\n", group.group->title, group.group->name);
  const std::vector<Block> blocks = blocks_of(group);
  for (const Series* series : series_in_order(*group.group)) {
    if (series) out += fmt::format("  {}\n", series->title);
    const Row* last = nullptr;
    for (const Block& block : blocks) {
      if (block.row->series != (series ? series->key : "")) continue;
      if (block.row != last) text_row_head(group, *block.row, out);
      last = block.row;
      if (block.lines.front()->published) text_block(block, out);
      const bool explained = std::any_of(block.lines.begin(), block.lines.end(),
                                         [](const Line* l) { return l->verdict == Verdict::out_with_reason; });
      if (explained) out += "        reason: " + block.row->reason + "\n";
    }
  }
  const std::vector<Spread> all = spreads(group);
  if (!all.empty())
    out += fmt::format("  {:<44}{:>7}{:>8}{:>8}{:>8}{:>9}{:>10}\n", "residuals in points", "values", "rms", "fitted",
                       "chosen", "checked", "greatest");
  for (const Spread& s : all)
    out += fmt::format("  {:<44}{:>7}{:>8.2f}{:>8}{:>8}{:>9}{:>10.2f}\n", s.title, s.points, s.rms,
                       rms_text(s.rms_fitted, s.fitted), rms_text(s.rms_chosen, s.chosen),
                       rms_text(s.rms_checked, s.checked), s.greatest);
  out += "\n";
}

}  // namespace

std::string book_text(const std::vector<JudgedGroup>& book) {
  std::string out;
  for (const JudgedGroup& group : book) text_group(group, out);
  return out + count_text(book) + "\n";
}

// --- JSON

std::string book_json(const std::vector<JudgedGroup>& book) {
  using nlohmann::ordered_json;
  ordered_json root{{"layout_version", json_layout::evidence}};
  for (const JudgedGroup& group : book) {
    ordered_json g{{"group", group.group->name}, {"title", group.group->title}};
    for (const Line& line : group.lines) {
      const Row& row = *line.row;
      ordered_json j{{"row", row.name},
                     {"kind", row.kind},
                     {"series", row.series},
                     {"given", row.given_text},
                     {"conditions", row.conditions},
                     {"source", source_text(row.source)},
                     {"trust", trust_names[static_cast<std::size_t>(row.source.trust)]},
                     {"role", word(row.role)}};
      if (const Published* p = line.published) {
        j["quantity"] = p->quantity;
        j["unit"] = shown_unit_of(p->quantity);
        j["place"] = p->place;
        if (p->is_bound()) {
          j["published_lowest"] = p->lowest ? ordered_json(*p->lowest) : ordered_json();
          j["published_highest"] = p->highest ? ordered_json(*p->highest) : ordered_json();
        } else {
          j["published"] = p->value;
        }
        j["uncertainty"] = p->uncertainty > 0.0 ? ordered_json(p->uncertainty) : ordered_json();
        j["ours"] = line.ours;
        j["residual"] = line.residual;
        j["band"] = p->band;
      }
      j["verdict"] = verdict_names[static_cast<std::size_t>(line.verdict)];
      if (line.verdict == Verdict::out_with_reason) j["reason"] = row.reason;
      if (line.verdict == Verdict::set_aside) j["reason"] = row.set_aside;
      if (line.verdict == Verdict::not_modelled) {
        j["reason"] = row.not_modelled;
        j["says"] = row.says;
      }
      g["lines"].push_back(std::move(j));
    }
    for (const Spread& s : spreads(group))
      g["residuals"].push_back({{"series", s.series},
                                {"values", s.points},
                                {"rms", s.rms},
                                {"rms_fitted", s.fitted ? ordered_json(s.rms_fitted) : ordered_json()},
                                {"rms_chosen", s.chosen ? ordered_json(s.rms_chosen) : ordered_json()},
                                {"rms_checked", s.checked ? ordered_json(s.rms_checked) : ordered_json()},
                                {"greatest", s.greatest},
                                {"unit", s.unit}});
    root["groups"].push_back(std::move(g));
  }
  for (std::size_t v = 0; v < verdict_names.size(); ++v)
    root["verdicts"][std::string(verdict_names[v])] = count(book, static_cast<Verdict>(v));
  return json_text(root) + "\n";
}

}  // namespace leewheel::evidence
