#include "io/yaml_reader.hpp"

#include <fmt/format.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/yaml.h>

#include <array>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <numeric>
#include <optional>
#include <sstream>

#include "io/plain_number.hpp"
#include "io/unit_names.hpp"

namespace leewheel {

namespace {

constexpr std::size_t most_yaml_bytes = 16u << 20;
constexpr std::size_t deepest_nesting = 24;  // a scenario needs six

using Kind = YamlNode::Kind;

/// Builds our own tree from the parser's events: marks of keys, doubled keys and quotes are kept, and neither
/// aliases nor nesting can make it large.
class TreeBuilder : public YAML::EventHandler {
 public:
  YamlNode root;

  void OnDocumentStart(const YAML::Mark&) override {}
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t) override { close(node_at(mark, Kind::empty)); }
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
    throw YAML::ParserException(mark, "an alias (*name) is not accepted; write the values out");
  }
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t, const std::string& value) override {
    YamlNode node = node_at(mark, Kind::scalar);
    node.quoted = tag == "!";
    node.scalar = value;
    // yaml-cpp hands out "~" and "null" as scalars.
    if (!node.quoted && (value == "~" || value == "null" || value.empty())) node.kind = Kind::empty;
    close(std::move(node));
  }
  void OnSequenceStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t, YAML::EmitterStyle::value) override {
    open(mark, Kind::list);
  }
  void OnSequenceEnd() override { close_container(); }
  void OnMapStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t, YAML::EmitterStyle::value) override {
    open(mark, Kind::map);
  }
  void OnMapEnd() override { close_container(); }

 private:
  static YamlNode node_at(const YAML::Mark& mark, Kind kind) {
    YamlNode node;
    node.kind = kind;
    node.line = mark.line + 1;
    node.column = mark.column + 1;
    return node;
  }
  void open(const YAML::Mark& mark, Kind kind) {
    if (open_.size() >= deepest_nesting) throw YAML::ParserException(mark, "nested too deeply");
    open_.push_back(node_at(mark, kind));
  }
  void close_container() {
    YamlNode node = std::move(open_.back());
    open_.pop_back();
    close(std::move(node));
  }
  void close(YamlNode&& node) {
    if (open_.empty()) {
      root = std::move(node);
      return;
    }
    YamlNode& parent = open_.back();
    const bool is_key = parent.kind == Kind::map && parent.keys.size() == parent.items.size();
    if (node.kind == Kind::empty && parent.kind == Kind::map && !is_key) {  // the parser marks what follows it
      node.line = parent.keys.back().line;
      node.column = parent.keys.back().column;
    }
    (is_key ? parent.keys : parent.items).push_back(std::move(node));
  }

  std::vector<YamlNode> open_;
};

YamlNode parse(const std::string& text) {
  std::istringstream stream(text + "\n...\n");  // yaml-cpp accepts a quote still open at the end of a file, but not at "..."
  YAML::Parser parser(stream);
  TreeBuilder tree, second;
  parser.HandleNextDocument(tree);
  if (parser.HandleNextDocument(second)) {
    YAML::Mark mark;
    mark.line = second.root.line - 1;
    mark.column = second.root.column - 1;
    throw YAML::ParserException(mark, "a second document begins here, expected one in a file");
  }
  return std::move(tree.root);
}

/// Line of the first tab that indents, 0 when there is none: the usual reason why YAML cannot be read.
int line_indented_by_tab(std::string_view text) {
  int line = 1;
  bool indenting = true;
  for (const char c : text) {
    if (c == '\t' && indenting) return line;
    indenting = c == '\n' || (indenting && c == ' ');
    line += c == '\n';
  }
  return 0;
}

Fault syntax_fault(const std::string& path, std::string_view text, const YAML::Exception& error) {
  if (const int line = line_indented_by_tab(text))
    return {path, line, 0, "", "found a tab in the indentation, expected blanks"};
  const std::string reason = error.msg == "illegal document indicator in scalar" ? "a quote is not closed" : error.msg;
  const int last_line = 1 + static_cast<int>(std::count(text.begin(), text.end(), '\n'));
  if (error.mark.line + 1 > last_line) return {path, last_line, 0, "", "not readable as YAML: " + reason};
  return {path, error.mark.line + 1, error.mark.column + 1, "", "not readable as YAML: " + reason};
}

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

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), 0u);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0]++;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i - 1] != b[j - 1]);
      diagonal = row[j];
      row[j] = std::min({replaced, row[j] + 1, row[j - 1] + 1});
    }
  }
  return row.back();
}

}  // namespace

void Faults::add(Fault fault) {
  constexpr std::size_t most = 100;  // a wrong kind of file would fill the screen
  if (faults_.size() == most) fault = {fault.file, 0, 0, "", "more faults are not listed"};
  if (faults_.size() <= most) faults_.push_back(std::move(fault));
}

void Faults::throw_if_any() const {
  if (faults_.empty()) return;
  std::vector<std::string> files;
  for (const Fault& fault : faults_)
    if (std::find(files.begin(), files.end(), fault.file) == files.end()) files.push_back(fault.file);
  const auto place = [&](const Fault& fault) {
    return std::tuple(std::find(files.begin(), files.end(), fault.file) - files.begin(), fault.line, fault.column);
  };
  std::vector<Fault> sorted = faults_;
  std::stable_sort(sorted.begin(), sorted.end(), [&](const Fault& a, const Fault& b) { return place(a) < place(b); });
  throw InputFault(std::move(sorted));
}

std::string listed(std::span<const std::string_view> names) { return fmt::format("{}", fmt::join(names, ", ")); }

std::string nearest_name(std::string_view name, const std::vector<std::string>& names) {
  std::string nearest;
  std::size_t least = std::max<std::size_t>(2, name.size() / 3) + 1;
  if (name.size() > 64) return nearest;
  for (const std::string& candidate : names)
    if (const std::size_t distance = edit_distance(name, candidate); distance < least) {
      least = distance;
      nearest = candidate;
    }
  return nearest;
}

std::string shown(std::string_view text) {
  constexpr std::size_t longest = 60;
  std::string result;
  for (const char c : text.substr(0, longest)) result += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
  if (text.size() <= longest) return result;
  while (!result.empty() && (result.back() & 0xC0) == 0x80) result.pop_back();  // not in the middle of a letter
  if (!result.empty() && (result.back() & 0x80)) result.pop_back();
  return result + "...";
}

std::string read_whole_file(const std::string& path, std::size_t most_bytes) {
  std::error_code error;
  if (!std::filesystem::exists(path, error)) throw InputFault({path, 0, 0, "", "not found, expected a file"});
  if (std::filesystem::is_directory(path, error)) throw InputFault({path, 0, 0, "", "found a folder, expected a file"});
  std::ifstream file(path, std::ios::binary);
  std::string text;
  std::vector<char> block(1 << 16);
  while (file && text.size() <= most_bytes) {
    file.read(block.data(), static_cast<std::streamsize>(block.size()));
    text.append(block.data(), static_cast<std::size_t>(file.gcount()));
  }
  if (text.size() > most_bytes)
    throw InputFault({path, 0, 0, "", fmt::format("found more than {} MB, expected a smaller file", most_bytes >> 20)});
  if (file.bad() || !file.eof()) throw InputFault({path, 0, 0, "", "cannot be read"});
  if (text.starts_with("\xEF\xBB\xBF")) text.erase(0, 3);
  return text;
}

int line_of_bad_text(std::string_view text) {
  int line = 1;
  for (std::size_t i = 0; i < text.size();) {
    const auto c = static_cast<unsigned char>(text[i]);
    const std::size_t length = c < 0x80                ? 1
                               : c >= 0xC2 && c < 0xE0 ? 2
                               : c >= 0xE0 && c < 0xF0 ? 3
                               : c >= 0xF0 && c < 0xF5 ? 4
                                                       : 0;
    const bool control = c == 0x7f || (c < 0x20 && c != '\t' && c != '\n' && c != '\r');
    if (length == 0 || control || i + length > text.size()) return line;
    for (std::size_t k = 1; k < length; ++k)
      if ((static_cast<unsigned char>(text[i + k]) & 0xC0) != 0x80) return line;
    line += c == '\n';
    i += length;
  }
  return 0;
}

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
    root_ = parse(text);
    readable_ = root_.kind != Kind::empty;
    if (!readable_) faults_.add({path_, 1, 0, "", "found an empty file, expected a YAML mapping"});
  } catch (const YAML::Exception& error) {
    faults_.add(syntax_fault(path_, text, error));
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
  into = node_->scalar;
  return true;
}

bool YamlValue::name(std::string& into) const {
  constexpr std::size_t longest = 100;
  std::string name;
  if (!text(name)) return false;
  if (name.size() > longest || name.find_first_of("\r\n") != std::string::npos) {
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
