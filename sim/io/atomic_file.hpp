#pragma once
/// Text files that appear whole or not at all: written beside their place under another name, then renamed.

#include <string>
#include <vector>

namespace leewheel {

/// Throws InputFault when the place cannot be written and WriteFault when it has no room; leaves nothing behind then.
void write_whole_file(const std::string& path, const std::string& content);

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
