#include "io/yaml_reader.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <filesystem>
#include <map>
#include <optional>

#include "io/plain_number.hpp"
#include "io/unit_names.hpp"
#include "io/yaml_tree.hpp"

namespace leewheel {

namespace {

constexpr std::size_t most_yaml_bytes = 16u << 20;

using Kind = YamlNode::Kind;

/// " kg/m3" of riders[2].air_density_kgpm3[0]; empty without a unit.
std::string unit_behind(std::string_view field) {
  const std::string_view unit = plain_unit_of(field.substr(0, field.find('[', field.rfind('.') + 1)));
  return unit.empty() ? "" : " " + std::string(unit);
}

std::string expected_number(const Range& range, const std::string& unit) {
  const bool floor = range.lowest > -no_limit, ceiling = range.highest < no_limit;
  if (floor && ceiling)
    return fmt::format("a number in {}{:.10g}, {:.10g}]{}", range.lowest_excluded ? '(' : '[', range.lowest, range.highest,
                       unit);
  if (floor)
    return fmt::format("a number {} {:.10g}{}", range.lowest_excluded ? "above" : "of at least", range.lowest, unit);
  if (ceiling) return fmt::format("a number of at most {:.10g}{}", range.highest, unit);
  return "a number" + (unit.empty() ? "" : " in" + unit);
}

std::optional<double> number_of(const YamlNode& node) {
  return node.kind == Kind::scalar && !node.quoted ? number_in(node.scalar) : std::nullopt;
}

std::string found(const YamlNode& node) {
  switch (node.kind) {
    case Kind::empty: return "nothing";
    case Kind::list: return "a list";
    case Kind::map: return "a mapping";
    case Kind::scalar: break;
  }
  return node.quoted || (!number_of(node) && node.scalar != ".nan" && node.scalar != ".inf") ? "'" + shown(node.scalar) + "'"
                                                                                             : shown(node.scalar);
}

}  // namespace

YamlFile::YamlFile(const std::string& path, Faults& faults) : path_(path), faults_(faults) {
  try {
    take(read_whole_file(path, most_yaml_bytes));
  } catch (const InputFault& fault) {
    for (const Fault& one : fault.faults()) faults_.add(one);
  }
}

YamlFile::YamlFile(const std::string& name, const std::string& text, Faults& faults) : path_(name), faults_(faults) {
  take(text);
}

void YamlFile::take(const std::string& text) {
  if (const int line = line_of_bad_text(text)) {
    faults_.add({path_, line, 0, "", "found bytes that are not UTF-8 text, expected a YAML file"});
    return;
  }
  try {
    root_ = yaml_tree(path_, text);
    readable_ = root_.kind != Kind::empty;
    if (!readable_) faults_.add({path_, 1, 0, "", "found an empty file, expected a YAML mapping"});
  } catch (const InputFault& fault) {
    for (const Fault& one : fault.faults()) faults_.add(one);
  }
}

std::string YamlFile::beside(const std::string& name) const {
  return (std::filesystem::path(path_).parent_path() / name).lexically_normal().string();
}

YamlValue YamlFile::root() const { return YamlValue(*this, &root_, root_, ""); }

bool YamlValue::is_number() const { return given() && number_of(*node_).has_value(); }

void YamlValue::fault(const std::string& what) const {
  file_->faults().add({file_->path(), place().line, place().column, field_, what});
}

void YamlValue::refuse(const std::string& expected) const { fault("found " + found(*node_) + ", expected " + expected); }

bool YamlValue::number(const Range& range, double& into) const {
  if (!given()) return false;
  const std::optional<double> value = number_of(*node_);
  const bool above = value && (range.lowest_excluded ? *value > range.lowest : *value >= range.lowest);
  if (!above || !(*value <= range.highest)) {
    refuse(expected_number(range, unit_behind(field_)));
    return false;
  }
  into = *value;
  return true;
}

bool YamlValue::whole(long lowest, long highest, long& into) const {
  if (!given()) return false;
  const std::string& text = node_->scalar;
  long value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool good = node_->kind == Kind::scalar && !node_->quoted && error == std::errc() &&
                    end == text.data() + text.size() && !text.empty();
  if (!good || value < lowest || value > highest) {
    refuse(fmt::format("a whole number in [{}, {}]", lowest, highest));
    return false;
  }
  into = value;
  return true;
}

bool YamlValue::text(std::string& into) const {
  if (!given()) return false;
  if (node_->kind != Kind::scalar || node_->scalar.find_first_not_of(" \t\n\r") == std::string::npos) {
    refuse("a text");
    return false;
  }
  if (bad_text_at(node_->scalar)) {  // escapes of YAML make letters that the text of the file does not hold
    refuse("a text without control characters");
    return false;
  }
  into = node_->scalar;
  return true;
}

bool YamlValue::name(std::string& into) const {
  constexpr std::size_t longest = 100;
  std::string name;
  if (!text(name)) return false;
  if (name.size() > longest || name.find_first_of("\r\n\t") != std::string::npos) {
    refuse(fmt::format("a name of one line and at most {} bytes", longest));
    return false;
  }
  into = std::move(name);
  return true;
}

bool YamlValue::neighbour(std::string& path) const {
  std::string name_given;
  if (!text(name_given)) return false;
  const std::string beside = file_->beside(name_given);
  std::error_code error;
  if (!std::filesystem::is_regular_file(beside, error)) {
    refuse("a file, looked for at " + beside);
    return false;
  }
  path = beside;
  return true;
}

std::vector<YamlValue> YamlValue::items() const {
  std::vector<YamlValue> values;
  if (given() && !is_list()) refuse("a list");
  if (!is_list()) return values;
  for (std::size_t i = 0; i < node_->items.size(); ++i)
    values.emplace_back(*file_, &node_->items[i], *node_, fmt::format("{}[{}]", field_, i));
  return values;
}

YamlMap::YamlMap(const YamlValue& value) : value_(value) {
  if (value.given() && !value.is_map()) value.refuse("a mapping of keys to values");
  if (!value.is_map()) return;
  std::map<std::string_view, int> first_line;
  for (const YamlNode& key : value.node()->keys) {
    const auto [first, is_new] = first_line.emplace(key.scalar, key.line);
    if (!is_new && key.kind == Kind::scalar)
      YamlValue(value.file(), &key, key, field_of(shown(key.scalar)))
          .fault(fmt::format("found a second time (first in line {}), expected once", first->second));
  }
}

std::string YamlMap::field_of(std::string_view key) const {
  return (value_.field().empty() ? "" : value_.field() + ".") + std::string(key);
}

YamlMap::~YamlMap() {
  if (!value_.is_map() || all_known_) return;
  for (const YamlNode& key : value_.node()->keys) {
    if (value_.file().faults().full()) return;
    if (key.kind == Kind::scalar && std::find(known_.begin(), known_.end(), key.scalar) != known_.end()) continue;
    if (key.kind != Kind::scalar) {
      YamlValue(value_.file(), &key, key, value_.field()).refuse("a key");
      continue;
    }
    YamlValue(value_.file(), &key, key, field_of(shown(key.scalar)))
        .fault(fmt::format("unknown key, expected {}", known_like(key.scalar)));
  }
}

/// The key most likely meant, or all keys, or the likeliest of a long list.
std::string YamlMap::known_like(const std::string& key) const {
  constexpr std::size_t most = 14, likeliest = 5;
  const std::string nearest = nearest_name(key, known_);
  if (!nearest.empty()) return nearest;
  if (known_.size() <= most) return fmt::format("one of {}", fmt::join(known_, ", "));
  std::vector<std::string> sorted = known_;
  const auto distance = [&](const std::string& name) { return edit_distance(shown(key), name); };
  std::stable_sort(sorted.begin(), sorted.end(), [&](const auto& a, const auto& b) { return distance(a) < distance(b); });
  return fmt::format("a known one, such as {}", fmt::join(sorted.begin(), sorted.begin() + likeliest, ", "));
}

YamlValue YamlMap::operator[](std::string_view key) {
  if (std::find(known_.begin(), known_.end(), key) == known_.end()) known_.emplace_back(key);
  const YamlNode* found_node = nullptr;
  if (value_.is_map()) {
    const YamlNode& map = *value_.node();
    for (std::size_t i = 0; i < map.keys.size() && !found_node; ++i)
      if (map.keys[i].kind == Kind::scalar && map.keys[i].scalar == key) found_node = &map.items[i];
  }
  return YamlValue(value_.file(), found_node, value_.place(), field_of(key));
}

YamlValue YamlMap::require(std::string_view key, std::string_view expected) {
  YamlValue value = (*this)[key];
  if (!value.given() && value_.is_map()) value.fault(fmt::format("missing, expected {}", expected));
  return value;
}

std::vector<YamlValue> YamlMap::all() {
  std::vector<YamlValue> values;
  if (!value_.is_map()) return values;
  const YamlNode& map = *value_.node();
  for (std::size_t i = 0; i < map.keys.size(); ++i)
    if (map.keys[i].kind == Kind::scalar)
      values.emplace_back(value_.file(), &map.items[i], map.items[i], field_of(map.keys[i].scalar));
  all_known_ = true;
  return values;
}

bool YamlMap::one_of(std::string_view first, std::string_view second) {
  const bool has_first = (*this)[first].given(), has_second = (*this)[second].given();
  if (value_.is_map() && has_first == has_second)
    value_.fault(fmt::format("{} {} and {}, expected one of them", has_first ? "found both" : "missing", first, second));
  return has_first != has_second;
}

}  // namespace leewheel
