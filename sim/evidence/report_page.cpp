#include "evidence/report.hpp"
#include "evidence/row_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "evidence/wake_laws.hpp"
#include "io/unit_names.hpp"

namespace leewheel::evidence {

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
    if (group.group->name == "drafting") out += law_comparison(*group.group);
  while (out.ends_with("\n\n")) out.pop_back();
  return out;
}

}  // namespace leewheel::evidence
