// Every wrong file in tests/bad_input gives exactly the message that stands in tests/bad_input/expected.txt.

#include <sys/wait.h>

#include <map>
#include <set>
#include <sstream>

#include "io/road_file.hpp"
#include "io/scenario_reader.hpp"
#include "io/track_import.hpp"
#include "support.hpp"

using namespace leewheel;
namespace fs = std::filesystem;

namespace {

const fs::path root = LEEWHEEL_BAD_INPUT;

std::map<std::string, std::string> expected_messages() {
  std::map<std::string, std::string> messages;
  std::ifstream table(root / "expected.txt");
  std::string file;
  for (std::string line; std::getline(table, line);) {
    if (line.starts_with("#")) continue;
    if (line.starts_with("== "))
      messages[file = line.substr(3)];
    else
      messages[file] += (messages[file].empty() ? "" : "\n") + line;
  }
  return messages;
}

void read(const std::string& file) {
  const std::string path = (root / file).string();
  if (file.starts_with("scenario/"))
    read_scenario(path);
  else if (file.starts_with("road/"))
    read_road(path);
  else
    import_track(path, {});
}

/// Without the folder in front of file names.
std::string from_here(std::string text) {
  const std::string prefix = root.string() + "/";
  for (std::size_t at; (at = text.find(prefix)) != std::string::npos;) text.erase(at, prefix.size());
  return text;
}

int exit_code_of(const std::string& command) {
  const int status = std::system((command + " >/dev/null 2>&1").c_str());
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace

TEST_CASE("each wrong file gives exactly the message of the table", "[bad_input]") {
  const auto messages = expected_messages();
  for (const auto& [name, message] : messages) {
    const std::string& file = name;  // clang 14 lets no lambda have a structured binding
    INFO(file);
    CHECK(from_here(io_test::said([&] { read(file); })) == message);
  }
}

TEST_CASE("every message names its file first", "[bad_input]") {
  for (const auto& [file, message] : expected_messages()) {
    INFO(file);
    std::istringstream lines(message);
    for (std::string line; std::getline(lines, line);) {
      const std::string named = line.substr(0, line.find(':'));
      CHECK(fs::exists(root / named));
    }
  }
}

TEST_CASE("every wrong file stands in the table, and nothing else does", "[bad_input]") {
  const auto messages = expected_messages();
  std::size_t files = 0;
  for (const char* folder : {"scenario", "road", "track"})
    for (const auto& entry : fs::directory_iterator(root / folder)) {
      INFO(entry.path());
      CHECK(messages.contains(std::string(folder) + "/" + entry.path().filename().string()));
      ++files;
    }
  CHECK(messages.size() == files);
}

TEST_CASE("the program answers each wrong file with exit code 2 and leaves nothing behind", "[bad_input][program]") {
  io_test::Folder folder;
  for (const auto& [file, message] : expected_messages()) {
    INFO(file);
    const std::string command = file.starts_with("scenario/") ? "ride" : "road";
    const std::string output = "'" + (folder / "out").string() + "'";
    CHECK(exit_code_of("'" LEEWHEEL_PROGRAM "' " + command + " '" + (root / file).string() + "' -o " + output) == 2);
    CHECK(folder.empty());
  }
}
