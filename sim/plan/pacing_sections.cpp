#include "plan/pacing_sections.hpp"

#include <algorithm>
#include <cmath>

#include "plan/pacing_demand.hpp"
#include "plan/pacing_ride.hpp"

namespace leewheel {

namespace {

constexpr double longest_section_s = 300.0;  // W' is followed in steps no longer: strength fades, limits begin (assumed)
constexpr double phases = 12.0;              // of a ride, in which a rule may change (assumed)
constexpr double landmark_reach_m = 60.0;    // a cut lies on a landmark this near
constexpr double worth_a_cut =
    0.025;  // spread of log speed (root mean square over the ride) that an instruction must explain (assumed)

double time_s(const Demand& d, std::size_t from, std::size_t to) { return d.passed_s[to] - d.passed_s[from]; }

/// Near a crest or a foot an instruction begins there.
void move_to_turns(const Demand& d, std::vector<std::size_t>& parts) {
  constexpr std::size_t near = 4;  // blocks, as far as the slope is smoothed
  for (std::size_t k = 1; k + 1 < parts.size(); ++k) {
    std::size_t best = parts[k], best_off = near + 1;
    for (std::size_t b = std::max(parts[k - 1] + 1, parts[k] - std::min(parts[k], near));
         b < std::min(parts[k + 1], parts[k] + near + 1); ++b) {
      const std::size_t off = b > parts[k] ? b - parts[k] : parts[k] - b;
      if (d.falls[b] != d.falls[b - 1] && off < best_off) best = b, best_off = off;
    }
    parts[k] = best;
  }
}

/// A part that the calm start ends in is cut there, so that what follows is free, where both pieces last long enough.
void cut_after_calm(const Demand& d, std::vector<std::size_t>& parts, const PacingSettings& settings) {
  constexpr double later = 1.05;  // even power may be there a little sooner than the one this was ridden at
  const double calm_s = later * calm_for_s(d.passed_s.back(), settings);
  for (std::size_t k = 0; k + 1 < parts.size(); ++k) {
    if (d.passed_s[parts[k + 1]] <= calm_s) continue;
    const double begun_s = d.passed_s[parts[k]];
    const double place_s = parts[k] == 0 ? calm_s : std::max(calm_s, begun_s + settings.changes_every_s);
    if (begun_s >= calm_s || d.passed_s[parts[k + 1]] - place_s < settings.changes_every_s) return;
    const auto at = std::lower_bound(d.passed_s.begin(), d.passed_s.end(), place_s) - d.passed_s.begin();
    parts.insert(parts.begin() + static_cast<std::ptrdiff_t>(k) + 1, static_cast<std::size_t>(at));
    return;
  }
}

/// Sections of one part: runs of what rises and what falls. A long one begins an instruction of its own; short ones make a
/// rule with what was before, which may change after `phase_s`, since W' does not allow the same all along.
void lay_part(const Demand& d, std::size_t from, std::size_t to, double least_s, double phase_s, Layout& layout) {
  std::size_t begun = from, last_lever[2] = {0, 0};
  bool has[2] = {false, false};
  for (std::size_t a = from, b = from; a < to; a = b) {
    for (b = a + 1; b < to && d.falls[b] == d.falls[a];) ++b;
    const double so_far_s = time_s(d, begun, a), to_come_s = time_s(d, a, to);
    if (a == from || (time_s(d, a, b) >= least_s && so_far_s >= least_s) ||
        (!d.falls[a] && so_far_s >= phase_s && to_come_s >= least_s)) {
      begun = a;
      has[0] = has[1] = false;
      layout.begins.push_back(layout.sections());
    }
    const std::size_t c = d.falls[a] ? 1 : 0;
    if (!has[c]) last_lever[c] = layout.levers(), has[c] = true;
    for (std::size_t from_block = a, to_block = a; from_block < b; from_block = to_block) {
      while (to_block < b && (to_block == from_block || time_s(d, from_block, to_block) < longest_section_s)) ++to_block;
      layout.cuts_m.push_back(d.ends_m[to_block]);
      layout.falls.push_back(d.falls[a]);
      layout.lever.push_back(last_lever[c]);
    }
  }
}

void move_to_landmarks(const Road& road, std::vector<double>& cuts_m) {
  for (const Landmark& mark : road.landmarks())
    for (std::size_t k = 1; k + 1 < cuts_m.size(); ++k)
      if (std::abs(cuts_m[k] - mark.distance_m) < landmark_reach_m && mark.distance_m > cuts_m[k - 1] + 1.0 &&
          mark.distance_m < cuts_m[k + 1] - 1.0) {
        cuts_m[k] = mark.distance_m;
        break;
      }
}

}  // namespace

std::size_t Layout::levers() const { return lever.empty() ? 0 : *std::max_element(lever.begin(), lever.end()) + 1; }

double calm_for_s(double even_time_s, const PacingSettings& settings) {
  return std::min(settings.calm_s, settings.calm_share * even_time_s);
}

Layout layout_of(const Scenario& solo, double power_W, const PacingSettings& settings) {
  const Demand demand = demand_of(solo, power_W);
  for (double least_s = settings.changes_every_s;; least_s = std::max(1.0, 1.2 * least_s)) {
    std::vector<std::size_t> parts = runs_of(demand, least_s, worth_a_cut * worth_a_cut);
    move_to_turns(demand, parts);
    cut_after_calm(demand, parts, settings);
    Layout layout;
    layout.cuts_m.push_back(0.0);
    const double phase_s = std::max(least_s, demand.passed_s.back() / phases);
    for (std::size_t k = 0; k + 1 < parts.size(); ++k) lay_part(demand, parts[k], parts[k + 1], least_s, phase_s, layout);
    move_to_landmarks(solo.road, layout.cuts_m);
    const bool parted_no_more = least_s > demand.passed_s.back();
    if (layout.begins.size() <= settings.most_instructions || parted_no_more) return layout;
  }
}

std::vector<double> pacing_cuts_m(const Scenario& scenario, std::size_t rider, double power_W,
                                  const PacingSettings& settings) {
  return layout_of(rehearsal(scenario, rider), power_W, settings).cuts_m;
}

}  // namespace leewheel
