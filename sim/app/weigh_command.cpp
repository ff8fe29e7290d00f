/// `leewheel weigh`: one rider's choices over one stretch, ridden against each other.

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <array>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <thread>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "app/progress.hpp"
#include "io/scenario_reader.hpp"
#include "leewheel/weigh.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

struct Options {
  std::string scenario_path, rider, from = "start", to = "finish";
  bool json = false, quiet = false;
  ShownUnits units;
  std::size_t runs = 16;
  std::optional<std::uint64_t> seed;
  int threads = static_cast<int>(std::max(1u, std::thread::hardware_concurrency()));
};

constexpr const char* examples = R"(Example:
  leewheel weigh scenarios/larkmoor/scenario.yaml --rider Elin --from 600 --to 4000

Exit codes: 0 a choice pays, 1 no choice makes a difference, 2 bad input or arguments, 3 stopped before the end.
)";

constexpr std::array<const char*, ways_to_ride> way_words{"as planned",   "alone",   "sitting in",
                                                          "taking turns", "waiting", "letting go"};
constexpr std::array<const char*, ways_to_ride> way_advice{"ride as planned",           "ride alone", "sit in", "take turns",
                                                           "wait for the group behind", "let go"};
constexpr std::array<const char*, 3> verdict_words{"no_difference", "uncertain", "pays"};

struct Question {
  const Scenario& scenario;
  WeighSettings settings;
  ShownUnits units;
  const RiderSettings& rider() const { return scenario.riders[settings.rider]; }
};

std::string span(const DayRange& r, double unit, int decimals) {
  return fmt::format("{:.{}f} ({:.{}f} to {:.{}f})", r.middle / unit, decimals, r.low / unit, decimals, r.high / unit,
                     decimals);
}
std::string span_of_times(const DayRange& r) {
  return fmt::format("{} ({} to {})", clock_text(r.middle), clock_text(r.low), clock_text(r.high));
}
std::string signed_whole(double value) {
  return std::lround(value) == 0 ? "0" : fmt::format("{:+.0f}", value);
}  // never "-0"
std::string signed_span(const DayRange& r) {
  return fmt::format("{} ({} to {})", signed_whole(r.middle), signed_whole(r.low), signed_whole(r.high));
}

std::string notes_on(const WayWeighed& way, const Weighing& weighing) {
  if (way.reached < weighing.days) return fmt::format("reached its end on {} of {} days", way.reached, weighing.days);
  if (way.way != as_planned && way.same_as_planned >= 0.5)
    return fmt::format("same as planned on {:.0f} % of days", 100.0 * way.same_as_planned);
  return "";
}

std::string table(const Weighing& weighing) {
  std::string text = fmt::format("{:<13} {:>25} {:>20} {:>20} {:>10} {:>9}  {:<22}\n", "", "time over the stretch",
                                 "work, kJ", "W' at its end, kJ", "at the top", "W' there", "worth against alone, s");
  for (const WayWeighed& way : weighing.ways)
    text += fmt::format("{:<13} {:>25} {:>20} {:>20} {:>10} {:>9.1f}  {:<22} {}\n", way_words[way.way],
                        span_of_times(way.time_s), span(way.work_J, 1e3, 0), span(way.wbal_J, 1e3, 1),
                        clock_text(way.top_time_s.middle), way.top_wbal_J.middle / 1e3,
                        way.way == way_of(Choice::alone) ? "0" : signed_span(way.worth_s), notes_on(way, weighing));
  return text;
}

std::string reason(const Question& q, const WeighReason& r) {
  const std::string along = std::abs(r.headwind_mps) < 0.05
                                ? std::string("no wind along the road")
                                : fmt::format("{} {:.1f} {}", r.headwind_mps > 0.0 ? "headwind" : "tailwind",
                                              q.units.wind(std::abs(r.headwind_mps)), q.units.wind_name());
  return fmt::format(
      "Why: alone {} rides {:.1f} {} here at {:.0f} W, {:.1f} % up, {} and {:.1f} {} across: {:.0f} % of the power goes "
      "into "
      "the air.\nA wheel takes {:.0f} % off the drag and so saves {:.0f} W ({:.0f} %) at that speed. One percent of work is "
      "worth {:.2f} % of time.\n",
      q.rider().name, q.units.speed(r.speed_mps), q.units.speed_name(), r.power_W, 100.0 * r.grade, along,
      q.units.wind(r.crosswind_mps), q.units.wind_name(), 100.0 * r.air_share, 100.0 * (1.0 - r.wheel_factor_of),
      r.wheel_saves_W, r.power_W > 0.0 ? 100.0 * r.wheel_saves_W / r.power_W : 0.0, r.price_exponent);
}

/// "41 s slower, 22 kJ less work".
std::string trade(const WayWeighed& way) {
  const double gain_s = way.gain_s.middle, saved_kJ = way.saved_J.middle / 1e3;
  const std::string time = std::lround(gain_s) == 0
                               ? "as fast"
                               : fmt::format("{:.0f} s {}", std::abs(gain_s), gain_s > 0.0 ? "faster" : "slower");
  const std::string work = std::lround(saved_kJ) == 0
                               ? "the same work"
                               : fmt::format("{:.0f} kJ {} work", std::abs(saved_kJ), saved_kJ > 0.0 ? "less" : "more");
  return time + ", " + work;
}

std::string as_good(const Weighing& w) {
  std::vector<std::string> names;
  for (const std::size_t way : w.as_good) names.push_back(way_words[way]);
  if (w.ways[as_planned].worth_s.middle > w.ways[w.best].worth_s.middle - w.felt_s) names.push_back("riding as planned");
  return names.empty() ? "" : fmt::format("; {} cannot be distinguished from it", fmt::join(names, " and "));
}

std::string verdict(const Question& q, const Weighing& w) {
  const WayWeighed& other = w.ways[w.best == way_of(Choice::alone) ? w.rival : w.best];
  const std::string weighed = fmt::format("{} is worth {} s against riding alone ({})", way_words[other.way],
                                          signed_span(other.worth_s), trade(other));
  switch (w.verdict) {
    case Verdict::no_difference:
      return fmt::format(
          "Verdict: it makes no difference to {} here: {}, and less than {:.0f} s is not felt{}.\n", q.rider().name, weighed,
          w.felt_s,
          std::max(-other.worth_s.low, other.worth_s.high) > 2.0 * w.felt_s ? "; single days can differ by more" : "");
    case Verdict::uncertain:
      return fmt::format("Verdict: {}, though not on every day: {}, and the range includes losses and gains{}.\n",
                         way_advice[w.best], weighed, as_good(w));
    case Verdict::pays: return fmt::format("Verdict: {}: {}{}.\n", way_advice[w.best], weighed, as_good(w));
  }
  return "";
}

std::string in_words(const Question& q, const Weighing& w) {
  return fmt::format(
             "Weighed for {}, {} {:.2f} to {:.2f}: {}\n{} days: the scenario as it stands, and days drawn by its "
             "uncertainty of wind, wakes, rolling resistance and riders.\n\n",
             q.rider().name, q.units.way_name(), q.units.way(q.settings.from_m), q.units.way(q.settings.to_m),
             q.scenario.title, w.days) +
         table(w) + "\n" + reason(q, w.reason) + "\n" + verdict(q, w) +
         fmt::format(
             "\nMiddle of the days, and the range that holds 8 of 10. Worth: seconds gained on the same day, and the work "
             "saved turned into\n"
             "seconds at the rider's own price. No difference: less than {:.0f} s (1 % of the time, at least 3 s; assumed) "
             "in the middle.\n\n",
             w.felt_s) +
         planning_cautions;
}

Json json_of(const DayRange& r) { return {{"low", r.low}, {"middle", r.middle}, {"high", r.high}}; }

Json json_of(const Question& q, const Weighing& w) {
  Json out{{"rider", q.rider().name},   {"from_m", q.settings.from_m},
           {"to_m", q.settings.to_m},   {"days", w.days},
           {"seed", q.settings.seed},   {"verdict", verdict_words[static_cast<std::size_t>(w.verdict)]},
           {"best", way_words[w.best]}, {"against", way_words[w.rival]},
           {"felt_s", w.felt_s},        {"as_good", Json::array()}};
  for (const std::size_t way : w.as_good) out["as_good"].push_back(way_words[way]);
  const WeighReason& r = w.reason;
  out["reason"] = {{"speed_mps", r.speed_mps},
                   {"grade", r.grade},
                   {"headwind_mps", r.headwind_mps},
                   {"crosswind_mps", r.crosswind_mps},
                   {"power_W", r.power_W},
                   {"air_share", r.air_share},
                   {"wheel_drag_factor", r.wheel_factor_of},
                   {"wheel_saves_W", r.wheel_saves_W},
                   {"price_exponent", r.price_exponent}};
  for (const WayWeighed& way : w.ways)
    out["ways"].push_back({{"way", way_words[way.way]},
                           {"reached_days", way.reached},
                           {"time_s", json_of(way.time_s)},
                           {"work_J", json_of(way.work_J)},
                           {"wbal_J", json_of(way.wbal_J)},
                           {"top_time_s", json_of(way.top_time_s)},
                           {"top_wbal_J", json_of(way.top_wbal_J)},
                           {"gain_s", json_of(way.gain_s)},
                           {"work_saved_J", json_of(way.saved_J)},
                           {"worth_s", json_of(way.worth_s)},
                           {"same_as_planned_share", way.same_as_planned}});
  out["range"] = "10th to 90th percentile of the days";
  out["cautions"] = planning_cautions;
  return out;
}

int run(const Options& options) {
  const Scenario scenario = asked_scenario(options.scenario_path);
  WeighSettings settings;
  settings.rider = rider_named(options.scenario_path, scenario, options.rider);
  settings.from_m = place_named(options.scenario_path, scenario.road, "--from", options.from);
  settings.to_m = place_named(options.scenario_path, scenario.road, "--to", options.to);
  settings.runs = options.runs;
  settings.seed = options.seed.value_or(scenario.ride.seed);
  constexpr double shortest_m = 100.0;
  if (settings.to_m - settings.from_m < shortest_m)
    throw InputFault(Fault{options.scenario_path, 0, 0, "--to",
                           fmt::format("found a stretch from {:.0f} to {:.0f} m, expected at least {:g} m", settings.from_m,
                                       settings.to_m, shortest_m)});

  const StopAsked stop;
  const tbb::global_control threads(tbb::global_control::max_allowed_parallelism, static_cast<std::size_t>(options.threads));
  Weighing weighing;
  {
    Progress progress("weighing", !options.quiet);
    const auto all = static_cast<double>(settings.runs * ways_to_ride);
    weighing = weigh(scenario, settings, [&](std::size_t done) {
      progress.at(static_cast<double>(done), all);
      return !StopAsked::yes();
    });
  }
  if (StopAsked::yes()) {
    fmt::print(stderr, "leewheel: stopped before the end; nothing was compared\n");
    return exit_stopped;
  }
  const Question question{scenario, settings, options.units};
  if (!options.quiet)
    fmt::print("{}", options.json ? json_of(question, weighing).dump(2) + "\n" : in_words(question, weighing));
  return weighing.verdict == Verdict::no_difference ? exit_answer_no : exit_ok;
}

}  // namespace

Command add_weigh_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command = app.add_subcommand(
      "weigh", "compare one rider's choices over one stretch: alone, sitting in, taking turns, waiting, letting go");
  command->footer(examples);
  command->add_option("scenario", options->scenario_path, "scenario file (YAML)")->required();
  command->add_option("--rider", options->rider, "rider whose choices to compare")->required();
  command->add_option("--from", options->from, "where the stretch begins: a landmark, or metres")->capture_default_str();
  command->add_option("--to", options->to, "where it ends")->capture_default_str();
  command
      ->add_option("--runs", options->runs, "days on which every choice is ridden; the first is the scenario as it stands")
      ->check(whole_within(1, 100000))
      ->capture_default_str();
  command->add_option("--seed", options->seed, "seed of the days, instead of the scenario's")->check(a_seed());
  command->add_option("--threads", options->threads, "threads; their number does not change the answer")
      ->check(whole_within(1, 1024));
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print the answer as JSON");
  command->add_flag("--quiet", options->quiet, "print nothing; the exit code gives the answer");
  return [options] { return run(*options); };
}

}  // namespace leewheel
