#include "viz/draw/fonts.hpp"

#include <algorithm>
#include <cstdlib>
#include <sstream>
#include <string>
#include <system_error>

#include "io/fault.hpp"
#include "viz/draw/canvas.hpp"

namespace leewheel::draw {

namespace fs = std::filesystem;

namespace {

constexpr const char* families[][2] = {{"DejaVuSans", "DejaVuSans-Bold"},
                                       {"NotoSans-Regular", "NotoSans-Bold"},
                                       {"LiberationSans-Regular", "LiberationSans-Bold"},
                                       {"FreeSans", "FreeSansBold"},
                                       {"Arial", "Arial Bold"},
                                       {"arial", "arialbd"}};

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value ? value : "";
}

/// Every face below the folder, in order of its path.
std::vector<fs::path> faces_in(const fs::path& folder) {
  std::vector<fs::path> faces;
  std::error_code error;
  for (fs::recursive_directory_iterator at(folder, fs::directory_options::skip_permission_denied, error), end;
       !error && at != end; at.increment(error)) {
    const std::string kind = at->path().extension().string();
    if (kind == ".ttf" || kind == ".otf" || kind == ".TTF") faces.push_back(at->path());
  }
  std::ranges::sort(faces);
  return faces;
}

std::optional<fs::path> with_stem(const std::vector<fs::path>& faces, const std::string& stem) {
  const auto found = std::ranges::find_if(faces, [&](const fs::path& face) { return face.stem() == stem; });
  return found == faces.end() ? std::nullopt : std::optional(*found);
}

/// "X-Bold" beside "X-Regular".
fs::path bold_of(const std::vector<fs::path>& faces, const fs::path& regular) {
  std::string stem = regular.stem().string();
  if (stem.ends_with("-Regular")) stem.resize(stem.size() - 8);
  return with_stem(faces, stem + "-Bold").value_or(regular);
}

}  // namespace

std::vector<fs::path> font_folders() {
  std::vector<fs::path> folders;
  const auto add = [&](const std::string& folder) {
    if (!folder.empty()) folders.push_back(folder);
  };
  add(variable("LEEWHEEL_FONTS"));
  const std::string home = variable("HOME"), data_home = variable("XDG_DATA_HOME");
  add(!data_home.empty() ? data_home + "/fonts" : home.empty() ? "" : home + "/.local/share/fonts");
  if (!home.empty()) add(home + "/.fonts"), add(home + "/Library/Fonts");
  std::string data = variable("XDG_DATA_DIRS");
  if (data.empty()) data = "/usr/local/share:/usr/share";
  std::istringstream each(data);
  for (std::string folder; std::getline(each, folder, ':');)
    if (!folder.empty()) add(folder + "/fonts");
  add("/Library/Fonts"), add("/System/Library/Fonts");
  if (const std::string windows = variable("WINDIR"); !windows.empty()) add(windows + "/Fonts");
  return folders;
}

std::optional<FontFiles> find_fonts(const std::vector<fs::path>& folders) {
  for (const fs::path& folder : folders) {
    const std::vector<fs::path> faces = faces_in(folder);
    for (const auto& [regular, bold] : families)
      if (const auto found = with_stem(faces, regular)) return FontFiles{*found, with_stem(faces, bold).value_or(*found)};
    const auto regular =
        std::ranges::find_if(faces, [](const fs::path& f) { return f.stem().string().ends_with("-Regular"); });
    if (regular != faces.end()) return FontFiles{*regular, bold_of(faces, *regular)};
    if (!faces.empty()) return FontFiles{faces.front(), bold_of(faces, faces.front())};
  }
  return {};
}

Fonts::Fonts() {
  const std::vector<fs::path> folders = font_folders();
  const auto files = find_fonts(folders);
  if (!files) {
    std::string searched;
    for (const fs::path& folder : folders) searched += (searched.empty() ? "" : ", ") + folder.string();
    throw InputFault(
        Fault{"fonts", 0, 0, "",
              "found none in " + searched +
                  "; install the package fonts-dejavu-core, or let LEEWHEEL_FONTS name a folder with a .ttf file"});
  }
  for (const auto& [font, path] : {std::pair{&regular_, files->regular}, std::pair{&bold_, files->bold}})
    if (!font->loadFromFile(path.string()))
      throw InputFault(
          Fault{path.string(), 0, 0, "", "cannot be read as a font; let LEEWHEEL_FONTS name a folder with another"});
}

}  // namespace leewheel::draw
