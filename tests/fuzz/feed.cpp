/// Feeds a target with the files of folders, so that the kept corpus is tried with any compiler.
///
///   leewheel_fuzz_NAME FOLDER|FILE...

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <vector>

#include "fuzz/fuzz.hpp"

namespace fs = std::filesystem;

int main(int argc, char** argv) {
  std::vector<fs::path> files;
  for (int k = 1; k < argc; ++k) {
    if (!fs::is_directory(argv[k]))
      files.emplace_back(argv[k]);
    else
      for (const fs::directory_entry& entry : fs::directory_iterator(argv[k])) files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  if (files.empty()) return std::cerr << "no files to feed\n", 1;
  fuzz::begin();
  std::size_t accepted = 0;
  for (const fs::path& path : files) {
    std::ifstream file(path, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(file), {}};
    std::cout << path.filename().string() << std::flush;  // the last line names what a fault came from
    const bool good = fuzz::take(bytes);
    std::cout << (good ? ": accepted\n" : ": refused\n");
    accepted += good;
  }
  std::cout << files.size() << " inputs, " << accepted << " accepted" << std::endl;
  return accepted == 0;  // a target that refuses everything tests nothing
}
