#include "io/atomic_file.hpp"

#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "io/fault.hpp"

namespace leewheel {

namespace fs = std::filesystem;

void write_whole_file(const std::string& path, const std::string& content) {
  std::error_code error;
  if (fs::is_directory(path, error)) throw InputFault({path, 0, 0, "", "found a folder, expected a file to write"});
  const std::string part = path + ".part" + std::to_string(getpid());  // two runs at once do not mix
  {
    std::ofstream file(part, std::ios::binary | std::ios::trunc);
    file.write(content.data(), static_cast<std::streamsize>(content.size()));
    file.close();
    if (!file) {
      fs::remove(part, error);
      throw InputFault({path, 0, 0, "", "cannot be written, expected a place with room and permission"});
    }
  }
  fs::rename(part, path, error);
  if (error) {
    const std::string reason = error.message();
    fs::remove(part, error);
    throw InputFault({path, 0, 0, "", "cannot be written: " + reason});
  }
}

void make_output_folder(const std::string& path) {
  std::error_code error;
  fs::create_directories(path, error);
  if (error || !fs::is_directory(path)) {
    throw InputFault({path, 0, 0, "", "cannot be made, expected a folder" + (error ? " (" + error.message() + ")" : "")});
  }
  if (access(path.c_str(), W_OK) != 0)
    throw InputFault({path, 0, 0, "", "cannot be written, expected a folder with permission"});
}

}  // namespace leewheel
