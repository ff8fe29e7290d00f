#include "words/strength_words.hpp"

#include <fmt/format.h>

#include "words/plain_text.hpp"

namespace leewheel {

namespace {

std::string power_given(const RiderSettings& rider, const StrengthBasis& basis) {
  return basis.per_kg ? fmt::format("{:.2f} W/kg", basis.held_W / rider.body_mass_kg)
                      : fmt::format("{:.0f} W", basis.held_W);
}

std::string percent(double share) { return fmt::format("±{:.0f} %", 100.0 * share); }

/// "W' not given for A, B and 3 more: 20 kJ assumed, ±25 %".
void remark_on_assumed(const Scenario& scenario, bool of_w_prime, std::vector<std::string>& lines) {
  std::vector<std::string> names;
  const RiderSettings* one = nullptr;
  for (std::size_t i = 0; i < scenario.rests_on.size(); ++i) {
    const StrengthBasis& basis = scenario.rests_on[i];
    const bool assumed = of_w_prime ? basis.w_prime_assumed && basis.power != StrengthSource::as_strong_as
                                    : basis.power == StrengthSource::assumed;
    if (!assumed) continue;
    names.push_back(scenario.riders[i].name);
    one = &scenario.riders[i];
  }
  if (names.empty()) return;
  lines.push_back(of_w_prime
                      ? fmt::format("W' not given for {}: {:g} kJ assumed, {}", enumerated_briefly(names),
                                    one->w_prime_J / 1e3, percent(one->w_prime_spread))
                      : fmt::format("no strength given for {}: a critical power of {:.0f} W assumed, {}",
                                    enumerated_briefly(names), one->critical_power_W, percent(one->critical_power_spread)));
}

}  // namespace

std::string rests_on_text(const RiderSettings& rider, const StrengthBasis& basis) {
  switch (basis.power) {
    case StrengthSource::critical_power: return "critical power given, " + power_given(rider, basis);
    case StrengthSource::power_60min: return power_given(rider, basis) + " held for an hour";
    case StrengthSource::power_20min: return power_given(rider, basis) + " held for twenty minutes";
    case StrengthSource::climb:
      return fmt::format("{:.1f} km at {:.1f} % in {}, which takes {:.0f} W", basis.climb_m / 1e3, 100.0 * basis.climb_grade,
                         clock_text(basis.climb_s), basis.held_W);
    case StrengthSource::as_strong_as: return "as strong as " + basis.like;
    case StrengthSource::archetype: return "archetype " + basis.like;
    case StrengthSource::assumed: return "nothing given";
  }
  return "";
}

std::string w_prime_text(const RiderSettings& rider, const StrengthBasis& basis) {
  return fmt::format("{:.1f} kJ{}", rider.w_prime_J / 1e3, basis.w_prime_assumed ? ", assumed" : "");
}

std::vector<std::string> strength_remarks(const Scenario& scenario) {
  std::vector<std::string> lines;
  remark_on_assumed(scenario, false, lines);
  remark_on_assumed(scenario, true, lines);
  for (std::size_t i = 0; i < scenario.rests_on.size(); ++i) {
    const StrengthBasis& basis = scenario.rests_on[i];
    const RiderSettings& rider = scenario.riders[i];
    if (basis.power == StrengthSource::assumed || basis.power == StrengthSource::archetype ||
        basis.power == StrengthSource::critical_power)
      continue;
    lines.push_back(fmt::format("{}: critical power {:.0f} W {}, from {}", rider.name, rider.critical_power_W,
                                percent(rider.critical_power_spread), rests_on_text(rider, basis)));
  }
  return lines;
}

}  // namespace leewheel
