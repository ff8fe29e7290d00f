#include "io/old_names.hpp"

#include <string_view>

namespace leewheel {

namespace {

struct OldName {
  std::string_view under;  ///< key of the map in which it stands, by its present name; empty: the file's own
  std::string_view old, now;
};

constexpr OldName old_names[] = {
    {"", "lee", "wake"},
    {"ride", "order", "start_order"},
    {"ride", "lee_interval_s", "wake_interval_s"},
    {"behaviour", "gutter_lee", "gutter_factor"},
    {"behaviour", "unknown_wheel_lee", "unknown_wheel_factor"},
    {"behaviour", "front_push", "front_effort"},
    {"wake", "lee_scale", "wake_scale"},
    {"uncertainty", "lee_scale", "wake_scale"},
    {"wind", "shelter", "windbreaks"},
};

void rename_in(YamlNode& map, std::string_view under, const std::string& path, std::vector<Fault>& remarks) {
  for (YamlNode& key : map.keys)
    for (const OldName& one : old_names)
      if (one.under == under && key.scalar == one.old) {
        remarks.push_back({path, key.line, key.column,
                           std::string(under.empty() ? "" : under) + (under.empty() ? "" : ".") + std::string(one.old),
                           "is now called " + std::string(one.now) + "; the old name will not be read by the next version"});
        key.scalar = one.now;
      }
}

}  // namespace

std::vector<Fault> rename_old_keys(YamlNode& root, const std::string& path) {
  std::vector<Fault> remarks;
  if (root.kind != YamlNode::Kind::map) return remarks;
  rename_in(root, "", path, remarks);
  for (std::size_t k = 0; k < root.keys.size(); ++k)
    if (root.items[k].kind == YamlNode::Kind::map) rename_in(root.items[k], root.keys[k].scalar, path, remarks);
  return remarks;
}

}  // namespace leewheel
