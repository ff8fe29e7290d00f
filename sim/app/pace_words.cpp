#include "app/pace_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/asking.hpp"
#include "words/day_clock.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

const std::string pace_cautions =
    std::string(planning_cautions) +
    "Brake early on descents whatever a table says; gusts are left out of this plan. Hard efforts "
    "are for the healthy and rested:\n"
    "stop at chest pain, dizziness or unusual breathlessness.\n";

namespace {

constexpr std::size_t most_told = 4;  // instructions that one sentence holds

std::string power_cell(double power_W) { return power_W > 0.0 ? fmt::format("{:.0f}", power_W) : "roll"; }

std::string place_text(const PacedSection& section, const ShownUnits& units) {
  if (section.from_m <= 0.0) return "the start";
  return section.name.empty() ? fmt::format("{} {:.2f}", units.way_name(), units.way(section.from_m)) : section.name;
}

/// The landmark where a section begins, or the last one passed.
std::string place_of(const PacedSection& section, const Road& road) {
  if (!section.name.empty()) return section.name;
  std::string last;
  for (const Landmark& mark : road.landmarks())
    if (mark.distance_m <= section.from_m) last = mark.name;
  return last.empty() ? "" : "past " + last;
}

std::string watts(double power_W) { return power_W > 0.0 ? fmt::format("{:.0f} W", power_W) : "roll"; }

/// "260 W uphill and 130 W downhill", "210 W", "roll".
std::string rule_text(const PacedSection& section) {
  if (!section.by_rule) return watts(section.power_W);
  return fmt::format("{:.0f} W uphill and on the flat, {} downhill", section.power_W,
                     section.falling_W > 0.0 ? watts(section.falling_W) : "roll");
}

/// A rule in two changes the power at each crest and foot: how often in all, where that is more often than the instructions.
std::string changes_text(const Pacing& pacing) {
  const std::size_t changes = pacing.steps(1.0).size() - 1;
  if (changes < pacing.sections.size()) return "";
  return fmt::format("; by their rules the power changes {} times, with the road", changes);
}

/// What to do, in one sentence: all of it where that is short, else how to begin and where it is hardest and easiest.
std::string plan_text(const Pacing& pacing, const ShownUnits& units) {
  const std::vector<PacedSection>& rows = pacing.sections;
  const auto even = [&](const PacedSection& s) { return rule_text(s) == rule_text(rows.front()); };
  if (std::all_of(rows.begin(), rows.end(), even)) return "Ride " + rule_text(rows.front()) + " all the way.";
  if (rows.size() <= most_told) {
    std::string text = "Ride " + rule_text(rows.front());
    for (std::size_t k = 1; k < rows.size(); ++k)
      text += fmt::format("; from {} {}", place_text(rows[k], units), rule_text(rows[k]));
    return text + ".";
  }
  std::size_t hardest = 0, easiest = 0;
  for (std::size_t k = 1; k < rows.size(); ++k) {
    if (rows[k].power_W > rows[hardest].power_W) hardest = k;
    if (rows[k].power_W < rows[easiest].power_W) easiest = k;
  }
  const auto to = [&](std::size_t k) {
    return k + 1 < rows.size() ? "to " + place_text(rows[k + 1], units) : std::string("to the finish");
  };
  return fmt::format("Begin with {}; hardest is {} from {} {}, easiest {} from {} {}; {} instructions in all, below{}.",
                     rule_text(rows.front()), rule_text(rows[hardest]), place_text(rows[hardest], units), to(hardest),
                     rule_text(rows[easiest]), place_text(rows[easiest], units), to(easiest), rows.size(),
                     changes_text(pacing));
}

std::string decide_text(const Pacing& pacing, const ShownUnits& units) {
  for (const PacedSection& s : pacing.sections)
    if (s.from_m == pacing.decide_at_m && !s.name.empty())
      return fmt::format("{} ({} {:.2f})", s.name, units.way_name(), units.way(s.from_m));
  return fmt::format("{} {:.2f}", units.way_name(), units.way(pacing.decide_at_m));
}

/// "8 W more", "12 W less", "as planned".
std::string change_text(double change_W) {
  if (change_W == 0.0) return "as planned";
  return fmt::format("{:.0f} W {}", std::abs(change_W), change_W > 0.0 ? "more" : "less");
}

void print_sections(const Pacing& pacing, const Scenario& scenario, double critical_power_W, const ShownUnits& units) {
  const DayClock clock(scenario.start);
  const auto line = [&](const char* from, const char* to, const std::vector<std::string>& cells, const std::string& begins) {
    fmt::print("  {:>5}{}{:>5}  {:<20} {:>6} {:>9} {:>6} {:>5} {:>8} {:>7} {:>6} {:>7}{}\n", from, cells[0], to, cells[1],
               cells[2], cells[3], cells[4], cells[5], cells[6], cells[7], cells[8], cells[9],
               clock.known() ? fmt::format("  {:>5}", begins) : "");
  };
  line("from", "to", {"   ", "", "slope", "headwind", "ride", "CP", "downhill", "ridden", "for", "W' left"}, "from");
  line(units.way_name(), units.way_name(), {"   ", "", "%", units.wind_name(), "W", "%", "W", "mean W", "", "kJ"}, "clock");
  double begins_s = 0.0;
  for (const PacedSection& s : pacing.sections) {
    const auto number = [](double value, int decimals) { return fmt::format("{:.{}f}", value, decimals); };
    line(number(units.way(s.from_m), 2).c_str(), number(units.way(s.to_m), 2).c_str(),
         {" - ", place_of(s, scenario.road), number(100.0 * s.grade, 1), number(units.wind(s.headwind_mps), 0),
          power_cell(s.power_W), number(100.0 * s.power_W / critical_power_W, 0), s.by_rule ? power_cell(s.falling_W) : "",
          number(s.ridden_W, 0), clock_text(s.time_s), number(s.wbal_end_J / 1e3, 1)},
         clock.at(begins_s));
    begins_s += s.time_s;
  }
  for (const PacedSection& s : pacing.sections)
    if (s.held) fmt::print("From {} on: descent, roll; bends or the speed limit hold you.\n", place_text(s, units));
}

void print_bad_day(const Pacing& pacing, const PacingSettings& settings, const ShownUnits& units) {
  const DayOutcome& bad = pacing.bad_day;
  fmt::print("  bad          {} from there (critical power {:+.0f} %): {}, W' never below {:.1f} kJ\n",
             change_text(bad.change_W), 100.0 * settings.bad_day_share, clock_text(bad.adjusted_s),
             std::max(0.0, bad.adjusted_least_J) / 1e3);
  fmt::print("               the plan kept would take {} and leave {:.1f} kJ", clock_text(bad.kept_s),
             std::max(0.0, bad.kept_least_J) / 1e3);
  if (bad.empty_at_m >= 0.0)
    fmt::print(": empty at {} {:.1f}, and on at critical power, which few can", units.way_name(), units.way(bad.empty_at_m));
  fmt::print("\n");
  if (bad.adjusted_s > bad.kept_s)
    fmt::print("               the change costs {:.0f} s and buys {:.1f} kJ of reserve, no time\n",
               bad.adjusted_s - bad.kept_s, (bad.adjusted_least_J - std::max(0.0, bad.kept_least_J)) / 1e3);
}

void print_days(const Pacing& pacing, const PacingSettings& settings, const ShownUnits& units) {
  const DayOutcome& good = pacing.good_day;
  fmt::print("\nHow the day goes: decide at {}, {} from the start, by how it feels. Not by heart rate: it settles late.\n",
             decide_text(pacing, units), clock_text(pacing.decide_at_s));
  fmt::print("  as expected  the table as it stands: {}\n", clock_text(pacing.time_s));
  fmt::print(
      "  good         {} from there (critical power {:+.0f} %): {}, {:.0f} s sooner than by keeping the plan; W' never "
      "below {:.1f} kJ\n",
      change_text(good.change_W), 100.0 * settings.good_day_share, clock_text(good.adjusted_s),
      good.kept_s - good.adjusted_s, good.adjusted_least_J / 1e3);
  print_bad_day(pacing, settings, units);
}

void print_limits(const Pacing& pacing, const PacingSettings& settings) {
  fmt::print(
      "\nLimits (assumed, see the options): no harder than {:.0f} W; no easier than {:.0f} W but downhill; no harder than "
      "even power\nin the first {}; W' above {:.1f} kJ until the last third and {:.1f} kJ to the finish; an instruction "
      "holds {:.0f} s or more\n(a rule in two changes the power where the road begins to rise or fall); told as even what "
      "gains less than {:.0f} s.\n",
      pacing.hardest_W, pacing.easiest_W, clock_text(pacing.calm_s), pacing.early_J / 1e3, pacing.reserve_J / 1e3,
      settings.changes_every_s, settings.worth_share * pacing.even_time_s);
}

/// "flat", "downhill, at 162 W" where the instruction asks for another power uphill.
std::string easing_text(const Recovery& r, const Pacing& pacing) {
  const char* const name = easing_names[static_cast<std::size_t>(r.easing)];
  for (const PacedSection& s : pacing.sections)
    if (s.from_m == r.from_m && s.by_rule && r.easing == Easing::dip)
      return s.falling_W > 0.0 ? fmt::format("{}, at {}", name, watts(s.falling_W)) : fmt::format("{}, rolling", name);
  return name;
}

void print_recoveries(const Pacing& pacing, const ShownUnits& units) {
  fmt::print("\nWhere you recover:\n");
  for (const Recovery& r : pacing.recoveries)
    fmt::print("  {} {:.2f} - {:.2f}  {:<20} {} for {:.1f} kJ of W'\n", units.way_name(), units.way(r.from_m),
               units.way(r.to_m), easing_text(r, pacing), clock_text(r.time_s), r.regained_J / 1e3);
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

void print_answer(const Pacing& pacing, const Scenario& scenario, const PacingSettings& settings, const ShownUnits& units) {
  fmt::print("{}", wrapped("", plan_text(pacing, units), 120));
  fmt::print("{}",
             wrapped("",
                     fmt::format("On a good day {} from {} on, on a bad one {}.", change_text(pacing.good_day.change_W),
                                 decide_text(pacing, units), change_text(pacing.bad_day.change_W)),
                     120));
  if (pacing.even_is_best)
    fmt::print(
        "\n{} alone on {}: {}. Within the limits below no varied plan gains as much as {:.0f} s over an even {:.1f} W.\n",
        pacing.rider, scenario.title, clock_text(pacing.time_s), settings.worth_share * pacing.even_time_s,
        pacing.even_power_W);
  else
    fmt::print("\n{} alone on {}: {}, {:.0f} s sooner than at an even {:.1f} W, whose lowest W' is the same.\n",
               pacing.rider, scenario.title, clock_text(pacing.time_s), pacing.even_time_s - pacing.time_s,
               pacing.even_power_W);
  fmt::print(
      "Middle 80 % of {} drawn days, legs unsteady as they are: {} to {}; saved against even power {:.0f} to {:.0f} s.\n",
      settings.days, clock_text(pacing.time_low_s), clock_text(pacing.time_high_s), pacing.gain_low_s, pacing.gain_high_s);
}

}  // namespace

void print_pacing(const Pacing& pacing, const Scenario& scenario, const RiderSettings& rider, const PacingSettings& settings,
                  const ShownUnits& units) {
  print_answer(pacing, scenario, settings, units);
  fmt::print("Strength: critical power {:.0f} W", rider.critical_power_W);
  if (settings.sustained_share != 1.0) fmt::print(" (planned with {:.0f} % of it)", 100.0 * settings.sustained_share);
  fmt::print(", W' {:.1f} kJ of which {:.1f} stay in reserve and {:.1f} more for unsteady legs, recovery law {}.\n\n",
             rider.w_prime_J / 1e3, pacing.reserve_J / 1e3, pacing.unsteady_J / 1e3,
             recovery_law_names[static_cast<std::size_t>(pacing.recovery_law)]);
  if (scenario.ride.fatigue || scenario.heat.on)
    fmt::print("{} on: read the powers as shares (CP %) of the critical power you have left by then.\n\n",
               !scenario.heat.on       ? "Fatigue is"
               : scenario.ride.fatigue ? "Fatigue and heat are"
                                       : "Heat is");
  print_sections(pacing, scenario, rider.critical_power_W, units);
  print_days(pacing, settings, units);
  print_recoveries(pacing, units);
  print_heart(pacing);
  print_limits(pacing, settings);
  if (pacing.time_s > 3600.0)
    fmt::print(
        "\nThe model of strength is at home from 2 to 20 minutes; over more than an hour it flatters: think of --sustained "
        "0.95 or less.\n");
  fmt::print("\n{}", pace_cautions);
}

}  // namespace leewheel
