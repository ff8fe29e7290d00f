/// `leewheel club`: the riders of a club file, and what each number rests on.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "io/atomic_file.hpp"
#include "io/clock_time.hpp"
#include "io/club_file.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "io/learned_file.hpp"
#include "leewheel/over_weeks.hpp"
#include "words/day_clock.hpp"
#include "words/strength_words.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string path, output, on;
  std::vector<std::string> learned;
  bool json = false, quiet = false;
  ShownUnits units;
};

constexpr const char* examples = R"(Examples:
  leewheel club club.yaml

What rides told of the riders (leewheel debrief), put together; old numbers fade:
  leewheel club club.yaml --learned may/learned.yaml --learned june/learned.yaml -o kept.yaml

A scenario names the file and who comes:  club: club.yaml  and  coming: [Ada, Ben]
)";

std::string spread_text(double share) { return share > 0.0 ? fmt::format("±{:.0f} %", 100.0 * share) : "given"; }

void print(const std::vector<ReadRider>& riders, const ShownUnits& units) {
  constexpr std::size_t widest = 20;
  std::size_t name_columns = 5;
  for (const ReadRider& r : riders) name_columns = std::max(name_columns, std::min(widest, columns_of(r.settings.name)));
  fmt::print("{}  {:>5}  {:>6}  {:>5}  {}  {:>7}  {}  rests on\n", left_aligned("rider", name_columns), units.mass_name(),
             "W", "W/kg", left_aligned("known to", 8), "W' (kJ)", left_aligned("known to", 8));
  for (const ReadRider& r : riders) {
    const RiderSettings& s = r.settings;
    fmt::print("{}  {:>5.0f}  {:>6.0f}  {:>5.2f}  {}  {:>7.1f}  {}  {}{}\n", left_aligned(s.name, name_columns),
               units.mass(s.body_mass_kg), s.critical_power_W, s.critical_power_W / s.body_mass_kg,
               left_aligned(spread_text(s.critical_power_spread), 8), s.w_prime_J / 1e3,
               left_aligned(spread_text(s.w_prime_spread), 8), rests_on_text(s, r.basis),
               r.basis.w_prime_assumed ? "; W' assumed" : "");
  }
  fmt::print(
      "\nW is critical power. The spread is one standard deviation of what is known of a rider; the form of the day "
      "(scenario, "
      "uncertainty)\ncomes on top. A number that was given is taken as it is.\n");
}

/// The machine's day, in coordinated universal time.
std::string today() {
  const auto now = std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
  return DayClock(std::chrono::local_seconds{now.time_since_epoch()}).iso(0.0).substr(0, 10);
}

LearnedWeeks learned_of(const Options& options, const std::vector<ReadRider>& riders) {
  if (options.learned.empty()) return {};
  if (!options.on.empty() && !date_and_time(options.on + " 00:00"))
    throw InputFault(Fault{"", 0, 0, "--on", "found '" + shown(options.on) + "', expected a date as 2027-05-16"});
  LearnedWeeks kept = learned_over_weeks(options.learned, options.on.empty() ? today() : options.on);
  std::erase_if(kept.numbers, [&](const LearnedEntry& e) {
    return std::none_of(riders.begin(), riders.end(), [&](const ReadRider& r) { return r.settings.name == e.rider; });
  });
  return kept;
}

void print_learned(const LearnedWeeks& kept) {
  if (kept.numbers.empty()) return;
  fmt::print("\nLearned on rides{} (one standard deviation; a ride {:.0f} days old counts half)\n",
             kept.date.empty() ? "" : ", as of " + kept.date, half_life_days);
  for (const LearnedEntry& e : kept.numbers)
    fmt::print("{}", wrapped(fmt::format("  {} {} {} ", left_aligned(e.rider, 20), left_aligned(e.number, 24),
                                         left_aligned(fmt::format("{:.4g} ± {:.2g}", e.value, e.sd), 20)),
                             fmt::format("{}{}: {}", e.how_sure, e.how_sure == "contradiction" ? ", the rides disagree" : "",
                                         e.rests_on),
                             140));
}

nlohmann::ordered_json learned_json(const LearnedWeeks& kept) {
  nlohmann::ordered_json list = nlohmann::ordered_json::array();
  for (const LearnedEntry& e : kept.numbers)
    list.push_back({{"rider", e.rider},
                    {"number", e.number},
                    {"value", e.value},
                    {"sd", e.sd},
                    {"how_sure", e.how_sure},
                    {"rests_on", e.rests_on}});
  return list;
}

std::string json_of(const std::vector<ReadRider>& riders, const LearnedWeeks& kept) {
  nlohmann::ordered_json out{{"layout_version", json_layout::club}, {"riders", nlohmann::ordered_json::array()}};
  for (const ReadRider& r : riders)
    out["riders"].push_back({{"name", r.settings.name},
                             {"body_mass_kg", r.settings.body_mass_kg},
                             {"critical_power_W", r.settings.critical_power_W},
                             {"critical_power_spread", r.settings.critical_power_spread},
                             {"w_prime_J", r.settings.w_prime_J},
                             {"w_prime_spread", r.settings.w_prime_spread},
                             {"w_prime_assumed", r.basis.w_prime_assumed},
                             {"rests_on", rests_on_text(r.settings, r.basis)}});
  if (!kept.date.empty()) out["learned_as_of"] = kept.date;
  if (!kept.numbers.empty()) out["learned"] = learned_json(kept);
  return json_text(out);
}

void refuse_overwriting(const std::string& file, const std::string& output) {
  std::error_code error;
  if (std::filesystem::equivalent(file, output, error))
    throw InputFault(Fault{file, 0, 0, "--out", "found a file that is read, expected another"});
}

int run(const Options& options) {
  const std::vector<ReadRider> riders = read_club(options.path);
  const LearnedWeeks kept = learned_of(options, riders);
  if (!options.output.empty()) {
    std::vector<RiderSettings> settings;
    for (const ReadRider& r : riders) settings.push_back(r.settings);
    refuse_overwriting(options.path, options.output);
    for (const std::string& file : options.learned) refuse_overwriting(file, options.output);
    write_whole_file(options.output, kept_yaml(kept, settings));
  }
  if (!options.quiet && options.json) fmt::print("{}\n", json_of(riders, kept));
  if (!options.quiet && !options.json) print(riders, options.units), print_learned(kept);
  return exit_ok;
}

}  // namespace

Command add_club_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command = app.add_subcommand("club", "the riders of a club file, and what each of their numbers rests on");
  command->footer(examples);
  command->add_option("club", options->path, "club file (YAML)")->required();
  command
      ->add_option("--learned", options->learned,
                   "what a ride told of its riders (learned.yaml of leewheel debrief); once for each ride")
      ->allow_extra_args(false);
  command->add_option("-o,--out", options->output, "file for the numbers of all these rides together, as a learned.yaml")
      ->needs("--learned");
  command->add_option("--on", options->on, "the day for which numbers of rides are wanted, as 2027-05-16 [today]")
      ->needs("--learned");
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print as JSON");
  command->add_flag("--quiet", options->quiet, "print nothing; the exit code tells whether the file is in order");
  return [options] { return run(*options); };
}

}  // namespace leewheel
