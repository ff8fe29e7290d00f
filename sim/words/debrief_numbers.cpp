/// Sentences about the numbers of a debrief: values with spreads, verdicts, what would tell more.

#include <fmt/format.h>

#include <cmath>

#include "leewheel/compass.hpp"
#include "words/debrief_words.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

/// The name of a number with that of its rider, surface or hour.
std::string what_text(const Debriefed& d, const LearnedNumber& n) {
  switch (n.what) {
    case Number::drag_area: return d.name(n.of) + ": drag area, hands on the hoods";
    case Number::power_scale: return d.name(n.of) + ": power recorded over power given";
    case Number::mass: return d.name(n.of) + ": mass with bicycle and load";
    case Number::company: return d.name(n.of) + ": drag factor in company";
    case Number::rolling: return "rolling resistance, " + std::string(surface_names[n.of]);
    case Number::wind_speed: return fmt::format("wind at 10 m{}", n.of > 0 ? fmt::format(" after {} h", n.of) : "");
    case Number::wind_from: return fmt::format("wind comes from{}", n.of > 0 ? fmt::format(", after {} h", n.of) : "");
  }
  return "";
}

std::string value_text(const Debriefed& d, Number what, double value, double sd) {
  switch (what) {
    case Number::drag_area: return fmt::format("{:.3f} ± {:.3f} m²", value, sd);
    case Number::power_scale: return fmt::format("{:.3f} ± {:.3f}", value, sd);
    case Number::mass: return fmt::format("{:.1f} ± {:.1f} {}", d.units.mass(value), d.units.mass(sd), d.units.mass_name());
    case Number::company: return fmt::format("{:.2f} ± {:.2f}", value, sd);
    case Number::rolling: return fmt::format("{:.4f} ± {:.4f}", value, sd);
    case Number::wind_speed:
      return fmt::format("{:.1f} ± {:.1f} {}", d.units.wind(value), d.units.wind(sd), d.units.wind_name());
    case Number::wind_from:
      return fmt::format("{} ({:.0f}° ± {:.0f}°)", compass_point(value), compass_deg(value, 0), deg_from_rad(sd));
  }
  return "";
}

/// A change that would do alone, as in "12 % more drag" or "0.6 m/s more wind".
std::string change_text(const Debriefed& d, const LearnedNumber& n, double value) {
  const double change = value - n.before, share = 100.0 * std::abs(change) / std::max(1e-9, std::abs(n.before));
  const char* const more = change > 0.0 ? "more" : "less";
  switch (n.what) {
    case Number::drag_area: return fmt::format("{:.0f} % {} drag area", share, more);
    case Number::power_scale: return fmt::format("a meter that reads {:.1f} % {}", share, change > 0.0 ? "high" : "low");
    case Number::mass: return fmt::format("{:.1f} {} {} mass", d.units.mass(std::abs(change)), d.units.mass_name(), more);
    case Number::company: return fmt::format("a drag factor of {:.2f} in company", value);
    case Number::rolling: return fmt::format("{:.0f} % {} rolling resistance on {}", share, more, surface_names[n.of]);
    default:
      return fmt::format("{:.1f} {} {} wind", std::abs(d.units.wind(value)), d.units.wind_name(),
                         value > 0.0 ? "more" : "less");
  }
}

/// The same for the partner, whose wind is told as a change already.
std::string either_text(const Debriefed& d, const LearnedNumber& n) {
  const LearnedNumber& other = d.told.numbers[*n.with];
  return fmt::format("{} or {}", change_text(d, n, n.alone_value), change_text(d, other, n.other_value));
}

const char* what_would_tell(Number what) {
  switch (what) {
    case Number::drag_area: return "fast level road ridden alone, both ways or round a loop, would tell";
    case Number::power_scale: return "a long steady climb and a weighing with bicycle and load would tell";
    case Number::mass: return "a pair of scales tells it better than any ride";
    case Number::company: return "longer level riding in company, and some alone, would tell";
    case Number::rolling: return "slow level riding on it without wind would tell";
    default: return "a loop, or the same road both ways, would tell";
  }
}

const char* what_to_check(Number what) {
  switch (what) {
    case Number::drag_area: return "check clothing, luggage, position and whether company went unrecorded";
    case Number::power_scale: return "check the meter's zero and the mass given";
    case Number::mass: return "weigh rider, bicycle and load together";
    case Number::company: return "check who rode with whom, and the drag area";
    case Number::rolling: return "check tyre pressure, the surface given and brakes that rub";
    default: return "check the forecast's place and hour, and the exposure of the road";
  }
}

std::string contradiction_text(const Debriefed& d, const LearnedNumber& n) {
  std::string says = what_to_check(n.what);
  if (n.what == Number::power_scale) {
    const double mass_kg = d.input.scenario.riders[n.of].total_mass_kg() / n.after;
    says = fmt::format("the meter would have to read {:.0f} % {}, or the mass would have to be {:.0f} {}: {}",
                       100.0 * std::abs(n.after - 1.0), n.after > 1.0 ? "high" : "low", d.units.mass(mass_kg),
                       d.units.mass_name(), says);
  } else if (n.what == Number::mass)
    says = fmt::format("the mass would have to be {:.0f} {}: {}", d.units.mass(n.after), d.units.mass_name(), says);
  return says;
}

std::string says_text(const Debriefed& d, const LearnedNumber& n) {
  if (n.sure == HowSure::contradiction) return contradiction_text(d, n);
  if (n.sure == HowSure::learned) return "";
  if (n.wants == Missing::time_alone) return "never alone for four minutes, so company and drag area cannot be told apart";
  if (n.wants == Missing::short_ride) return "less than four minutes of riding that can be used";
  if (n.wants == Missing::impossible)
    return "the ride asks for a value that cannot be: check masses, surfaces, wind, brakes, and whether it is this road";
  if (n.wants == Missing::beside_impossible) return "another number of this ride would have to be what cannot be";
  if (n.sure == HowSure::only_together) return either_text(d, n);
  return what_would_tell(n.what);
}

}  // namespace

NumberRow number_row(const Debriefed& d, const LearnedNumber& n) {
  const bool told = !(n.sure == HowSure::not_learned && n.wants != Missing::nothing);
  return {what_text(d, n), value_text(d, n.what, n.before, n.before_sd),
          told ? value_text(d, n.what, n.after, n.after_sd) : "–",
          std::string(how_sure_names[static_cast<std::size_t>(n.sure)]), says_text(d, n)};
}

namespace {

std::string all_out_text(const Debriefed& d, const StrengthTold& s) {
  std::string says = fmt::format(
      "{} from {} {:.1f}, said to be all-out: mean power less W′ as believed over it; one effort "
      "tells no W′",
      clock_text(s.over_s), d.units.way_name(), d.units.way(s.from_m));
  if (s.stood_s > 0.0) says += fmt::format("; {} of standing at its ends left out", clock_text(s.stood_s));
  if (s.sure == HowSure::contradiction)
    says += ". Too far from what was believed: was it all-out to the end? Check the meter, and the critical power given";
  return says;
}

}  // namespace

std::vector<NumberRow> strength_rows(const Debriefed& d) {
  std::vector<NumberRow> rows;
  for (const RiderDebrief& rider : d.told.riders) {
    const StrengthTold& s = rider.strength;
    if (s.kind == StrengthTold::Kind::none) continue;
    const std::string before =
        fmt::format("{:.0f} ± {:.0f} W", d.input.scenario.riders[rider.rider].critical_power_W, s.before_sd_W);
    const std::string what = d.name(rider.rider) + ": critical power";
    if (s.kind == StrengthTold::Kind::all_out)
      rows.push_back({what, before, fmt::format("{:.0f} ± {:.0f} W", s.critical_power_W, s.sd_W),
                      std::string(how_sure_names[static_cast<std::size_t>(s.sure)]), all_out_text(d, s)});
    else
      rows.push_back({what, before, fmt::format("at least {:.0f} W", s.critical_power_W), "at least",
                      fmt::format("mean power over {} from {} {:.1f} less W′ over it; an effort said to be all-out "
                                  "(--all-out) would tell",
                                  clock_text(s.over_s), d.units.way_name(), d.units.way(s.from_m))});
  }
  return rows;
}

}  // namespace leewheel
