/// What `leewheel spread` writes for machines.

#include "app/spread_results.hpp"

#include <nlohmann/json.hpp>

#include "app/spread_words.hpp"
#include "io/csv.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "words/cautions.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

Json rider_json(const RiderSpread& r, std::size_t runs) {
  Json one{{"name", r.name}, {"finished_share", rounded(static_cast<double>(r.finished) / static_cast<double>(runs), 4)}};
  one["expected_time_s"] = r.expected_s ? json_number(*r.expected_s, 1) : Json(nullptr);
  if (r.time_s)
    one["time_s"] = {{"p5", rounded(r.time_s->p5, 1)},
                     {"p25", rounded(r.time_s->p25, 1)},
                     {"p50", rounded(r.time_s->p50, 1)},
                     {"p75", rounded(r.time_s->p75, 1)},
                     {"p95", rounded(r.time_s->p95, 1)}};
  one["dropped_share"] = rounded(r.dropped_share, 4);
  one["drops_a_run"] = rounded(r.drops_a_run, 3);
  for (const double share : r.dropped_by_stretch) one["first_dropped_by_stretch"].push_back(rounded(share, 4));
  if (r.shares) {
    for (std::size_t k = 0; k < r.shares->share.size(); ++k)
      one["variance"].push_back({{"input", shown_name(k)}, {"share", rounded(r.shares->share[k], 4)}});
    one["variance_rest"] = rounded(r.shares->rest, 4);
    one["adjusted_r2"] = rounded(r.shares->explained, 4);
  }
  return one;
}

}  // namespace

std::string spread_json(const Scenario& scenario, std::uint64_t seed, const SpreadAnswer& answer) {
  Json out{{"layout_version", json_layout::spread},
           {"title", scenario.title},
           {"runs", answer.runs},
           {"missing_runs", answer.missing},
           {"seed", seed},
           {"step_s", scenario.ride.step_s},
           {"inputs", Json::object()},
           {"riders", Json::array()},
           {"stretches", Json::array()}};
  for (const auto& field : uncertainty_fields()) out["inputs"][field.name] = scenario.uncertainty.*field.member;
  for (const RiderSpread& r : answer.riders) out["riders"].push_back(rider_json(r, answer.runs));
  for (const StretchSpread& s : answer.stretches)
    out["stretches"].push_back({{"from", s.where.from},
                                {"to", s.where.to},
                                {"from_m", s.where.from_m},
                                {"to_m", s.where.to_m},
                                {"whole_probability", rounded(s.whole_probability, 4)},
                                {"largest_share", rounded(s.largest_share, 4)}});
  out["method"] =
      "squared standardised regression coefficients (Saltelli et al. 2008, Global Sensitivity Analysis: The Primer)";
  out["cautions"] = planning_cautions;
  return json_text(out) + "\n";
}

std::string spread_csv(const Scenario& scenario, const std::vector<RunOutcome>& runs) {
  std::string text = csv_row({"run", "rider", "finished", "time_s", "wbal_end_J", "saved_J", "drops", "first_dropped_at_m"});
  for (std::size_t n = 0; n < runs.size(); ++n)
    for (std::size_t i = 0; i < runs[n].riders.size(); ++i) {
      const RiderOutcome& r = runs[n].riders[i];
      text += csv_row({std::to_string(n), csv_cell(scenario.riders[i].name), r.finished ? "1" : "0", csv_cell(r.time_s, 1),
                       csv_cell(r.wbal_end_J, 0), csv_cell(r.saved_J, 0), std::to_string(r.drops),
                       r.drops > 0 ? csv_cell(r.dropped_at_m, 0) : ""});
    }
  return text;
}

}  // namespace leewheel
