#pragma once
/// Where the faces of text come from: the first of the known families found on this machine, else any face that is there.

#include <filesystem>
#include <optional>
#include <vector>

namespace leewheel::draw {

struct FontFiles {
  std::filesystem::path regular, bold;  ///< the same where a family has no bold face
};

/// `LEEWHEEL_FONTS` first, then where desktops keep fonts: XDG_DATA_HOME and XDG_DATA_DIRS (freedesktop.org base directories),
/// and the folders of macOS and Windows.
std::vector<std::filesystem::path> font_folders();
/// Searched with all folders below. In a folder the known families come first, in a fixed order; nothing if there is no face.
std::optional<FontFiles> find_fonts(const std::vector<std::filesystem::path>& folders);

}  // namespace leewheel::draw
