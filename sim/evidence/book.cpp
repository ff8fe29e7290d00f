/// Rows worked out and judged.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "evidence/row.hpp"
#include "io/unit_names.hpp"

namespace leewheel::evidence {
namespace {

const Quantity* named(const Quantities& all, const std::string& name) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Quantity& q) { return q.name == name; });
  return found == all.end() ? nullptr : &*found;
}

/// How far outside its bound a value lies; 0 inside.
double outside(const Published& bound, double value) {
  if (bound.lowest && value < *bound.lowest - bound.band) return value - *bound.lowest;
  if (bound.highest && value > *bound.highest + bound.band) return value - *bound.highest;
  return 0.0;
}

/// The value farthest outside the bound, the first when all are inside; one that is not finite is worst.
double worst(const Published& bound, const std::vector<double>& values) {
  const auto miss = [&](double value) {
    return std::isfinite(value) ? std::abs(outside(bound, value)) : std::numeric_limits<double>::infinity();
  };
  return *std::max_element(values.begin(), values.end(), [&](double a, double b) { return miss(a) < miss(b); });
}

Verdict verdict_of(const Row& row, const Published& published, double residual) {
  if (!row.set_aside.empty()) return Verdict::set_aside;
  // A value that meets its band exactly, on paper, may miss it by a rounding here.
  const bool inside = published.is_bound() ? residual == 0.0 : std::abs(residual) <= published.band * (1.0 + 1e-9);
  if (inside) return Verdict::in_band;
  return !row.reason.empty() && std::abs(residual) <= row.reason_covers ? Verdict::out_with_reason : Verdict::out_of_band;
}

void judge_row(const Row& row, const WakeLaw& law, std::vector<Line>& lines) {
  if (!row.not_modelled.empty()) {
    lines.push_back({&row, nullptr, 0.0, 0.0, Verdict::not_modelled});
    return;
  }
  const Quantities answers = row.work(law);
  for (const Published& published : row.published) {
    const Quantity* quantity = named(answers, published.quantity);
    if (!quantity || published.place > quantity->values.size())
      throw InputFault({row.file, published.line, published.column, published.field,
                        quantity ? fmt::format("found a number for place {}, expected at most {}", published.place,
                                               quantity->values.size())
                                 : "not worked out by a row with what is given here"});
    const double ours = published.place > 0 ? quantity->values[published.place - 1] : worst(published, quantity->values);
    if (!std::isfinite(ours))
      throw InputFault(
          {row.file, published.line, published.column, published.field, "has no finite answer with what is given here"});
    const double residual = published.is_bound() ? outside(published, ours) : ours - published.value;
    lines.push_back({&row, &published, ours, residual, verdict_of(row, published, residual)});
  }
}

struct Sum {
  double squares = 0.0;
  std::size_t count = 0;
  void add(double x) {
    squares += x * x;
    ++count;
  }
  double rms() const { return count ? std::sqrt(squares / static_cast<double>(count)) : 0.0; }
};

}  // namespace

std::vector<JudgedGroup> judge(const std::vector<Group>& groups, const WakeLaw& law) {
  std::vector<JudgedGroup> judged;
  for (const Group& group : groups) {
    judged.push_back({&group, {}});
    for (const Row& row : group.rows) judge_row(row, law, judged.back().lines);
  }
  return judged;
}

Spread spread_of(const std::vector<const Line*>& lines, std::string title, std::string unit) {
  Spread spread;
  spread.title = std::move(title);
  spread.unit = std::move(unit);
  Sum all, fitted, chosen, checked;
  for (const Line* line : lines) {
    all.add(line->residual);
    (line->row->role == Role::fitted ? fitted : line->row->role == Role::chosen ? chosen : checked).add(line->residual);
    spread.greatest = std::max(spread.greatest, std::abs(line->residual));
  }
  spread.points = all.count;
  spread.fitted = fitted.count;
  spread.chosen = chosen.count;
  spread.checked = checked.count;
  spread.rms = all.rms();
  spread.rms_fitted = fitted.rms();
  spread.rms_chosen = chosen.rms();
  spread.rms_checked = checked.rms();
  return spread;
}

std::vector<Spread> spreads(const JudgedGroup& group) {
  // Points of the rows of drafting: drag and side force in percent, so that one number may stand for them all.
  const auto counts = [](const Line& line) {
    return line.published && !line.published->is_bound() && line.row->set_aside.empty() &&
           line.row->kind.starts_with("drafting") && line.published->quantity != "power_saved_percent" &&
           shown_unit_of(line.published->quantity) == "%";
  };
  std::vector<Spread> all;
  std::vector<const Line*> every, no_line;
  for (const Series& series : group.group->series) {
    std::vector<const Line*> some;
    for (const Line& line : group.lines)
      if (line.row->series == series.key && counts(line)) some.push_back(&line);
    if (some.empty()) continue;
    every.insert(every.end(), some.begin(), some.end());
    if (series.key != "line") no_line.insert(no_line.end(), some.begin(), some.end());
    all.push_back(spread_of(some, series.title, "points"));
    all.back().series = series.key;
  }
  if (every.empty()) return all;
  all.push_back(spread_of(no_line, "All but the line table", "points"));
  all.back().series = "all_but_line";
  all.push_back(spread_of(every, "All", "points"));
  all.back().series = "all";
  return all;
}

}  // namespace leewheel::evidence
