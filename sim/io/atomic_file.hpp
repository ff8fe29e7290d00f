#pragma once
/// Text files that appear whole or not at all: written beside their place under another name, then renamed.

#include <atomic>
#include <string>
#include <utility>
#include <vector>

namespace leewheel {

/// Throws InputFault when the place cannot be written and WriteFault when it has no room; leaves nothing behind then.
void write_whole_file(const std::string& path, const std::string& content);

/// Several that belong together: none of them appears before all are written.
void write_whole_files(const std::vector<std::pair<std::string, std::string>>& paths_and_contents);

/// While one lives, files are being written, and a stop that is asked for comes too late: what is written becomes whole.
class Writing {
 public:
  Writing() { ++count_; }
  ~Writing() { --count_; }
  Writing(const Writing&) = delete;
  static bool now() { return count_ > 0; }

 private:
  static inline std::atomic<int> count_{0};  // read by the handlers of signals
  static_assert(std::atomic<int>::is_always_lock_free);
};

/// Files that belong together: those of an earlier run stay until all of the new ones are written.
class WholeFiles {
 public:
  WholeFiles() = default;
  ~WholeFiles();  ///< what has not appeared goes
  WholeFiles(const WholeFiles&) = delete;
  void add(const std::string& path, const std::string& content);  ///< written, under another name; throws as above
  void appear();                                                  ///< all of them under their names

 private:
  std::vector<std::string> waiting_;
  Writing writing_;
};

/// While it lives, no other run writes to this folder: throws InputFault when one does. Leaves no file, and a killed run holds nothing.
class FolderHeld {
 public:
  explicit FolderHeld(const std::string& folder);
  ~FolderHeld();
  FolderHeld(const FolderHeld&) = delete;

 private:
  int folder_;
};

/// Makes the folder (and its parents) if needed and checks that it can be written. Throws InputFault.
void make_output_folder(const std::string& path);

}  // namespace leewheel
