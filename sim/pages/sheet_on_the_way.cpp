#include <algorithm>
#include <cmath>

#include "leewheel/low_gear.hpp"
#include "pages/sheet_page.hpp"

namespace leewheel {

std::string water_text(const Page& page, std::size_t i) {
  std::vector<std::string> places;
  for (const Landmark& mark : page.scenario().road.landmarks()) {
    if (!mark.water) continue;
    const auto& ridden = page.ridden(i);
    std::string when;
    for (const SheetRidden& r : ridden)
      if (std::abs(r.to_m - mark.distance_m) < 1.0) when = ", about " + page.clock().beside(r.arrive_s);
    places.push_back(fmt::format("{} ({}{})", mark.name, page.way(mark.distance_m), when));
  }
  return places.empty() ? "" : enumerated(places);
}

std::string heat_text(const Page& page) {
  const std::string advice = "Heat: start easier, drink early, look out for one another. ";
  const Scenario& scenario = page.scenario();
  if (!scenario.heat.on) return advice + "Power fades in the heat; this page does not know it.";
  double share = 0.0, warmest_C = -100.0;
  for (const SheetRidden& r : page.ridden(0)) {
    const double felt_C = felt_temperature_C(scenario, r.to_m, r.arrive_s);
    share = std::max(share, heat_loss_share(felt_C, scenario.heat.acclimatised));
    warmest_C = std::max(warmest_C, felt_C);
  }
  return advice + fmt::format(
                      "It feels like {:.0f} {} at the warmest place named; who stays there long loses about {:.0f} % of "
                      "critical power, which this page counts.",
                      page.units.warmth(warmest_C), page.units.warmth_name(), 100.0 * share);
}

std::string low_gear_text(const Page& page, std::size_t i) {
  constexpr std::ptrdiff_t most_told = 3;
  std::vector<LowGearRamp> ramps = low_gear_ramps(page.scenario(), i);
  const std::size_t all = ramps.size();
  if (std::ssize(ramps) > most_told) {
    std::ranges::stable_sort(ramps, {}, &LowGearRamp::cadence_rpm);
    ramps.resize(most_told);
    std::ranges::sort(ramps, {}, &LowGearRamp::from_m);
  }
  std::vector<std::string> parts;
  for (const LowGearRamp& ramp : ramps)
    parts.push_back(fmt::format("{} from {} on, {:.0f} m at up to {:.0f} % ({:.0f} turns a minute)",
                                ramp.walks() ? "walk" : "stand up", page.way(ramp.from_m), ramp.to_m - ramp.from_m,
                                100.0 * ramp.grade, ramp.cadence_rpm));
  const std::string text = enumerated(parts);
  return all > ramps.size() ? fmt::format("{}; the hardest of {}", text, all) : text;
}

}  // namespace leewheel
