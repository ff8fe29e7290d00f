#include <fmt/format.h>

#include <cmath>

#include "app/asking.hpp"
#include "app/wheel_case.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

std::optional<double> stops_paying_at(const WheelCase& c, double headwind_mps, double deeper_by) {
  return grade_where_it_stops_paying(c.rider, c.placed(0.0, headwind_mps), c.deeper(deeper_by), c.power_W);
}

namespace {

constexpr std::array gaps_m{0.2, 0.5, 1.0, 2.0, 3.0, 5.0, 10.0};
constexpr std::array power_shares{0.6, 0.8, 1.0, 1.2};
constexpr std::array speeds_kmh{10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0};

/// Rounded, and never "-0".
long whole(double value) { return std::lround(value); }

std::string cell(const WheelWorth& w, const ShownUnits& units) {
  const std::string text =
      fmt::format("{} W {} % {} s", whole(w.saved_W), whole(w.saved_percent), whole(units.per_way(w.saved_s_per_km)));
  return still_pays(w) ? text : "(" + text + ")";
}

std::string wind_name(double headwind_mps, const ShownUnits& units) {
  return headwind_mps == 0.0 ? std::string("calm")
                             : fmt::format("{} {:.2g} {}", headwind_mps < 0.0 ? "tail" : "head",
                                           units.wind(std::abs(headwind_mps)), units.wind_name());
}

std::string by_grade_and_wind(const WheelCase& c) {
  std::string text = fmt::format(
      "At {:.0f} W, {:.1f} m behind: watts saved at the speed alone, percent of the power, seconds {} at the same "
      "power\n\n{:<8}{:>8}",
      c.power_W, c.place.gap_m, c.units.a_way(), "grade", "alone");
  for (const double wind : headwinds_mps) text += fmt::format("{:>19}", wind_name(wind, c.units));
  text += "\n";
  for (const double grade : grades) {
    text += fmt::format("{:<8}{:>8.1f}", fmt::format("{:.0f} %", 100.0 * grade), c.units.speed(c.at(grade, 0.0).speed_mps));
    for (const double wind : headwinds_mps) text += fmt::format("{:>19}", cell(c.at(grade, wind), c.units));
    text += "\n";
  }
  return text +
         fmt::format("(in brackets: no longer pays.) \"alone\": speed in calm air, {}; winds at the rider's height.\n",
                     c.units.speed_name());
}

std::string by_power_and_gap(const WheelCase& c) {
  std::string text = fmt::format("{:<24}", "On the level, calm: power");
  for (const double gap : gaps_m) text += fmt::format("{:>15}", fmt::format("{:g} m behind", gap));
  text += "\n";
  for (const double share : power_shares) {
    text += fmt::format("{:<25}", fmt::format("{:.0f} W", share * c.power_W));
    for (const double gap : gaps_m) {
      WheelPlace place = c.placed(0.0, 0.0);
      place.gap_m = gap;
      const WheelWorth w = wheel_worth_at_power(c.rider, place, c.wake_law, share * c.power_W);
      text += fmt::format("{:>15}", fmt::format("{:.0f} W {:.0f} %", w.saved_W, w.saved_percent));
    }
    text += "\n";
  }
  return text;
}

std::string by_grade_and_speed(const WheelCase& c) {
  std::string text = fmt::format("{:<24}", "Calm: grade, speed held");
  for (const double speed : speeds_kmh)
    text += fmt::format("{:>15}", fmt::format("{:.3g} {}", c.units.speed(mps_from_kmh(speed)), c.units.speed_name()));
  text += "\n";
  for (const double grade : grades) {
    text += fmt::format("{:<25}", fmt::format("{:.0f} %", 100.0 * grade));
    for (const double speed : speeds_kmh) {
      const WheelWorth w = wheel_worth_at_speed(c.rider, c.placed(grade, 0.0), c.wake_law, mps_from_kmh(speed));
      text += fmt::format(
          "{:>15}", w.power_W > c.rider.peak_power_W ? "-" : fmt::format("{:.0f} W {:.0f} %", w.saved_W, w.saved_percent));
    }
    text += "\n";
  }
  return text;
}

std::string crossing_words(const std::optional<double>& grade) {
  if (!grade) return "pays on any grade up to 25 %";
  if (*grade <= 0.0) return "does not pay even on the level";
  return fmt::format("stops paying at {:.1f} %", 100.0 * *grade);
}

std::string crossings(const WheelCase& c) {
  std::string text =
      fmt::format("Where it stops paying, at {:.0f} W (below {:g} % of the power or below {:g} W; assumed):\n", c.power_W,
                  least_worth_percent, least_worth_W);
  for (const double wind : headwinds_mps) {
    const auto shallow = stops_paying_at(c, wind, -c.wake_spread), steep = stops_paying_at(c, wind, c.wake_spread);
    const auto percent = [](const std::optional<double>& g) {
      return g ? fmt::format("{:.1f}", 100.0 * *g) : std::string("over 25");
    };
    text += fmt::format("  {:<14} {} ({} to {} % over the spread of the wake model)\n", wind_name(wind, c.units),
                        crossing_words(stops_paying_at(c, wind)), percent(shallow), percent(steep));
  }
  return text;
}

std::string teaching(const WheelCase& c) {
  constexpr double steep_grade = 0.08, wind_mps = 4.0;
  const WheelWorth flat = c.at(0.0, 0.0), steep = c.at(steep_grade, 0.0), windy = c.at(steep_grade, wind_mps);
  const WheelPlace level = c.placed(0.0, 0.0);
  const double less_W = wheel_worth_at_power(c.rider, level, c.deeper(-c.wake_spread), c.power_W).saved_W;
  const double more_W = wheel_worth_at_power(c.rider, level, c.deeper(c.wake_spread), c.power_W).saved_W;
  return fmt::format(
      "Why it matters less where it is steep and slow. A wheel takes away a share of the air's drag, {:.0f} % for {} at "
      "{:.1f} m, and\n"
      "never touches gravity. On the level {:.0f} W make {:.1f} {speed}, where the air takes {:.0f} % of the power: the "
      "wheel saves {:.0f} W\n"
      "({:.0f} to {:.0f} over the spread of the wake model) or {:.0f} s {a_way}. At {:.0f} % the same {:.0f} W make {:.1f} "
      "{speed}. Air power goes with the\n"
      "cube of speed, so it falls to {:.0f} % of the power, and the same wheel saves {:.0f} W or {:.0f} s {a_way}. What "
      "counts is the\n"
      "air met, not the grade: with {:.2g} {wind} in the face on that slope the wheel saves {:.0f} W again.\n",
      100.0 * (1.0 - flat.drag_factor), c.rider.name, c.place.gap_m, c.power_W, c.units.speed(flat.speed_mps),
      100.0 * flat.air_share, flat.saved_W, less_W, more_W, c.units.per_way(flat.saved_s_per_km), 100.0 * steep_grade,
      c.power_W, c.units.speed(steep.speed_mps), 100.0 * steep.air_share, steep.saved_W,
      c.units.per_way(steep.saved_s_per_km), c.units.wind(wind_mps), windy.saved_W, fmt::arg("speed", c.units.speed_name()),
      fmt::arg("a_way", c.units.a_way()), fmt::arg("wind", c.units.wind_name()));
}

}  // namespace

std::string wheel_words(const WheelCase& c) {
  return fmt::format(
             "What a wheel is worth to {}: {:.0f} {} in all, CdA {:.3f} m2 on the hoods, behind a rider of the same build; "
             "{}.\n\n",
             c.rider.name, c.units.mass(c.rider.total_mass_kg()), c.units.mass_name(), c.rider.drag_area_hoods_m2, c.air) +
         teaching(c) + "\n" + by_grade_and_wind(c) + "\n" + crossings(c) + "\n" + by_power_and_gap(c) + "\n" +
         by_grade_and_speed(c) + "\n" + planning_cautions;
}

}  // namespace leewheel
