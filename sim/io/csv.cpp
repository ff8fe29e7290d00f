#include "io/csv.hpp"

#include <fmt/format.h>

#include <cmath>

#include "leewheel/units.hpp"

namespace leewheel {

std::string csv_cell(double value, int decimals) {
  return std::isfinite(value) ? fmt::format("{:.{}f}", rounded(value, decimals), decimals) : "";
}

std::string csv_cell(std::string_view text) {
  const std::string safe = text.find_first_of("=+-@\t\r") == 0 ? "'" + std::string(text) : std::string(text);
  if (safe.find_first_of(",\"\r\n") == std::string::npos) return safe;
  std::string quoted = "\"";
  for (const char c : safe) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + '"';
}

std::string csv_row(const std::vector<std::string>& cells) { return fmt::format("{}\n", fmt::join(cells, ",")); }

}  // namespace leewheel
