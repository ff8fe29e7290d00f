#include "io/text_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <vector>

#include "io/fault.hpp"

namespace leewheel {

namespace {

std::string text_from(std::istream& file, const std::string& path, std::size_t most_bytes) {
  std::string text;
  std::vector<char> block(1 << 16);
  while (file && text.size() <= most_bytes) {
    file.read(block.data(), static_cast<std::streamsize>(block.size()));
    text.append(block.data(), static_cast<std::size_t>(file.gcount()));
  }
  if (text.size() > most_bytes)
    throw InputFault({path, 0, 0, "", fmt::format("found more than {} MB, expected a smaller file", most_bytes >> 20)});
  if (file.bad() || !file.eof()) throw InputFault({path, 0, 0, "", "cannot be read"});
  if (text.starts_with("\xEF\xBB\xBF")) text.erase(0, 3);
  return text;
}

/// Bytes of the letter that begins here, 0 when there is none: the rows of Unicode 15, table 3-7.
std::size_t letter_bytes(std::string_view text) {
  const auto byte = [&](std::size_t k) { return k < text.size() ? static_cast<unsigned char>(text[k]) : 0u; };
  const auto within = [&](std::size_t k, unsigned lowest, unsigned highest) {
    return byte(k) >= lowest && byte(k) <= highest;
  };
  const auto follow = [&](std::size_t first, std::size_t end) {
    for (std::size_t k = first; k < end; ++k)
      if (!within(k, 0x80, 0xBF)) return std::size_t{0};
    return end;
  };
  const unsigned first = byte(0);
  if (first < 0x80) return 1;
  if (first >= 0xC2 && first <= 0xDF) return follow(1, 2);
  if (first >= 0xE0 && first <= 0xEF)
    return within(1, first == 0xE0 ? 0xA0 : 0x80, first == 0xED ? 0x9F : 0xBF) ? follow(2, 3) : 0;
  if (first >= 0xF0 && first <= 0xF4)
    return within(1, first == 0xF0 ? 0x90 : 0x80, first == 0xF4 ? 0x8F : 0xBF) ? follow(2, 4) : 0;
  return 0;
}

bool is_control(std::string_view letter) {
  const auto c = static_cast<unsigned char>(letter[0]);
  if (letter.size() == 1) return c == 0x7F || (c < 0x20 && c != '\t' && c != '\n' && c != '\r');
  if (letter.size() == 2) return c == 0xC2 && static_cast<unsigned char>(letter[1]) < 0xA0;  // U+0080 to U+009F
  return letter == "\xEF\xBF\xBE" || letter == "\xEF\xBF\xBF";
}

}  // namespace

std::string read_whole_file(const std::string& path, std::size_t most_bytes) {
  if (path == "-") {
    static const std::string kept = text_from(std::cin, path, most_bytes);
    return kept;
  }
  std::error_code error;
  if (!std::filesystem::exists(path, error)) throw InputFault({path, 0, 0, "", "not found, expected a file"});
  if (std::filesystem::is_directory(path, error)) throw InputFault({path, 0, 0, "", "found a folder, expected a file"});
  std::ifstream file(path, std::ios::binary);
  return text_from(file, path, most_bytes);
}

std::optional<std::size_t> bad_text_at(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t bytes = letter_bytes(text.substr(i));
    if (bytes == 0 || is_control(text.substr(i, bytes))) return i;
    i += bytes;
  }
  return std::nullopt;
}

int line_of_bad_text(std::string_view text) {
  const std::optional<std::size_t> at = bad_text_at(text);
  return at ? 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(*at), '\n')) : 0;
}

}  // namespace leewheel
