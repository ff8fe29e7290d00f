#pragma once
/// Text files as a whole.

#include <string>
#include <string_view>

namespace leewheel {

/// Whole text of a file, without byte order mark. Throws InputFault: missing, a folder, larger than `most_bytes`.
std::string read_whole_file(const std::string& path, std::size_t most_bytes);

/// Line of the first byte that is not UTF-8 text (control characters included), 0 when all is well.
int line_of_bad_text(std::string_view text);

}  // namespace leewheel
