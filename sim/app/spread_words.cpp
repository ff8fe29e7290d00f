#include "app/spread_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "app/asking.hpp"
#include "leewheel/units.hpp"
#include "words/day_clock.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

std::string_view shown_name(std::size_t k) {
  if (k < all_inputs) return input_names[k];
  return k == all_inputs ? "the others' critical power" : "the others' drag area, W' and mass";
}

namespace {

/// Inputs shown, by their share of the variance, the mean over riders; the last: what none of them explains.
std::vector<double> mean_shares(const SpreadAnswer& answer) {
  std::vector<double> mean(shown_inputs + 1, 0.0);
  double riders = 0.0;
  for (const RiderSpread& r : answer.riders) {
    if (!r.shares) continue;
    riders += 1.0;
    for (std::size_t k = 0; k < shown_inputs; ++k) mean[k] += r.shares->share[k];
    mean.back() += r.shares->rest;
  }
  for (double& share : mean) share /= std::max(1.0, riders);
  return mean;
}

std::string last_home(const SpreadAnswer& answer, const DayClock& clock) {
  const RiderSpread* last = nullptr;
  for (const RiderSpread& r : answer.riders)
    if (r.time_s && (!last || r.time_s->p50 > last->time_s->p50)) last = &r;
  if (!last) return "Nobody is at the finish. ";
  return fmt::format("{} is last at the finish, on 9 of 10 days after {} to {}, in the middle {}. ", last->name,
                     clock_text(last->time_s->p5), clock_text(last->time_s->p95), clock.beside(last->time_s->p50));
}

std::string who_stays(const SpreadAnswer& answer) {
  if (answer.riders.size() < 2 || answer.stretches.empty()) return "";
  const auto less = [](const StretchSpread& a, const StretchSpread& b) { return a.whole_probability < b.whole_probability; };
  const auto most = std::max_element(answer.stretches.begin(), answer.stretches.end(), less);
  const auto least = std::min_element(answer.stretches.begin(), answer.stretches.end(), less);
  constexpr double hardly_share = 0.05;
  std::string text = most->whole_probability < hardly_share
                         ? std::string("The group hardly ever holds together")
                         : fmt::format("The group holds together best from {} to {}, on {:.0f} % of days", most->where.from,
                                       most->where.to, rounded(100.0 * most->whole_probability, 0));
  if (least != most && most->whole_probability >= hardly_share)
    text += fmt::format(", worst from {} to {}, on {:.0f} %", least->where.from, least->where.to,
                        rounded(100.0 * least->whole_probability, 0));
  const auto off = std::max_element(answer.riders.begin(), answer.riders.end(),
                                    [](const auto& a, const auto& b) { return a.dropped_share < b.dropped_share; });
  if (off->dropped_share <= 0.0) return text + "; nobody comes off. ";
  return text +
         fmt::format("; {} comes off most often, on {:.0f} % of days. ", off->name, rounded(100.0 * off->dropped_share, 0));
}

std::string missing_days(const SpreadAnswer& answer) {
  if (answer.missing.empty()) return "";
  return fmt::format("{} of {} runs failed and are missing.\n", answer.missing.size(), answer.runs + answer.missing.size());
}

std::string in_short(const Scenario& scenario, const SpreadAnswer& answer) {
  std::string text = last_home(answer, DayClock(scenario.start)) + who_stays(answer);
  const std::vector<double> shares = mean_shares(answer);
  const auto most = std::max_element(shares.begin(), shares.end() - 1);
  if (*most > 0.0)
    text += fmt::format("What decides the times most is {}: {:.0f} % of their variance.",
                        shown_name(static_cast<std::size_t>(most - shares.begin())), rounded(100.0 * *most, 0));
  return wrapped("In short   ", text, 120);
}

std::string arrivals(const SpreadAnswer& answer) {
  std::string text =
      fmt::format("{:<14} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>9} {:>9} {:>9}   {}\n", "at the finish", "expected", "5 %",
                  "25 %", "middle", "75 %", "95 %", "finished", "dropped", "times", "mostly (first drop)");
  for (const RiderSpread& r : answer.riders) {
    const auto most =
        std::max_element(r.dropped_by_stretch.begin(), r.dropped_by_stretch.end()) - r.dropped_by_stretch.begin();
    const RoadStretch& where = answer.stretches[static_cast<std::size_t>(most)].where;
    const auto at = [&](double Percentiles::*p) { return r.time_s ? clock_text((*r.time_s).*p) : std::string("-"); };
    text += fmt::format("{:<14} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8.0f}% {:>8.0f}% {:>9.1f}   {}\n", r.name,
                        r.expected_s ? clock_text(*r.expected_s) : "-", at(&Percentiles::p5), at(&Percentiles::p25),
                        at(&Percentiles::p50), at(&Percentiles::p75), at(&Percentiles::p95),
                        100.0 * static_cast<double>(r.finished) / static_cast<double>(answer.runs), 100.0 * r.dropped_share,
                        r.drops_a_run, r.dropped_share > 0.0 ? fmt::format("{} to {}", where.from, where.to) : "");
  }
  return text;
}

std::string groups(const SpreadAnswer& answer, const ShownUnits& units) {
  std::string text = fmt::format("{:<44} {:>14} {:>26}\n", "the group", "holds together", "of the field in the largest");
  for (const StretchSpread& s : answer.stretches)
    text += fmt::format("{:<44} {:>13.0f}% {:>25.0f}%\n",
                        fmt::format("{} to {} ({} {:.1f} to {:.1f})", s.where.from, s.where.to, units.way_name(),
                                    units.way(s.where.from_m), units.way(s.where.to_m)),
                        100.0 * s.whole_probability, 100.0 * s.largest_share);
  return text;
}

/// Inputs by their share, the mean over riders.
std::string matters(const SpreadAnswer& answer) {
  std::vector<const RiderSpread*> with_shares;
  for (const RiderSpread& r : answer.riders)
    if (r.shares) with_shares.push_back(&r);
  if (with_shares.empty())
    return fmt::format("Which input matters most: not shown with fewer than {} finished runs.\n",
                       least_runs_for_shares(answer.riders.size()));
  const std::vector<double> mean = mean_shares(answer);
  std::vector<std::size_t> order;
  for (std::size_t k = 0; k < shown_inputs; ++k) order.push_back(k);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return mean[a] > mean[b]; });
  std::string text = fmt::format("{:<35} {:>4}", "why the finish times differ, share", "mean");
  for (const RiderSpread* r : with_shares) text += fmt::format(" {:>8.8}", r->name);
  text += "\n";
  const auto row = [&](std::string_view name, double all, auto of) {
    text += fmt::format("{:<34} {:>4.0f}%", name, rounded(100.0 * all, 0));
    for (const RiderSpread* r : with_shares) text += fmt::format(" {:>7.0f}%", rounded(100.0 * of(*r->shares), 0));
    text += "\n";
  };
  for (const std::size_t k : order) row(shown_name(k), mean[k], [k](const VarianceShares& s) { return s.share[k]; });
  row("joint effects, curvature, chance", mean.back(), [](const VarianceShares& s) { return s.rest; });
  return text;
}

}  // namespace

std::string spread_words(const Scenario& scenario, const SpreadAnswer& answer, const ShownUnits& units) {
  return fmt::format("{}: {} runs, each with its own wind, fitness and coefficients (step {:g} s)\n{}\n", scenario.title,
                     answer.runs, scenario.ride.step_s, missing_days(answer)) +
         in_short(scenario, answer) + "\n" + arrivals(answer) + "\n" + groups(answer, units) + "\n" + matters(answer) +
         fmt::format(
             "\nExpected: the ride as `leewheel ride` rides it, with nothing drawn. Holds together: all riders in one group "
             "for {:.0f} % of the time until the first is through. Shares: "
             "squared standardised\n"
             "regression coefficients (Saltelli et al. 2008, Global Sensitivity Analysis: The Primer); the spreads of the "
             "inputs stand in\n"
             "`leewheel spread --inputs` and may be set in the scenario's `uncertainty:`.\n\n",
             100.0 * whole_from) +
         planning_cautions;
}

}  // namespace leewheel
