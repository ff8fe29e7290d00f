#include "io/text_file.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <vector>

#include "io/fault.hpp"

namespace leewheel {

std::string read_whole_file(const std::string& path, std::size_t most_bytes) {
  std::error_code error;
  if (!std::filesystem::exists(path, error)) throw InputFault({path, 0, 0, "", "not found, expected a file"});
  if (std::filesystem::is_directory(path, error)) throw InputFault({path, 0, 0, "", "found a folder, expected a file"});
  std::ifstream file(path, std::ios::binary);
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

int line_of_bad_text(std::string_view text) {
  int line = 1;
  for (std::size_t i = 0; i < text.size();) {
    const auto c = static_cast<unsigned char>(text[i]);
    const std::size_t length = c < 0x80                ? 1
                               : c >= 0xC2 && c < 0xE0 ? 2
                               : c >= 0xE0 && c < 0xF0 ? 3
                               : c >= 0xF0 && c < 0xF5 ? 4
                                                       : 0;
    const bool control = c == 0x7f || (c < 0x20 && c != '\t' && c != '\n' && c != '\r');
    if (length == 0 || control || i + length > text.size()) return line;
    for (std::size_t k = 1; k < length; ++k)
      if ((static_cast<unsigned char>(text[i + k]) & 0xC0) != 0x80) return line;
    line += c == '\n';
    i += length;
  }
  return 0;
}

}  // namespace leewheel
