#pragma once
/// Small files for the readers.

#include <unistd.h>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <utility>

#include "io/fault.hpp"

namespace io_test {

/// A folder of its own that goes away with the test; its name holds a blank, as checkouts and homes may.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "lee wheel XXXXXX").string();
    REQUIRE(mkdtemp(name.data()));
    path_ = name;
  }
  ~Folder() { std::filesystem::remove_all(path_); }
  Folder(const Folder&) = delete;

  std::string write(const std::string& name, const std::string& content) const {
    std::ofstream((path_ / name), std::ios::binary) << content;
    return (path_ / name).string();
  }
  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
  bool empty() const { return std::filesystem::is_empty(path_); }

 private:
  std::filesystem::path path_;
};

/// What an InputFault said, or "accepted".
template <class Read>
std::string said(Read&& read) {
  try {
    std::forward<Read>(read)();
  } catch (const leewheel::InputFault& fault) {
    return fault.what();
  }
  return "accepted";
}

}  // namespace io_test
