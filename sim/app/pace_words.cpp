#include "app/pace_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "app/asking.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

const std::string pace_cautions =
    std::string(planning_cautions) +
    "Brake early on descents whatever a table says; gusts are left out of this plan. Hard efforts "
    "are for the healthy and rested:\n"
    "stop at chest pain, dizziness or unusual breathlessness.\n";

namespace {

/// The landmark where a section begins, or the last one passed.
std::string place_of(const PacedSection& section, const Road& road) {
  if (!section.name.empty()) return section.name;
  std::string last;
  for (const Landmark& mark : road.landmarks())
    if (mark.distance_m <= section.from_m) last = mark.name;
  return last.empty() ? "" : "past " + last;
}

void print_sections(const Pacing& pacing, const Road& road, double critical_power_W, const ShownUnits& units) {
  fmt::print("  {:>5}   {:>5}  {:<20} {:>6} {:>9} {:>6} {:>5} {:>6} {:>7}   {}\n", "from", "to", "", "slope", "headwind",
             "ride", "CP", "for", "W' left", "once decided, on a day");
  fmt::print("  {:>5}   {:>5}  {:<20} {:>6} {:>9} {:>6} {:>5} {:>6} {:>7}   {:>6} {:>7}\n", units.way_name(),
             units.way_name(), "", "%", units.wind_name(), "W", "%", "", "kJ", "good W", "bad W");
  for (const PacedSection& s : pacing.sections) {
    const bool open = s.from_m >= pacing.decide_at_m;
    fmt::print("  {:5.2f} - {:5.2f}  {:<20} {:6.1f} {:9.1f} {:6.0f} {:5.0f} {:>6} {:7.1f}   {:>6} {:>7}\n",
               units.way(s.from_m), units.way(s.to_m), place_of(s, road), 100.0 * s.grade, units.wind(s.headwind_mps),
               s.power_W, 100.0 * s.power_W / critical_power_W, clock_text(s.time_s), s.wbal_end_J / 1e3,
               open ? fmt::format("{:.0f}", s.good_day_W) : "as set", open ? fmt::format("{:.0f}", s.bad_day_W) : "as set");
  }
}

std::string mark_near(const Pacing& pacing, const ShownUnits& units) {
  for (const PacedSection& s : pacing.sections)
    if (s.from_m == pacing.decide_at_m && !s.name.empty())
      return fmt::format("{} ({} {:.2f})", s.name, units.way_name(), units.way(s.from_m));
  return fmt::format("{} {:.2f}", units.way_name(), units.way(pacing.decide_at_m));
}

void print_days(const Pacing& pacing, const PacingSettings& settings, const ShownUnits& units) {
  const DayOutcome &bad = pacing.bad_day, &good = pacing.good_day;
  fmt::print("\nHow the day goes: decide at {}, {} from the start, by how it feels. Not by heart rate: it settles late.\n",
             mark_near(pacing, units), clock_text(pacing.decide_at_s));
  fmt::print("  as expected  the table as it stands: {}\n", clock_text(pacing.time_s));
  fmt::print("  bad          {:+.0f} W on average from there (critical power {:+.0f} %): {}, W' never below {:.1f} kJ\n",
             bad.change_W, 100.0 * settings.bad_day_share, clock_text(bad.adjusted_s),
             std::max(0.0, bad.adjusted_least_J) / 1e3);
  fmt::print(
      "  good         {:+.0f} W on average from there (critical power {:+.0f} %): {}, {:.0f} s sooner than by keeping the "
      "plan\n",
      good.change_W, 100.0 * settings.good_day_share, clock_text(good.adjusted_s), good.kept_s - good.adjusted_s);
  fmt::print("The plan kept on a bad day loses {:.0f} s and leaves {:.1f} kJ of W' at its lowest",
             bad.kept_s - pacing.time_s, std::max(0.0, bad.kept_least_J) / 1e3);
  if (bad.empty_at_m >= 0.0)
    fmt::print("; you would be empty at {} {:.1f} and hang on at critical power", units.way_name(),
               units.way(bad.empty_at_m));
  fmt::print(".\n");
}

void print_recoveries(const Pacing& pacing, const ShownUnits& units) {
  fmt::print("\nWhere you recover:\n");
  for (const Recovery& r : pacing.recoveries)
    fmt::print("  {} {:.2f} - {:.2f}  {:<16} {} for {:.1f} kJ of W'\n", units.way_name(), units.way(r.from_m),
               units.way(r.to_m), easing_names[static_cast<std::size_t>(r.easing)], clock_text(r.time_s),
               r.regained_J / 1e3);
  if (!pacing.recoveries.empty()) return;
  fmt::print("  nowhere by more than one percent of W'; easiest on");
  for (const std::size_t k : pacing.easiest)
    fmt::print(" {} {:.1f}-{:.1f} ({:.0f} W)", units.way_name(), units.way(pacing.sections[k].from_m),
               units.way(pacing.sections[k].to_m), pacing.sections[k].power_W);
  fmt::print("\n");
}

void print_heart(const Pacing& pacing) {
  if (pacing.heart.empty()) return;
  fmt::print(
      "\nHeart rate at the start: do not chase it. Share of the way up to where {:.0f} W takes it (time constant +-40 %, "
      "from memory):\n",
      pacing.sections.front().power_W);
  for (const HeartRise& h : pacing.heart)
    fmt::print("  after {}   {:3.0f} %   ({:.0f} to {:.0f})\n", clock_text(h.time_s), 100.0 * h.share, 100.0 * h.least_share,
               100.0 * h.most_share);
}

}  // namespace

void print_pacing(const Pacing& pacing, const Scenario& scenario, const RiderSettings& rider, const PacingSettings& settings,
                  const ShownUnits& units) {
  const double gain_s = pacing.even_time_s - pacing.time_s;
  fmt::print("{} alone on {}: {} by this plan, {} at an even {:.0f} W ({:.0f} s or {:.1f} % saved at the same reserve)\n",
             pacing.rider, scenario.title, clock_text(pacing.time_s), clock_text(pacing.even_time_s), pacing.even_power_W,
             gain_s, 100.0 * gain_s / pacing.even_time_s);
  if (pacing.even_is_best) fmt::print("No plan in whole steps is quicker than the even power here: ride even.\n");
  fmt::print("Middle 80 % of {} drawn days with the plan kept: {} to {}; saved against even power {:.0f} to {:.0f} s.\n",
             settings.days, clock_text(pacing.time_low_s), clock_text(pacing.time_high_s), pacing.gain_low_s,
             pacing.gain_high_s);
  fmt::print("Strength: critical power {:.0f} W", rider.critical_power_W);
  if (settings.sustained_share != 1.0) fmt::print(" (planned with {:.0f} % of it)", 100.0 * settings.sustained_share);
  fmt::print(", W' {:.1f} kJ of which {:.1f} stay in reserve, recovery law {}.\n\n", rider.w_prime_J / 1e3,
             pacing.reserve_J / 1e3, recovery_law_names[static_cast<std::size_t>(pacing.recovery_law)]);
  if (scenario.ride.fatigue)
    fmt::print("Fatigue is on: read the powers as shares (CP %) of the critical power you have left by then.\n\n");
  print_sections(pacing, scenario.road, rider.critical_power_W, units);
  print_days(pacing, settings, units);
  print_recoveries(pacing, units);
  print_heart(pacing);
  if (pacing.time_s > 3600.0)
    fmt::print(
        "\nThe model of strength is at home from 2 to 20 minutes; over more than an hour it flatters: think of --sustained "
        "0.95 or less.\n");
  fmt::print("\n{}", pace_cautions);
}

}  // namespace leewheel
