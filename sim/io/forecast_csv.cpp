/// A forecast as CSV: each line is read as if it stood in YAML.

#include <fmt/format.h>

#include <algorithm>

#include "io/forecast_section.hpp"

namespace leewheel {

namespace {

constexpr std::size_t most_csv_bytes = 4u << 20;

struct Cell {
  std::string text;
  int column;
};

std::vector<Cell> cells_of(std::string_view line) {
  std::vector<Cell> cells;
  for (std::size_t from = 0;;) {
    const std::size_t end = std::min(line.find(',', from), line.size());
    std::size_t first = from, last = end;
    while (first < last && (line[first] == ' ' || line[first] == '\t')) ++first;
    while (last > first && (line[last - 1] == ' ' || line[last - 1] == '\t')) --last;
    cells.push_back({std::string(line.substr(first, last - first)), static_cast<int>(first) + 1});
    if (end == line.size()) return cells;
    from = end + 1;
  }
}

/// Whether the names are known ones, each once.
bool good_header(const std::vector<Cell>& header, const std::string& path, int line, Faults& faults) {
  static const std::vector<std::string> known{"time",      "time_min",      "time_s",       "speed_mps",
                                              "speed_kmh", "from",          "from_deg",     "gusts_mps",
                                              "gusts_kmh", "temperature_C", "pressure_hPa", "humidity_percent"};
  const std::size_t before = faults.count();
  for (std::size_t k = 0; k < header.size(); ++k) {
    const Cell& cell = header[k];
    if (std::find(known.begin(), known.end(), cell.text) == known.end()) {
      const std::string nearest = nearest_name(cell.text, known);
      faults.add({path, line, cell.column, shown(cell.text),
                  fmt::format("unknown column, expected {}",
                              nearest.empty() ? fmt::format("one of {}", fmt::join(known, ", ")) : nearest)});
    }
    for (std::size_t other = 0; other < k; ++other)
      if (header[other].text == cell.text)
        faults.add({path, line, cell.column, shown(cell.text), "found a second time, expected each column once"});
  }
  return faults.count() == before;
}

YamlNode node_of(std::string text, int line, int column) {
  YamlNode node;
  node.kind = YamlNode::Kind::scalar, node.line = line, node.column = column, node.scalar = std::move(text);
  return node;
}

/// A line of the file as a map, so that it is read like one in YAML.
YamlNode row_of(const std::vector<Cell>& header, const std::vector<Cell>& cells, int line) {
  YamlNode row;
  row.kind = YamlNode::Kind::map, row.line = line, row.column = 1;
  for (std::size_t k = 0; k < header.size(); ++k) {
    if (cells[k].text.empty()) continue;
    row.keys.push_back(node_of(header[k].text, line, cells[k].column));
    row.items.push_back(node_of(cells[k].text, line, cells[k].column));
  }
  return row;
}

}  // namespace

std::vector<ForecastPoint> read_forecast_csv(const std::string& path, const StartTime& start, Faults& faults) {
  std::string text;
  try {
    text = read_whole_file(path, most_csv_bytes);
  } catch (const InputFault& fault) {
    for (const Fault& one : fault.faults()) faults.add(one);
    return {};
  }
  if (const int line = line_of_bad_text(text)) {
    faults.add({path, line, 0, "", "found bytes that are not UTF-8 text, expected a CSV file"});
    return {};
  }
  const std::size_t faults_before = faults.count();
  std::vector<Cell> header;
  YamlNode rows;
  rows.kind = YamlNode::Kind::list;
  int line = 0;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t end = std::min(text.find('\n', from), text.size());
    std::string_view all = std::string_view(text).substr(from, end - from);
    from = end + 1, ++line;
    if (!all.empty() && all.back() == '\r') all.remove_suffix(1);
    if (all.find_first_not_of(" \t") == std::string_view::npos || all.front() == '#') continue;
    const std::vector<Cell> cells = cells_of(all);
    if (header.empty()) {
      header = cells;
      if (!good_header(header, path, line, faults)) return {};
    } else if (cells.size() != header.size()) {
      faults.add({path, line, 0, "",
                  fmt::format("found {} values, expected {} as in the first line", cells.size(), header.size())});
    } else {
      rows.items.push_back(row_of(header, cells, line));
    }
  }
  if (faults.count() != faults_before) return {};
  if (rows.items.empty()) {
    faults.add({path, std::max(1, line), 0, "",
                "found no line of values, expected a line of column names and a line for each time"});
    return {};
  }
  const YamlFile file(path, "[]", faults);
  std::vector<YamlValue> items;
  for (const YamlNode& row : rows.items) items.emplace_back(file, &row, rows, "");
  std::vector<ForecastPoint> forecast = read_points(items, start);
  return faults.count() == faults_before ? forecast : std::vector<ForecastPoint>{};
}

}  // namespace leewheel
