#include "fuzz/fuzz.hpp"

#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>

#include "io/fault.hpp"
#include "io/text_file.hpp"

namespace fuzz {

namespace fs = std::filesystem;

void wrong(const std::string& what) {
  std::cerr << "does not hold: " << what << std::endl;
  std::abort();
}

const std::string& folder() {
  struct Folder {
    std::string path;
    Folder() {
      std::error_code error;
      const fs::path parent = fs::is_directory("/dev/shm", error) ? fs::path("/dev/shm") : fs::temp_directory_path();
      path = (parent / ("leewheel_fuzz_" + std::to_string(getpid()))).string();
      fs::create_directories(path);
    }
    ~Folder() {
      std::error_code error;
      fs::remove_all(path, error);
    }
  };
  static const Folder one;
  return one.path;
}

std::string put(const std::string& name, std::string_view bytes) {
  std::string path = folder() + "/" + name;
  std::ofstream file(path, std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  file.close();
  if (!file) wrong("the input can be written to " + path);
  return path;
}

bool accepts(void (*read)(const std::string& path), const std::string& path) {
  try {
    read(path);
    return true;
  } catch (const leewheel::InputFault& fault) {
    if (fault.faults().empty()) wrong("a refusal has a fault");
    for (const leewheel::Fault& one : fault.faults()) {
      if (one.file.empty() || one.what.empty()) wrong("a fault names its file and says what is wrong");
      if (leewheel::bad_text_at(one.text())) wrong("a fault is printable text: " + one.text());
    }
    return false;
  }
}

}  // namespace fuzz
