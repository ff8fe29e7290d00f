#pragma once
/// A small strict layer over YAML: a handle on one value that knows its file, place and field, and collects faults
/// instead of stopping at the first. A key that nobody asked for is a fault, and so is a key given twice.

#include <algorithm>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "io/fault.hpp"
#include "io/fault_words.hpp"
#include "io/text_file.hpp"
#include "leewheel/field.hpp"

namespace leewheel {

/// One value as it stands in the file. In a map `keys[i]` belongs to `items[i]`, doubled keys included.
struct YamlNode {
  enum class Kind { empty, scalar, list, map };
  Kind kind = Kind::empty;
  int line = 1, column = 1;  ///< 1-based
  bool quoted = false;
  std::string scalar;
  std::vector<YamlNode> keys, items;
};

class YamlValue;

/// A parsed file. A file that cannot be read or is not YAML adds a fault and is not `readable`.
/// Aliases (`*name`) are refused: they can blow a short file up to any size, and a scenario needs none.
class YamlFile {
 public:
  YamlFile(const std::string& path, Faults& faults);
  YamlFile(const std::string& name, const std::string& text, Faults& faults);  ///< text already in memory
  YamlFile(const YamlFile&) = delete;
  bool readable() const { return readable_; }
  const std::string& path() const { return path_; }
  std::string beside(const std::string& name) const;  ///< path of a file named inside this one
  Faults& faults() const { return faults_; }
  YamlValue root() const;
  YamlNode& tree() { return root_; }

 private:
  void take(const std::string& text);
  std::string path_;
  Faults& faults_;
  YamlNode root_;
  bool readable_ = false;
};

struct Range {
  double lowest = -no_limit, highest = no_limit;
  bool lowest_excluded = false;
};

/// A handle on one value, given or not. The reading functions return true when a good value was stored; they leave the
/// target alone when the value is not given, and add a fault when it is given and wrong.
class YamlValue {
 public:
  YamlValue(const YamlFile& file, const YamlNode* node, const YamlNode& around, std::string field)
      : file_(&file), node_(node), around_(&around), field_(std::move(field)) {}

  bool given() const { return node_ != nullptr; }
  bool is_list() const { return given() && node_->kind == YamlNode::Kind::list; }
  bool is_map() const { return given() && node_->kind == YamlNode::Kind::map; }
  bool is_number() const;
  const YamlNode* node() const { return node_; }
  const YamlNode& place() const { return node_ ? *node_ : *around_; }  ///< where a fault points
  const YamlFile& file() const { return *file_; }
  const std::string& field() const { return field_; }

  void fault(const std::string& what) const;            ///< at this value's place
  void refuse(const std::string& expected) const;       ///< "found -7, expected ..."
  bool number(const Range& range, double& into) const;  ///< the unit in the message is taken from the key
  bool whole(long lowest, long highest, long& into) const;
  bool text(std::string& into) const;       ///< not empty
  bool name(std::string& into) const;       ///< a text of one line
  bool neighbour(std::string& path) const;  ///< path of the file named here, which must exist
  template <class Names, class Enum>
  bool choice(const Names& names, Enum& into) const;  ///< one of `names`, whose order is that of the enum
  std::vector<YamlValue> items() const;               ///< of a list; a fault when it is something else

 private:
  const YamlFile* file_;
  const YamlNode* node_;    // null: not given
  const YamlNode* around_;  // where to point when it is not given
  std::string field_;
};

/// The keys of a map. Asking for a key makes it known; when the map goes out of scope unknown keys become faults.
class YamlMap {
 public:
  explicit YamlMap(const YamlValue& value);
  YamlMap(const YamlMap&) = delete;
  ~YamlMap();

  bool given() const { return value_.given(); }
  const YamlValue& value() const { return value_; }
  YamlValue operator[](std::string_view key);
  YamlValue require(std::string_view key, std::string_view expected);  ///< a fault when it is missing
  std::vector<YamlValue> all();                                        ///< every value, whatever its key
  bool one_of(std::string_view first, std::string_view second);        ///< a fault unless exactly one is given

  /// Every number of a settings struct by its table.
  template <class Settings>
  void numbers(std::span<const NumberField<Settings>> fields, Settings& into) {
    for (const auto& f : fields) (*this)[f.name].number({f.lowest, f.highest, f.lowest_excluded}, into.*f.member);
  }

 private:
  std::string field_of(std::string_view key) const;
  std::string known_like(const std::string& key) const;
  YamlValue value_;
  std::vector<std::string> known_;
  bool all_known_ = false;
};

template <class Names, class Enum>
bool YamlValue::choice(const Names& names, Enum& into) const {
  if (!given()) return false;
  const auto found = node_->kind == YamlNode::Kind::scalar
                         ? std::find(std::begin(names), std::end(names), std::string_view(node_->scalar))
                         : std::end(names);
  if (found == std::end(names)) {
    refuse("one of " + listed({std::data(names), std::size(names)}));
    return false;
  }
  into = static_cast<Enum>(found - std::begin(names));
  return true;
}

}  // namespace leewheel
