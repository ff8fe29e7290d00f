#pragma once
/// Text files as a whole.

#include <optional>
#include <string>
#include <string_view>

namespace leewheel {

/// Whole text of a file, without byte order mark; of standard input for "-", which is read once and kept.
/// Throws InputFault: missing, a folder, larger than `most_bytes`.
std::string read_whole_file(const std::string& path, std::size_t most_bytes);

/// Where the first letter stands that is no text: bytes that are not UTF-8 (half pairs, forms longer than needed and code
/// points past the last included: Unicode 15, table 3-7), control characters but tab and ends of lines, and U+FFFE and U+FFFF,
/// which XML does not take. Nothing when all is well.
std::optional<std::size_t> bad_text_at(std::string_view text);

/// The line of it, 0 when all is well.
int line_of_bad_text(std::string_view text);

}  // namespace leewheel
