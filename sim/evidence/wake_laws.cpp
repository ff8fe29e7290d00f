#include "evidence/wake_laws.hpp"
#include "io/unit_names.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "evidence/report.hpp"

namespace leewheel::evidence {
namespace {

constexpr const char* head = R"(## Wake laws side by side

A ride uses `{}` unless its scenario names another law (`wake: {{law: NAME}}`). Here every law answers the same published rows of
drafting. Only `{}` was fitted to some of them. `wheel_gap` was taken as published; of a line it knows the next wheel only, so the
first table, one wheel straight ahead in calm air, is the one that is fair to it. Two limits of that comparison: the rows of coasting
at 0 to 3 m are the parabola itself, and a law without turbulence gives smooth and restless air the same figure.

)";

const Quantity* find(const Quantities& all, std::string_view name) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Quantity& q) { return q.name == name; });
  return found == all.end() ? nullptr : &*found;
}

/// What a law says of the rider behind, and by how much it misses.
std::string answer(const Row& row, const Published& published, const WakeLaw& law) {
  const Quantities quantities = row.work(law);
  const double ours = find(quantities, published.quantity)->values[published.place - 1];
  return fmt::format(" {:.1f} | {:+.1f} |", ours, ours - published.value);
}

std::string one_wheel_table(const Group& drafting) {
  std::string out = "| row | gap, m | quantity | published |", rule = "|---|---|---|---|";
  for (const std::string_view name : wake_law_names) {
    out += fmt::format(" `{}` | residual |", name);
    rule += "---|---|";
  }
  out += "\n" + rule + "\n";
  bool any = false;
  for (const Row& row : drafting.rows) {
    if (!row.work || !row.set_aside.empty()) continue;
    const Quantities quantities = row.work(wake_law(0));
    const Quantity* gap_m = find(quantities, "one_wheel_gap_m");
    if (!gap_m) continue;
    for (const Published& p : row.published) {
      if (p.is_bound() || p.place != 2 || !p.quantity.starts_with("drag")) continue;
      out += fmt::format("| {} | {:g} | {} | {:g} |", row.name, gap_m->values[0], words_of(p.quantity), p.value);
      for (std::size_t n = 0; n < wake_law_names.size(); ++n) out += answer(row, p, wake_law(n));
      out += "\n";
      any = true;
    }
  }
  return any ? out + "\n" : "";
}

std::string series_table(const Group& drafting) {
  const std::vector<Group> groups{drafting};
  std::vector<std::vector<Spread>> by_law;
  std::string out = "| rms of residuals, points | values |", rule = "|---|---|";
  for (std::size_t n = 0; n < wake_law_names.size(); ++n) {
    by_law.push_back(spreads(judge(groups, wake_law(n)).front()));
    out += fmt::format(" `{}` |", wake_law_names[n]);
    rule += "---|";
  }
  out += "\n" + rule + "\n";
  for (std::size_t s = 0; s < by_law[0].size(); ++s) {
    out += fmt::format("| {} | {} |", by_law[0][s].title, by_law[0][s].points);
    for (const std::vector<Spread>& spreads : by_law) out += fmt::format(" {:.1f} |", spreads[s].rms);
    out += "\n";
  }
  return out + "\n";
}

}  // namespace

std::string law_comparison(const Group& drafting) {
  const std::string one_wheel = one_wheel_table(drafting);
  if (one_wheel.empty()) return "";
  return fmt::format(head, wake_law_names[0], wake_law_names[0]) + one_wheel + series_table(drafting);
}

}  // namespace leewheel::evidence
