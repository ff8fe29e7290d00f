/// `leewheel club`: the riders of a club file, and what each number rests on.

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "app/asking.hpp"
#include "app/commands.hpp"
#include "io/club_file.hpp"
#include "words/strength_words.hpp"

namespace leewheel {

namespace {

struct Options {
  std::string path;
  bool json = false, quiet = false;
  ShownUnits units;
};

constexpr const char* examples = R"(Example:
  leewheel club club.yaml

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

std::string json_of(const std::vector<ReadRider>& riders) {
  nlohmann::ordered_json out{{"riders", nlohmann::ordered_json::array()}};
  for (const ReadRider& r : riders)
    out["riders"].push_back({{"name", r.settings.name},
                             {"body_mass_kg", r.settings.body_mass_kg},
                             {"critical_power_W", r.settings.critical_power_W},
                             {"critical_power_spread", r.settings.critical_power_spread},
                             {"w_prime_J", r.settings.w_prime_J},
                             {"w_prime_spread", r.settings.w_prime_spread},
                             {"w_prime_assumed", r.basis.w_prime_assumed},
                             {"rests_on", rests_on_text(r.settings, r.basis)}});
  return out.dump(2, ' ', false, nlohmann::json::error_handler_t::replace);
}

int run(const Options& options) {
  const std::vector<ReadRider> riders = read_club(options.path);
  if (!options.quiet && options.json) fmt::print("{}\n", json_of(riders));
  if (!options.quiet && !options.json) print(riders, options.units);
  return exit_ok;
}

}  // namespace

Command add_club_command(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  CLI::App* const command = app.add_subcommand("club", "the riders of a club file, and what each of their numbers rests on");
  command->footer(examples);
  command->add_option("club", options->path, "club file (YAML)")->required();
  add_imperial_flag(*command, options->units);
  command->add_flag("--json", options->json, "print as JSON");
  command->add_flag("--quiet", options->quiet, "print nothing; the exit code tells whether the file is in order");
  return [options] { return run(*options); };
}

}  // namespace leewheel
