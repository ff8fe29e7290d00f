#include "evidence/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "evidence/wake_laws.hpp"
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

std::string_view word(Verdict verdict) { return verdict_words[static_cast<std::size_t>(verdict)]; }
std::string_view word(Role role) { return role_names[static_cast<std::size_t>(role)]; }
std::string_view word(Trust trust) { return trust_words[static_cast<std::size_t>(trust)]; }

/// The numbers of one quantity of one row.
struct Block {
  const Row* row;
  std::vector<const Line*> lines;
  const Published& first() const { return *lines.front()->published; }
};

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

/// As it stands in the source: every digit of it.
std::string plain(double value) { return fmt::format("{:.10g}", value); }

std::string bound_text(const Published& p) {
  if (p.lowest && p.highest) return plain(*p.lowest) + " to " + plain(*p.highest);
  return p.lowest ? "at least " + plain(*p.lowest) : "at most " + plain(*p.highest);
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

std::string joined(const Block& block, const char* between, const auto& text_of) {
  std::vector<std::string> parts;
  for (const Line* line : block.lines) parts.push_back(text_of(*line));
  return fmt::format("{}", fmt::join(parts, between));
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

}  // namespace

std::string book_text(const std::vector<JudgedGroup>& book) {
  std::string out;
  for (const JudgedGroup& group : book) text_group(group, out);
  return out + count_text(book) + "\n";
}

// --- JSON

std::string book_json(const std::vector<JudgedGroup>& book) {
  using nlohmann::ordered_json;
  ordered_json root;
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
  return root.dump(2) + "\n";
}

// --- the page

namespace {

std::string cell(std::string text) {
  for (std::size_t at = 0; (at = text.find('|', at)) != std::string::npos; at += 2) text.insert(at, "\\");
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

std::string page_conditions(const Row& row) {
  std::string text = row.given_text;
  if (!row.conditions.empty()) text += (text.empty() ? "" : "; ") + row.conditions;
  return cell(text);
}

void page_rows(const JudgedGroup& group, const std::vector<Block>& blocks, const std::string& key, std::string& out) {
  const bool roles = has_role(group);
  std::string table, notes, unmodelled;
  const Row* last = nullptr;
  for (const Block& block : blocks) {
    const Row& row = *block.row;
    if (row.series != key) continue;
    if (!block.lines.front()->published) {
      unmodelled += fmt::format("- **{}**: {} ({}; {}). *Not modelled*: {}\n", row.name, row.says, source_text(row.source),
                                word(row.source.trust), row.not_modelled);
      continue;
    }
    const bool repeated = &row == last;
    last = &row;
    const Published& p = block.first();
    const bool one_band =
        std::all_of(block.lines.begin(), block.lines.end(), [&](const Line* l) { return l->published->band == p.band; });
    const std::string role =
        roles ? (row.set_aside.empty() ? fmt::format(" {} |", repeated ? "" : word(row.role)) : std::string(" - |")) : "";
    table +=
        fmt::format("| {} | {} | {} |{} {} | {} | {} | {} | {} | {} |\n", repeated ? "" : cell(row.name),
                    repeated ? "" : page_conditions(row),
                    repeated ? "" : cell(fmt::format("{} ({})", source_text(row.source), word(row.source.trust))), role,
                    quantity_text(p), joined(block, " / ", [](const Line& l) { return published_text(*l.published); }),
                    joined(block, " / ", ours_text), joined(block, " / ", residual_text),
                    one_band ? band_text(p) : joined(block, " / ", [](const Line& l) { return band_text(*l.published); }),
                    verdict_text(block));
    if (!repeated) {
      if (!row.note.empty()) notes += fmt::format("- {}: {}\n", row.name, row.note);
      if (!row.set_aside.empty()) notes += fmt::format("- {}, *set aside*: {}\n", row.name, row.set_aside);
    }
    if (std::any_of(block.lines.begin(), block.lines.end(),
                    [](const Line* l) { return l->verdict == Verdict::out_with_reason; }))
      notes += fmt::format("- {}, *out of band, with reason*: {}\n", row.name, row.reason);
  }
  if (!table.empty())
    out += fmt::format(
               "| row | conditions | source (trust) |{} quantity | published | ours | residual | band | verdict "
               "|\n|---|---|---|{}---|---|---|---|---|---|\n",
               roles ? " role |" : "", roles ? "---|" : "") +
           table + "\n";
  if (!notes.empty()) out += notes + "\n";
  if (!unmodelled.empty()) out += unmodelled + "\n";
}

void page_spreads(const JudgedGroup& group, std::string& out) {
  const std::vector<Spread> all = spreads(group);
  if (all.empty()) return;
  out +=
      "### Residuals by series, in points of drag or side force\n\n| series | values | rms | rms fitted | rms chosen | rms "
      "checked | greatest |\n|---|---|---|---|---|---|---|\n";
  for (const Spread& s : all)
    out += fmt::format("| {} | {} | {:.2f} | {} | {} | {} | {:.2f} |\n", s.title, s.points, s.rms,
                       rms_text(s.rms_fitted, s.fitted), rms_text(s.rms_chosen, s.chosen),
                       rms_text(s.rms_checked, s.checked), s.greatest);
  out += "\n";
}

void page_group(const JudgedGroup& group, std::string& out) {
  const Group& g = *group.group;
  out += fmt::format("## {}\n\n", g.title);
  if (!g.about.empty()) out += g.about + "\n\n";
  if (!g.disagreement.empty()) out += fmt::format("**Where the sources disagree.** {}\n\n", g.disagreement);
  page_spreads(group, out);
  const std::vector<Block> blocks = blocks_of(group);
  for (const Series* series : series_in_order(g)) {
    if (series) {
      out += fmt::format("### {}\n\n", series->title);
      if (!series->about.empty()) out += series->about + "\n\n";
      if (!series->fitted_because.empty()) out += fmt::format("Fitted: {}\n\n", series->fitted_because);
      if (!series->chosen_because.empty()) out += fmt::format("Chosen: {}\n\n", series->chosen_because);
      if (!series->checked_because.empty()) out += fmt::format("Checked: {}\n\n", series->checked_because);
    }
    page_rows(group, blocks, series ? series->key : "", out);
  }
}

constexpr const char* page_head = R"(# The book of evidence

Every published number the model is held to, beside ours. This page is written by `leewheel evidence --write-page
docs/evidence.md` from the rows in `tests/evidence/`; a test fails when it is stale. Add a row of your own without compiling:
`leewheel evidence --rows mine.yaml` (form: [evidence_rows.md](evidence_rows.md)).

How to read it:

- **Residual** is ours less published. **Band** is the most the residual may be; it is no target. A *bound* says what the model
  must stay within; its residual is the distance outside.
- **Trust**: *read in the source*, *from a second-hand copy*, *from memory*, *computed apart from the stated formula* (exact once
  the formula is agreed), *common practice, no source*.
- **Role** (drafting only): *fitted* rows were in the fit of the coefficients; *chosen* rows were looked at when a coefficient was set by
  hand; *checked* rows were in neither. The form of the wake model and its chosen values were picked with the rows of lines, uphill, bunch
  and crosswind in view, so that for those 'checked' checks the coefficients and not the form.
- **Verdict**: *in band*; *OUT OF BAND*; *out, with reason* (the reason stands below the table and covers no more than the miss it was
  written for); *set aside* (shown, counts for nothing, with the reason); *not modelled*. The command ends with 1 when any row is out of
  band without a reason, with `--strict` also for those with a reason.

)";

}  // namespace

std::string book_page(const std::vector<JudgedGroup>& book) {
  std::string out = page_head + count_text(book) + "\n\n";
  for (const JudgedGroup& group : book) page_group(group, out);
  for (const JudgedGroup& group : book)
    if (group.group->name == "lee") out += law_comparison(*group.group);
  while (out.ends_with("\n\n")) out.pop_back();
  return out;
}

}  // namespace leewheel::evidence
