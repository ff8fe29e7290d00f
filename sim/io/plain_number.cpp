#include "io/plain_number.hpp"

#include <charconv>
#include <cmath>

namespace leewheel {

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const std::size_t from = text.find_first_not_of(blanks);
  return from == std::string_view::npos ? "" : text.substr(from, text.find_last_not_of(blanks) - from + 1);
}

std::optional<double> number_in(std::string_view text) {
  text = trimmed(text);
  if (text.size() > 1 && text[0] == '+' && text[1] != '-') text.remove_prefix(1);
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::optional<double> distance_in_m(std::string_view text) {
  constexpr struct {
    std::string_view name;
    double in_m;
  } units[] = {{"km", 1000.0}, {"mi", 1609.344}, {"m", 1.0}};
  text = trimmed(text);
  for (const auto& unit : units)
    if (text.ends_with(unit.name)) {
      const std::optional<double> value = number_in(text.substr(0, text.size() - unit.name.size()));
      return value ? std::optional(*value * unit.in_m) : std::nullopt;
    }
  return number_in(text);
}

}  // namespace leewheel
