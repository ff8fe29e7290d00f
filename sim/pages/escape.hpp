#pragma once
/// Text made safe inside HTML and XML.

#include <string>
#include <string_view>

namespace leewheel {

/// Between tags and inside quoted attributes; control characters, which XML forbids, become blanks.
std::string html_text(std::string_view text);

/// The same, but quotes stay as they are: between tags only.
std::string element_text(std::string_view text);

}  // namespace leewheel
