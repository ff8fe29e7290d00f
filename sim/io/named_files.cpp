#include "io/named_files.hpp"

#include <algorithm>
#include <filesystem>

#include "io/yaml_reader.hpp"

namespace leewheel {

namespace {

void add_with_named(const std::string& path, std::vector<std::string>& files);

void add_named_in(const YamlFile& file, const YamlNode& node, std::vector<std::string>& files) {
  std::error_code error;
  if (node.kind == YamlNode::Kind::scalar && !node.scalar.empty()) {
    const std::string beside = file.beside(node.scalar);
    if (std::filesystem::is_regular_file(beside, error)) add_with_named(beside, files);
  }
  for (const YamlNode& item : node.items) add_named_in(file, item, files);
}

void add_with_named(const std::string& path, std::vector<std::string>& files) {
  if (std::find(files.begin(), files.end(), path) != files.end()) return;
  files.push_back(path);
  const std::string extension = std::filesystem::path(path).extension().string();
  if (files.size() > 1 && extension != ".yaml" && extension != ".yml") return;
  Faults passed_over;  // told by who reads the file for what it says
  YamlFile file(path, passed_over);
  if (file.readable()) add_named_in(file, file.tree(), files);
}

}  // namespace

std::vector<std::string> files_with_named(const std::string& path) {
  std::vector<std::string> files;
  add_with_named(path, files);
  return files;
}

}  // namespace leewheel
