#include "io/atomic_file.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>
#include <fstream>

#include "io/fault.hpp"

namespace leewheel {

namespace fs = std::filesystem;

namespace {

std::string part_of(const std::string& path) {
  return path + ".part" + std::to_string(getpid());
}  // two runs at once do not mix

void write_part(const std::string& path, const std::string& content) {
  std::error_code error;
  if (fs::is_directory(path, error)) throw InputFault({path, 0, 0, "", "found a folder, expected a file to write"});
  const std::string part = part_of(path);
  std::ofstream file(part, std::ios::binary | std::ios::trunc);
  if (!file) throw InputFault({path, 0, 0, "", "cannot be written, expected a place with room and permission"});
  file.write(content.data(), static_cast<std::streamsize>(content.size()));
  file.close();
  if (file) return;
  fs::remove(part, error);
  throw WriteFault({path, 0, 0, "", "cannot be written; is the disk full or the folder gone?"});
}

void rename_part(const std::string& path) {
  std::error_code error, ignored;
  fs::rename(part_of(path), path, error);
  if (!error) return;
  fs::remove(part_of(path), ignored);
  throw InputFault({path, 0, 0, "", "cannot be written: " + error.message()});
}

}  // namespace

void write_whole_file(const std::string& path, const std::string& content) {
  const Writing writing;
  write_part(path, content);
  rename_part(path);
}

void write_whole_files(const std::vector<std::pair<std::string, std::string>>& paths_and_contents) {
  WholeFiles files;
  for (const auto& [path, content] : paths_and_contents) files.add(path, content);
  files.appear();
}

void WholeFiles::add(const std::string& path, const std::string& content) {
  write_part(path, content);
  waiting_.push_back(path);
}

void WholeFiles::appear() {
  for (; !waiting_.empty(); waiting_.pop_back()) rename_part(waiting_.back());
}

WholeFiles::~WholeFiles() {
  std::error_code ignored;
  for (const std::string& path : waiting_) fs::remove(part_of(path), ignored);
}

/// The lock of the folder itself; where the file system has none, nobody is refused.
FolderHeld::FolderHeld(const std::string& folder) : folder_(open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
  if (folder_ < 0 || flock(folder_, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK) return;
  close(folder_);
  throw InputFault(
      {folder, 0, 0, "", "another ride is being written to this folder, expected another one (-o) or to wait for its end"});
}

FolderHeld::~FolderHeld() {
  if (folder_ >= 0) close(folder_);
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
