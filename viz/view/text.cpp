#include "viz/view/text.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "leewheel/units.hpp"
#include "words/plain_text.hpp"

namespace leewheel::view {

std::optional<double> parse_time_s(std::string_view text) {
  double total_s = 0.0;
  for (int part = 0; part < 3; ++part) {
    const std::size_t colon = text.find(':');
    const bool last = colon == std::string_view::npos;
    const std::string_view digits = text.substr(0, colon);
    if (digits.empty() || digits.find_first_not_of(last ? "0123456789." : "0123456789") != std::string_view::npos) return {};
    double value = 0.0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (error != std::errc() || end != digits.data() + digits.size()) return {};
    if (part > 0 && value >= 60.0) return {};
    total_s = total_s * 60.0 + value;
    if (last) return total_s;
    text.remove_prefix(colon + 1);
  }
  return {};
}

double per_place_unit_m(Units units) { return units == Units::metric ? 1000.0 : mile_m; }
const char* place_unit(Units units) { return units == Units::metric ? "km" : "mi"; }

std::string speed_text(double speed_mps, Units units) {
  return units == Units::metric ? fmt::format("{:.1f} km/h", kmh_from_mps(speed_mps))
                                : fmt::format("{:.1f} mph", speed_mps * 3600.0 / mile_m);
}

std::string place_text(double distance_m, Units units) {
  return fmt::format("{:.2f} {}", distance_m / per_place_unit_m(units), place_unit(units));
}

std::string length_text(double length_m, Units units) {
  return units == Units::metric ? fmt::format("{:.1f} m", length_m) : fmt::format("{:.1f} ft", length_m / foot_m);
}

std::string way_text(double length_m, Units units) {
  return length_m < 1000.0 ? height_text(length_m, units) : place_text(length_m, units);
}

std::string height_text(double elevation_m, Units units) {
  return units == Units::metric ? fmt::format("{:.0f} m", elevation_m) : fmt::format("{:.0f} ft", elevation_m / foot_m);
}

std::string gap_text(double gap_s) {
  if (!(gap_s >= 0.05)) return "";
  return gap_s < 59.95 ? fmt::format("+{:.1f}", gap_s) : "+" + minutes_seconds_text(gap_s);
}

std::string number_text(double value, int decimals) {
  std::string digits = fmt::format("{:.{}f}", std::abs(value), decimals);
  const bool zero = digits.find_first_not_of("0.") == std::string::npos;
  return value < 0 && !zero ? "\xE2\x88\x92" + digits : digits;
}
std::string whole_text(double value) { return number_text(value, 0); }

std::string grade_text(double grade) {
  const bool down = grade < -5e-4;
  return fmt::format("{}{:.1f} %", down ? "\xE2\x88\x92" : "", 100.0 * std::abs(grade));
}

double round_down_125(double limit) {
  const double power = std::pow(10.0, std::floor(std::log10(limit) + 1e-12));
  const double mantissa = limit / power * (1 + 1e-12);
  return power * (mantissa >= 5 ? 5 : mantissa >= 2 ? 2 : 1);
}

std::vector<double> nice_ticks(double low, double high, int at_most) {
  std::vector<double> ticks;
  if (!(high > low) || at_most < 1) return ticks;
  double step = round_down_125((high - low) / at_most);
  while ((high - low) / step > at_most) step = round_down_125(step * 2.6);
  const double first = std::ceil(low / step - 1e-9);
  for (double k = first; k * step <= high + 1e-9 * step; ++k) ticks.push_back(k * step + 0.0);  // + 0.0: never minus nought
  return ticks;
}

}  // namespace leewheel::view
