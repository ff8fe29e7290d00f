/// A recording as CSV.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "io/clock_time.hpp"
#include "io/fault_words.hpp"
#include "io/plain_number.hpp"
#include "io/recording_reader.hpp"
#include "io/text_file.hpp"

namespace leewheel {

namespace {

constexpr std::size_t most_csv_bytes = 256u << 20;

struct Column {
  std::string_view name;
  double RecordedPoint::*value;
  double lowest, highest;
};
constexpr Column columns[] = {{"time", nullptr, 0, 0},
                              {"time_s", &RecordedPoint::time_s, -1e7, 1e10},
                              {"latitude_deg", &RecordedPoint::latitude_deg, -90, 90},
                              {"longitude_deg", &RecordedPoint::longitude_deg, -180, 180},
                              {"distance_m", &RecordedPoint::distance_m, -1e6, 1e7},
                              {"elevation_m", &RecordedPoint::elevation_m, -500, 9000},
                              {"speed_mps", &RecordedPoint::speed_mps, 0, 60},
                              {"power_W", &RecordedPoint::power_W, 0, 4000},
                              {"heart_rate_bpm", &RecordedPoint::heart_rate_bpm, 0, 300},
                              {"cadence_rpm", &RecordedPoint::cadence_rpm, 0, 300},
                              {"temperature_C", &RecordedPoint::temperature_C, -60, 70}};

/// Headers of other tables whose unit leaves no doubt.
constexpr std::pair<std::string_view, std::string_view> also_called[] = {{"watts", "power_W"}, {"Watts", "power_W"}};

std::vector<std::string> column_names() {
  std::vector<std::string> names;
  for (const Column& column : columns) names.emplace_back(column.name);
  return names;
}

/// Cells of one line; a quoted cell may hold commas, and doubled quotes for one (RFC 4180).
std::vector<std::string> cells_of(std::string_view line, char between) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"')
      cells.back() += line[i++];
    else if (c == '"')
      quoted = !quoted;
    else if (c == between && !quoted)
      cells.emplace_back();
    else
      cells.back() += c;
  }
  for (std::string& cell : cells) cell = std::string(trimmed(cell));
  return cells;
}

class CsvReader {
 public:
  CsvReader(const std::string& path, std::vector<std::string>& remarks)
      : path_(path), text_(read_whole_file(path, most_csv_bytes)), remarks_(remarks) {}

  Recording read() {
    std::string_view left = text_;
    int line = 0;
    while (!left.empty()) {
      const std::size_t end = std::min(left.find('\n'), left.size());
      const std::string_view row = left.substr(0, end);
      left.remove_prefix(std::min(end + 1, left.size()));
      ++line;
      if (trimmed(row).empty()) continue;
      header_.empty() ? read_header(row, line) : read_row(row, line);
    }
    if (header_.empty()) throw InputFault({path_, 1, 0, "", "found an empty file, expected a recording (GPX or CSV)"});
    faults_.throw_if_any();
    if (recording_.points.size() < 2)
      throw InputFault({path_, line, 0, "", "found fewer than two rows, expected a recorded ride"});
    return std::move(recording_);
  }

 private:
  bool has(std::string_view name) const {
    return std::any_of(header_.begin(), header_.end(), [&](const Column* c) { return c && c->name == name; });
  }

  void read_header(std::string_view row, int line) {
    static const std::vector<std::string> names = column_names();
    std::vector<std::string> unknown;
    if (row.find(',') == std::string_view::npos && row.find(';') != std::string_view::npos) between_ = ';';
    for (std::string cell : cells_of(row, between_)) {
      for (const auto& [other, name] : also_called)
        if (cell == other) cell = name;
      const auto found = std::find(names.begin(), names.end(), cell);
      const std::string nearest = found == names.end() ? nearest_name(cell, names) : "";
      if (!nearest.empty() && cell.size() > 3)
        faults_.add({path_, line, 0, shown(cell), "unknown column, expected '" + nearest + "'"});
      if (found != names.end() && has(cell))
        faults_.add({path_, line, 0, shown(cell), "found a second time, expected each column once"});
      if (found == names.end() && nearest.empty()) unknown.push_back(shown(cell));
      header_.push_back(found == names.end() ? nullptr : &columns[found - names.begin()]);
    }
    if (has("time") == has("time_s"))
      faults_.add({path_, line, 0, "time",
                   has("time") ? "found beside time_s, expected one of them"
                               : "missing, expected a column time (with its zone) or time_s"});
    const bool placed = has("latitude_deg") && has("longitude_deg");
    if (!placed && !has("distance_m"))
      faults_.add({path_, line, 0, "latitude_deg", "missing, expected latitude_deg and longitude_deg, or distance_m"});
    faults_.throw_if_any();
    recording_.dated = has("time");
    recording_.file = path_;
    if (!unknown.empty()) remarks_.push_back(fmt::format("{}: columns not read: {}", path_, fmt::join(unknown, ", ")));
  }

  void read_row(std::string_view row, int line) {
    std::vector<std::string> cells = cells_of(row, between_);
    if (between_ == ';')  // where commas are decimal
      for (std::string& cell : cells) std::replace(cell.begin(), cell.end(), ',', '.');
    const std::size_t index = recording_.points.size();
    if (cells.size() != header_.size()) {
      faults_.add({path_, line, 0, fmt::format("row[{}]", index),
                   fmt::format("found {} values, expected {} as in the first line", cells.size(), header_.size())});
      return;
    }
    RecordedPoint point{.time_s = not_recorded, .line = line};
    for (std::size_t k = 0; k < cells.size(); ++k)
      if (header_[k] && !cells[k].empty()) read_cell(*header_[k], cells[k], index, point);
    if (std::isnan(point.time_s) && faults_.count() == 0)
      faults_.add({path_, line, 0, fmt::format("row[{}].{}", index, recording_.dated ? "time" : "time_s"),
                   "found no time, expected one in every row"});
    recording_.points.push_back(point);
  }

  void read_cell(const Column& column, const std::string& cell, std::size_t index, RecordedPoint& point) {
    const auto refuse = [&](const std::string& expected) {
      faults_.add({path_, point.line, 0, fmt::format("row[{}].{}", index, column.name),
                   "found '" + shown(cell) + "', expected " + expected});
    };
    if (!column.value) {
      bool zoned = false;
      point.time_s = seconds_since_1970(cell, zoned);
      if (std::isnan(point.time_s) || !zoned)
        refuse("a date and time with its zone, as 2027-05-16T09:00:00Z or ...+02:00; without one use time_s");
      return;
    }
    const std::optional<double> value = number_in(cell);
    if (!value || *value < column.lowest || *value > column.highest)
      refuse(fmt::format("a number from {:g} to {:g}, or nothing", column.lowest, column.highest));
    else
      point.*column.value = *value;
  }

  std::string path_, text_;
  std::vector<std::string>& remarks_;
  std::vector<const Column*> header_;  // null: not read
  char between_ = ',';
  Recording recording_;
  Faults faults_;
};

}  // namespace

Recording read_recording_csv(const std::string& path, std::vector<std::string>& remarks) {
  return CsvReader(path, remarks).read();
}

}  // namespace leewheel
