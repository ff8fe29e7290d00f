#include "io/old_names.hpp"

#include <algorithm>

namespace leewheel {

namespace {

constexpr OldName table[] = {
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

void rename_in(YamlNode& map, std::string_view under, const std::string& path, std::vector<Fault>& remarks, Faults& faults) {
  const auto field_of = [under](std::string_view key) {
    return std::string(under) + (under.empty() ? "" : ".") + std::string(key);
  };
  for (const OldName& one : table) {
    if (one.under != under) continue;
    const auto key = std::ranges::find(map.keys, one.old, &YamlNode::scalar);
    if (key == map.keys.end()) continue;
    if (std::ranges::find(map.keys, one.now, &YamlNode::scalar) != map.keys.end())
      faults.add({path, key->line, key->column, field_of(one.old),
                  "found beside " + std::string(one.now) + ", its present name, expected only " + std::string(one.now)});
    else
      remarks.push_back({path, key->line, key->column, field_of(one.old),
                         "is now called " + std::string(one.now) + "; the old name will not be read by the next version"});
    key->scalar = one.now;
  }
}

}  // namespace

std::span<const OldName> old_names() { return table; }

std::vector<Fault> rename_old_keys(YamlNode& root, const std::string& path, Faults& faults) {
  std::vector<Fault> remarks;
  if (root.kind != YamlNode::Kind::map) return remarks;
  rename_in(root, "", path, remarks, faults);
  for (std::size_t k = 0; k < root.keys.size(); ++k)
    if (root.items[k].kind == YamlNode::Kind::map) rename_in(root.items[k], root.keys[k].scalar, path, remarks, faults);
  return remarks;
}

}  // namespace leewheel
