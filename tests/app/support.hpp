#pragma once
/// Runs the built program as a person would, and reads what it left behind.

#include <sys/wait.h>
#include <unistd.h>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace app_test {

namespace fs = std::filesystem;

inline std::string text_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// A folder of its own that goes away with the test; its name holds a blank, as checkouts and homes may.
class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "lee wheel XXXXXX").string();
    REQUIRE(mkdtemp(name.data()));
    path_ = name;
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  fs::path operator/(const std::string& name) const { return path_ / name; }
  const fs::path& path() const { return path_; }
  std::string write(const std::string& name, const std::string& content) const {
    std::ofstream(path_ / name, std::ios::binary) << content;
    return (path_ / name).string();
  }

 private:
  fs::path path_;
};

struct Answer {
  int code;
  std::string out, err;
};

inline std::string quoted(const std::string& text) { return "'" + text + "'"; }

/// `arguments` as typed to a shell, standing in `folder`.
inline Answer leewheel(const Folder& folder, const std::string& arguments) {
  const std::string command =
      "cd " + quoted(folder.path()) + " && " + quoted(LEEWHEEL_PROGRAM) + " " + arguments + " >.out 2>.err";
  const int status = std::system(command.c_str());
  return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, text_of(folder / ".out"), text_of(folder / ".err")};
}

inline std::string larkmoor() { return quoted(std::string(LEEWHEEL_SCENARIOS) + "/larkmoor/scenario.yaml"); }

inline std::size_t lines_of(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

}  // namespace app_test
