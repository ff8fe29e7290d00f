#pragma once
/// Text files that appear whole or not at all: written beside their place under another name, then renamed.

#include <string>

namespace leewheel {

/// Throws InputFault when the place cannot be written; leaves nothing behind then.
void write_whole_file(const std::string& path, const std::string& content);

/// Makes the folder (and its parents) if needed and checks that it can be written. Throws InputFault.
void make_output_folder(const std::string& path);

}  // namespace leewheel
