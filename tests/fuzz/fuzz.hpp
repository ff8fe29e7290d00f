#pragma once
/// What the fuzz targets share. A target defines `take`; the program around it is libFuzzer's (fuzzed.cpp) or feeds files
/// (feed.cpp).

#include <string>
#include <string_view>

namespace fuzz {

/// Gives the bytes to what is fuzzed. True when it accepts them, false when it refuses them with an InputFault. Whatever else
/// happens is a fault of the program: another exception, a sanitizer's report, `wrong`.
bool take(std::string_view bytes);

/// Files that inputs may name, put beside them once.
void begin();

/// Says what does not hold and aborts.
[[noreturn]] void wrong(const std::string& what);

/// A folder of this process in memory, emptied when it ends.
const std::string& folder();

/// Writes the bytes to a file of that folder; returns its path.
std::string put(const std::string& name, std::string_view bytes);

/// True when `read` returns, false when it throws an InputFault that names a file and says what was expected.
bool accepts(void (*read)(const std::string& path), const std::string& path);

}  // namespace fuzz
