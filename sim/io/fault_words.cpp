#include "io/fault_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>
#include <optional>

#include "io/text_file.hpp"

namespace leewheel {

std::string listed(std::span<const std::string_view> names) { return fmt::format("{}", fmt::join(names, ", ")); }

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), 0u);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0]++;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i - 1] != b[j - 1]);
      diagonal = row[j];
      row[j] = std::min({replaced, row[j] + 1, row[j - 1] + 1});
    }
  }
  return row.back();
}

std::string nearest_name(std::string_view name, const std::vector<std::string>& names) {
  std::string nearest;
  std::size_t least = std::max<std::size_t>(2, name.size() / 3) + 1;
  if (name.size() > 64) return nearest;
  for (const std::string& candidate : names)
    if (const std::size_t distance = edit_distance(name, candidate); distance < least) {
      least = distance;
      nearest = candidate;
    }
  return nearest;
}

std::string shown(std::string_view text) {
  constexpr std::size_t longest = 60;
  std::string result;
  for (const char c : text.substr(0, longest)) result += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
  if (text.size() > longest) {
    while (!result.empty() && (result.back() & 0xC0) == 0x80) result.pop_back();  // not in the middle of a letter
    if (!result.empty() && (result.back() & 0x80)) result.pop_back();
    result += "...";
  }
  while (const std::optional<std::size_t> at = bad_text_at(result)) result[*at] = '?';  // a terminal must take it
  return result;
}

}  // namespace leewheel
