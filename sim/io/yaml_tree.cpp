#include "io/yaml_tree.hpp"

#include <fmt/format.h>
#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <sstream>

namespace leewheel {

namespace {

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
    if (++values_ > most_yaml_values) {
      YAML::Mark mark;
      mark.line = node.line - 1;
      mark.column = node.column - 1;
      throw YAML::ParserException(mark,
                                  fmt::format("found more than {} values, expected at most that many", most_yaml_values));
    }
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
  std::size_t values_ = 0;
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

}  // namespace

YamlNode yaml_tree(const std::string& path, const std::string& text) {
  try {
    return parse(text);
  } catch (const YAML::Exception& error) {
    throw InputFault(syntax_fault(path, text, error));
  }
}

}  // namespace leewheel
