/// Rows of evidence from YAML; the form is told in docs/evidence_rows.md.

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <set>

#include "evidence/built_in.hpp"
#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "evidence/row.hpp"

namespace leewheel::evidence {
namespace {

std::string optional_text(YamlMap& map, std::string_view key) {
  std::string text;
  map[key].text(text);
  return text;
}

std::string needed_text(YamlMap& map, std::string_view key, std::string_view expected) {
  std::string text;
  map.require(key, expected).text(text);
  return text;
}

/// "mass_kg 90, wind (speed_mps 2.94, from_deg 310)": what was given, on one line.
std::string one_line(const YamlNode& node) {
  std::vector<std::string> parts;
  switch (node.kind) {
    case YamlNode::Kind::empty: return "";
    case YamlNode::Kind::scalar: return node.scalar;
    case YamlNode::Kind::list:
      for (const YamlNode& item : node.items)
        parts.push_back(item.kind == YamlNode::Kind::scalar ? item.scalar : "(" + one_line(item) + ")");
      return fmt::format("{}", fmt::join(parts, " "));
    case YamlNode::Kind::map:
      for (std::size_t i = 0; i < node.items.size(); ++i) {
        const bool simple = node.items[i].kind == YamlNode::Kind::scalar || node.items[i].kind == YamlNode::Kind::list;
        parts.push_back(
            fmt::format(fmt::runtime(simple ? "{} {}" : "{} ({})"), node.keys[i].scalar, one_line(node.items[i])));
      }
      return fmt::format("{}", fmt::join(parts, ", "));
  }
  return "";
}

Source read_source(const YamlValue& value) {
  YamlMap map(value);
  Source source;
  source.authors = needed_text(map, "authors", "who measured or computed it");
  source.journal = optional_text(map, "journal");
  source.where = optional_text(map, "where");
  source.note = optional_text(map, "note");
  long year = 0;
  if (map["year"].whole(1500, 2200, year)) source.year = static_cast<int>(year);
  map.require("trust", "one of " + listed(trust_names)).choice(trust_names, source.trust);
  return source;
}

using Sources = std::map<std::string, Source>;

Source source_of(YamlMap& row, const Sources& sources) {
  const YamlValue value = row.require("source", "a source by name, or {authors, year, journal, trust}");
  Source source;
  if (value.is_map()) {
    source = read_source(value);
  } else if (std::string name; value.text(name)) {
    const auto found = sources.find(name);
    if (found != sources.end())
      source = found->second;
    else
      value.refuse("a name listed under sources");
  }
  row["trust"].choice(trust_names, source.trust);
  return source;
}

/// Numbers of one quantity: a value or values with a band, or a bound.
void read_numbers(const YamlValue& value, std::string_view quantity, std::vector<Published>& into) {
  YamlMap map(value);
  if (!value.is_map()) return;
  Published one;
  one.quantity = quantity;
  one.line = value.place().line;
  one.column = value.place().column;
  one.field = value.field();
  std::vector<double> at = number_list(map["at"], {1.0, 1000.0});
  double band_percent = 0.0, uncertainty_percent = 0.0;
  const bool band = map["band"].number(not_negative, one.band),
             relative = map["band_percent"].number(not_negative, band_percent);
  map["uncertainty"].number(not_negative, one.uncertainty);
  map["uncertainty_percent"].number(not_negative, uncertainty_percent);

  double lowest = 0.0, highest = 0.0;
  const std::vector<double> between = number_list(map["between"], any_number);
  if (map["between"].given() && (between.size() != 2 || !(between[0] <= between[1])))
    map["between"].fault("expected two numbers, the smaller first");
  if (between.size() == 2) {
    one.lowest = between[0];
    one.highest = between[1];
  }
  if (map["at_least"].number(any_number, lowest)) one.lowest = lowest;
  if (map["at_most"].number(any_number, highest)) one.highest = highest;

  std::vector<std::pair<std::size_t, double>> points;
  if (double single = 0.0; map["value"].given()) {
    map["value"].number(any_number, single);
    points.emplace_back(at.empty() ? 1 : static_cast<std::size_t>(at[0]), single);
  }
  if (map["values"].given()) {
    std::size_t place = 0;
    for (const YamlValue& item : map["values"].items()) {
      ++place;
      if (item.node()->kind == YamlNode::Kind::empty) continue;  // no number was published for this place
      double number = 0.0;
      item.number(any_number, number);
      points.emplace_back(place <= at.size() ? static_cast<std::size_t>(at[place - 1]) : place, number);
    }
  }
  if (points.empty() == !one.is_bound() || (map["value"].given() && map["values"].given()))
    value.fault("expected one of value, values, or a bound (between, at_least, at_most)");
  if (!points.empty() && band == relative) value.fault("expected band or band_percent: the most a result may miss by");
  if (one.is_bound()) {
    if (at.empty()) at = {0.0};  // every place
    for (const double place : at) {
      into.push_back(one);
      into.back().place = static_cast<std::size_t>(place);
    }
  }
  for (const auto& [place, number] : points) {
    into.push_back(one);
    into.back().place = place;
    into.back().value = number;
    if (relative) into.back().band = band_percent / 100.0 * std::abs(number);
    if (uncertainty_percent > 0.0) into.back().uncertainty = uncertainty_percent / 100.0 * std::abs(number);
  }
}

void read_published(YamlMap& row, const Kind& kind, Row& into) {
  YamlMap map(row.require("published", "what was published, by quantity"));
  for (const std::string_view quantity : kind.quantities) {
    const YamlValue value = map[quantity];
    if (value.is_list()) {
      for (const YamlValue& item : value.items()) read_numbers(item, quantity, into.published);
    } else if (value.given()) {
      read_numbers(value, quantity, into.published);
    }
  }
  if (map.given() && map.value().is_map() && map.value().node()->keys.empty())
    map.value().fault("found nothing, expected a quantity");
}

void read_reason(YamlMap& row, Row& into) {
  YamlMap map(row["out_of_band"]);
  if (!map.given()) return;
  into.reason = needed_text(map, "reason", "why the row may lie outside its band");
  into.reason_covers = needed(map, "covers", positive);
}

Row read_row(const YamlValue& value, const Sources& sources, const std::vector<Series>& series) {
  YamlMap map(value);
  Row row;
  row.file = value.file().path();
  row.line = value.place().line;
  row.name = needed_text(map, "name", "a name");
  row.series = optional_text(map, "series");
  row.conditions = optional_text(map, "conditions");
  row.note = optional_text(map, "note");
  row.set_aside = optional_text(map, "set_aside");
  row.says = optional_text(map, "says");
  row.not_modelled = optional_text(map, "not_modelled");
  row.source = source_of(map, sources);
  map["role"].choice(role_names, row.role);
  map["weight"].number({0.0, 1000.0, true}, row.weight);
  read_reason(map, row);
  if (!row.series.empty() &&
      std::none_of(series.begin(), series.end(), [&](const Series& s) { return s.key == row.series; }))
    map["series"].refuse("a name listed under series");

  std::string kind_name;
  if (!row.not_modelled.empty()) {
    if (map["kind"].given()) map["kind"].fault("found a kind beside not_modelled, expected one of them");
    if (row.says.empty()) map.require("says", "what was published, in words");
    return row;
  }
  const YamlValue kind_value = map.require("kind", "a kind of row, or not_modelled");
  kind_value.text(kind_name);
  row.kind = kind_name;
  const Kind* kind = kind_named(kind_name);
  YamlMap given(map["given"]);
  if (given.given()) row.given_text = one_line(*given.value().node());
  if (!kind) {
    std::vector<std::string> names;
    for (const Kind& one : kinds()) names.emplace_back(one.name);
    const std::string nearest = nearest_name(kind_name, names);
    if (kind_value.given() && !kind_name.empty())
      kind_value.refuse(nearest.empty() ? fmt::format("one of {}", fmt::join(names, ", ")) : nearest);
    given.all();  // its keys cannot be judged
    map["published"];
    return row;
  }
  const std::size_t before = value.file().faults().count();
  if (!given.given() || !given.value().is_map()) {
    if (!given.given()) map.value().fault("missing given, expected the conditions of the row");
    map["published"];
    return row;
  }
  Work work = kind->read(given);
  read_published(map, *kind, row);
  if (value.file().faults().count() == before) row.work = std::move(work);
  return row;
}

std::vector<Series> read_series(YamlMap& file) {
  std::vector<Series> all;
  YamlMap map(file["series"]);
  if (!map.given() || !map.value().is_map()) return all;
  for (const YamlValue& value : map.all()) {
    YamlMap one(value);
    Series series;
    series.key = value.field().substr(value.field().rfind('.') + 1);
    series.title = needed_text(one, "title", "a title");
    series.about = optional_text(one, "about");
    series.fitted_because = optional_text(one, "fitted_because");
    series.chosen_because = optional_text(one, "chosen_because");
    series.checked_because = optional_text(one, "checked_because");
    all.push_back(std::move(series));
  }
  return all;
}

/// Kinds that had another name in the last version: read for one version more, with a remark.
constexpr std::pair<std::string_view, std::string_view> old_kinds[] = {
    {"lee", "drafting"}, {"lee_swap", "drafting_swap"}, {"lee_best_place", "drafting_best_place"}};

YamlNode* member(YamlNode& map, std::string_view key) {
  const auto found = std::ranges::find(map.keys, key, &YamlNode::scalar);
  return found == map.keys.end() ? nullptr : &map.items[static_cast<std::size_t>(found - map.keys.begin())];
}

void rename_old_kinds(YamlFile& file, std::vector<Fault>& remarks) {
  YamlNode* const rows = member(file.tree(), "rows");
  if (!rows) return;
  for (std::size_t k = 0; k < rows->items.size(); ++k) {
    YamlNode* const kind = member(rows->items[k], "kind");
    if (!kind) continue;
    for (const auto& [old, now] : old_kinds)
      if (kind->scalar == old) {
        remarks.push_back({file.path(), kind->line, kind->column, fmt::format("rows[{}].kind", k),
                           fmt::format("{} is now called {}; the old name will not be read by the next version", old, now)});
        kind->scalar = now;
        break;
      }
  }
}

Group read(const YamlFile& file) {
  Group group;
  if (!file.readable()) return group;
  YamlMap map(file.root());
  group.name = needed_text(map, "group", "the name of the group");
  group.title = optional_text(map, "title");
  if (group.title.empty()) group.title = group.name;
  group.about = optional_text(map, "about");
  group.disagreement = optional_text(map, "disagreement");
  Sources sources;
  if (YamlMap given(map["sources"]); given.given())
    for (const YamlValue& value : given.all())
      sources[value.field().substr(value.field().rfind('.') + 1)] = read_source(value);
  group.series = read_series(map);
  std::set<std::string> names;
  for (const YamlValue& value : map.require("rows", "a list of rows").items()) {
    group.rows.push_back(read_row(value, sources, group.series));
    if (const std::string& name = group.rows.back().name; !name.empty() && !names.insert(name).second)
      value.fault(fmt::format("found the name '{}' a second time, expected names that differ", name));
  }
  if (map["rows"].is_list() && group.rows.empty()) map["rows"].fault("found an empty list, expected rows");
  return group;
}

}  // namespace

Group read_group(const std::string& path, std::vector<Fault>* remarks) {
  Faults faults;
  YamlFile file(path, faults);
  std::vector<Fault> renamed;
  rename_old_kinds(file, renamed);
  if (remarks) *remarks = std::move(renamed);
  Group group = read(file);
  faults.throw_if_any();
  return group;
}

std::vector<Group> built_in_groups() {
  std::vector<Group> groups;
  Faults faults;
  for (const BuiltInFile& one : built_in_files()) {
    const YamlFile file(std::string(one.name), std::string(one.text), faults);
    groups.push_back(read(file));
  }
  faults.throw_if_any();
  return groups;
}

}  // namespace leewheel::evidence
