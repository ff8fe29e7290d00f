/// `leewheel pace`: the best power along the road for one rider.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "io/atomic_file.hpp"
#include "io/plan_file.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/pacing.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string scenario_path, rider, output;
  PacingSettings settings;
  bool json = false, quiet = false;
  ShownUnits units;
};

constexpr const char* examples = R"(Example:
  leewheel pace scenarios/larkmoor/scenario.yaml --rider Cato -o plan.yaml

The file holds `plan:` entries; put them below the rider's name in the scenario to ride the plan.
)";

const std::string cautions = std::string(planning_cautions) +
                             "Brake early on descents whatever a table says; gusts are left out of this plan. Hard efforts "
                             "are for the healthy and rested:\n"
                             "stop at chest pain, dizziness or unusual breathlessness.\n";

// --- in words ----------------------------------------------------------------------------------------------------------

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

void print_plan(const Pacing& pacing, const Scenario& scenario, const RiderSettings& rider, const PacingSettings& settings,
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
  fmt::print("\n{}", cautions);
}

// --- for machines ------------------------------------------------------------------------------------------------------

nlohmann::ordered_json day_json(const DayOutcome& day) {
  return {{"critical_power_W", day.critical_power_W},
          {"kept_s", day.kept_s},
          {"kept_least_wbal_J", day.kept_least_J},
          {"empty_at_m", day.empty_at_m < 0.0 ? nlohmann::ordered_json(nullptr) : nlohmann::ordered_json(day.empty_at_m)},
          {"adjusted_s", day.adjusted_s},
          {"adjusted_least_wbal_J", day.adjusted_least_J},
          {"change_W", day.change_W}};
}

nlohmann::ordered_json json_of(const Pacing& pacing, const PacingSettings& settings) {
  using Json = nlohmann::ordered_json;
  Json out{{"rider", pacing.rider}, {"found", pacing.found}};
  if (!pacing.found) {
    out["why_not"] = pacing.why_not;
    return out;
  }
  out.update({{"time_s", pacing.time_s},
              {"time_low_s", pacing.time_low_s},
              {"time_high_s", pacing.time_high_s},
              {"days", settings.days},
              {"mean_power_W", pacing.mean_power_W},
              {"even_power_W", pacing.even_power_W},
              {"even_time_s", pacing.even_time_s},
              {"even_is_best", pacing.even_is_best},
              {"saved_low_s", pacing.gain_low_s},
              {"saved_high_s", pacing.gain_high_s},
              {"reserve_J", pacing.reserve_J},
              {"wbal_least_J", pacing.wbal_least_J},
              {"wbal_end_J", pacing.wbal_end_J},
              {"recovery_law", recovery_law_names[static_cast<std::size_t>(pacing.recovery_law)]},
              {"decide_at_m", pacing.decide_at_m},
              {"decide_at_s", pacing.decide_at_s}});
  for (const PacedSection& s : pacing.sections)
    out["sections"].push_back({{"from_m", s.from_m},
                               {"to_m", s.to_m},
                               {"name", s.name},
                               {"grade", s.grade},
                               {"headwind_mps", s.headwind_mps},
                               {"power_W", s.power_W},
                               {"good_day_W", s.good_day_W},
                               {"bad_day_W", s.bad_day_W},
                               {"time_s", s.time_s},
                               {"wbal_end_J", s.wbal_end_J}});
  out["bad_day"] = day_json(pacing.bad_day);
  out["good_day"] = day_json(pacing.good_day);
  out["recoveries"] = Json::array();
  for (const Recovery& r : pacing.recoveries)
    out["recoveries"].push_back({{"from_m", r.from_m},
                                 {"to_m", r.to_m},
                                 {"kind", easing_names[static_cast<std::size_t>(r.easing)]},
                                 {"time_s", r.time_s},
                                 {"regained_J", r.regained_J}});
  out["heart_rise"] = Json::array();
  for (const HeartRise& h : pacing.heart)
    out["heart_rise"].push_back(
        {{"time_s", h.time_s}, {"share", h.share}, {"least_share", h.least_share}, {"most_share", h.most_share}});
  out["cautions"] = cautions;
  return out;
}

int run(const Options& options) {
  const Scenario scenario = asked_scenario(options.scenario_path);
  const std::size_t rider = rider_named(options.scenario_path, scenario, options.rider);
  const Pacing pacing = best_pacing(scenario, rider, options.settings);
  if (options.json && !options.quiet) fmt::print("{}\n", json_of(pacing, options.settings).dump(2));
  if (!pacing.found) {
    if (!options.quiet && !options.json) fmt::print("No plan for {}: {}.\n", pacing.rider, pacing.why_not);
    return exit_answer_no;
  }
  const double critical_power_W = scenario.riders[rider].critical_power_W;
  if (!options.json && !options.quiet) print_plan(pacing, scenario, scenario.riders[rider], options.settings, options.units);
  if (options.output.empty()) return exit_ok;
  const std::string comment =
      fmt::format("{} alone on {}: {} with {:.0f} % of W' in reserve. Put this below the rider's name in a scenario.\n{}",
                  pacing.rider, scenario.title, clock_text(pacing.time_s), 100.0 * options.settings.reserve_share, cautions);
  write_whole_file(options.output, plan_yaml(pacing.steps(critical_power_W), critical_power_W, comment));
  if (!options.quiet && !options.json) fmt::print("\nWritten to {}\n", options.output);
  return exit_ok;
}

}  // namespace

Command add_pace_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command =
      app.add_subcommand("pace", "find the best power along the road for one rider alone, section by section");
  command->footer(examples);
  command->add_option("scenario", options->scenario_path, "scenario file (YAML)")->required();
  command->add_option("--rider", options->rider, "rider whose plan to find")->required();
  command->add_option("--reserve", options->settings.reserve_share, "share of W' kept in reserve to the top")
      ->check(number_within(0.0, 0.9))
      ->capture_default_str();
  command
      ->add_option("--sustained", options->settings.sustained_share,
                   "share of critical power to plan with: below 1 for long or hot days")
      ->check(number_within(0.5, 1.05))
      ->capture_default_str();
  command->add_option("--section-m", options->settings.least_section_m, "shortest section (m)")
      ->check(number_within(200.0, 20000.0))
      ->capture_default_str();
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print the plan as JSON");
  command->add_option("-o,--out", options->output, "write the plan to this file, in the form a scenario takes");
  command->add_flag("--quiet", options->quiet, "print nothing; files are still written");
  return [options] { return run(*options); };
}

}  // namespace leewheel
