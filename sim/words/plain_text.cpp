#include "words/plain_text.hpp"

#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "leewheel/units.hpp"

namespace leewheel {

namespace {

struct Glyph {
  std::size_t bytes, columns;
  bool control;
};

/// The character at the start of `text`. A byte that is not UTF-8 counts as a control character.
Glyph first_glyph(std::string_view text) {
  utf8proc_int32_t code = 0;
  const utf8proc_ssize_t bytes = utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                                                  static_cast<utf8proc_ssize_t>(text.size()), &code);
  if (bytes <= 0) return {1, 1, true};
  if (utf8proc_category(code) == UTF8PROC_CATEGORY_CC) return {static_cast<std::size_t>(bytes), 1, true};
  return {static_cast<std::size_t>(bytes), static_cast<std::size_t>(utf8proc_charwidth(code)), false};
}

std::string clock_parts(long seconds) {
  return seconds < 3600 ? fmt::format("{}:{:02}", seconds / 60, seconds % 60)
                        : fmt::format("{}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60);
}

}  // namespace

std::string clock_text(double time_s) { return std::isfinite(time_s) ? clock_parts(std::lround(time_s)) : "–"; }

std::string running_clock_text(double time_s) {
  const long long whole = std::llround(std::floor(std::abs(time_s) + 1e-6));
  return fmt::format("{}{}:{:02}:{:02}", time_s < 0 && whole > 0 ? "-" : "", whole / 3600, whole / 60 % 60, whole % 60);
}

std::string hours_minutes_text(double time_s) {
  const long minutes = std::lround(time_s / 60.0);
  return fmt::format("{}:{:02}", minutes / 60, minutes % 60);
}

std::string minutes_seconds_text(double time_s) {
  const long long seconds = std::llround(time_s);
  return fmt::format("{}:{:02}", seconds / 60, seconds % 60);
}

std::string minutes_text(double time_s) {
  const long seconds = std::lround(time_s);
  return seconds % 60 == 0 ? fmt::format("{} min", seconds / 60) : clock_text(time_s);
}

std::string number_text(double value, int decimals) {
  return std::isfinite(value) ? fmt::format("{:.{}f}", rounded(value, decimals), decimals) : "–";
}

std::string counted(std::size_t count, std::string_view noun) {
  return fmt::format("{} {}{}", count, noun, count == 1 ? "" : "s");
}

std::string enumerated(std::span<const std::string> words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  return text;
}

std::string enumerated_briefly(std::span<const std::string> words) {
  if (words.size() <= 5) return enumerated(words);
  return fmt::format("{}, {}, {} and {} more", words[0], words[1], words[2], words.size() - 3);
}

std::size_t columns_of(std::string_view text) {
  std::size_t columns = 0;
  while (!text.empty()) {
    const Glyph glyph = first_glyph(text);
    columns += glyph.columns;
    text.remove_prefix(glyph.bytes);
  }
  return columns;
}

std::string shortened(std::string_view text, std::size_t columns) {
  const bool fits = columns_of(text) <= columns;
  std::string kept;
  for (std::size_t used = 0; !text.empty();) {
    const Glyph glyph = first_glyph(text);
    if (!fits && used + glyph.columns + 1 > columns) return kept + "…";
    kept += glyph.control ? std::string("?") : std::string(text.substr(0, glyph.bytes));
    used += glyph.columns;
    text.remove_prefix(glyph.bytes);
  }
  return kept;
}

std::string left_aligned(std::string_view text, std::size_t columns) {
  const std::string kept = shortened(text, columns);
  return kept + std::string(columns - columns_of(kept), ' ');
}

std::string right_aligned(std::string_view text, std::size_t columns) {
  const std::string kept = shortened(text, columns);
  return std::string(columns - columns_of(kept), ' ') + kept;
}

std::string wrapped(const std::string& lead, const std::string& text, std::size_t page_columns) {
  const std::size_t indent = columns_of(lead);
  std::string page = lead;
  std::size_t used = indent;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    word = shortened(word, page_columns - indent);
    const std::size_t columns = columns_of(word);
    const bool first_of_line = used == indent;
    if (!first_of_line && used + 1 + columns > page_columns) {
      page += "\n" + std::string(indent, ' ');
      used = indent;
    } else if (!first_of_line) {
      page += ' ';
      ++used;
    }
    page += word;
    used += columns;
  }
  return page + "\n";
}

}  // namespace leewheel
