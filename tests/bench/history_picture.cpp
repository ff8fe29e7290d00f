/// The picture of results.csv: rates over the yardstick's and instructions a rider-step, measurement by measurement.
///   leewheel_bench_picture RESULTS.CSV PICTURE.SVG

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include "pages/svg.hpp"

using namespace leewheel;

namespace {

struct Case {
  const char *name, *words, *colour;
  Svg::Mark mark;
};
constexpr Case cases[] = {{"steady/12", "12 riders", ink::night, Svg::Mark::disc},
                          {"steady/200", "200 riders", ink::sea, Svg::Mark::square},
                          {"steady/5000", "5,000 riders", ink::rust, Svg::Mark::diamond},
                          {"days/12", "days of 12 riders", ink::sand, Svg::Mark::up}};
enum Column : std::size_t { commit, date, machine, name, rate, ratio, instructions, state, columns };
using Row = std::array<std::string, columns>;

/// A measurement is the rows of one commit on one machine that stand together.
struct Measurement {
  std::string commit, machine;
  std::vector<Row> rows;
};

std::vector<Measurement> read_history(const char* path) {
  std::vector<Measurement> all;
  std::ifstream file(path);
  std::string line;
  std::getline(file, line);  // names of the columns
  while (std::getline(file, line)) {
    Row row;
    std::istringstream cells(line);
    for (std::string& cell : row) std::getline(cells, cell, ',');
    const bool begins = all.empty() || all.back().commit != row[commit] || all.back().machine != row[machine] ||
                        std::any_of(all.back().rows.begin(), all.back().rows.end(),
                                    [&](const Row& other) { return other[name] == row[name]; });
    if (begins) all.push_back({row[commit], row[machine], {}});
    all.back().rows.push_back(row);
  }
  return all;
}

/// Measured values of a case by the number of the measurement; those that were not measured are left out.
Points values_of(const std::vector<Measurement>& history, const Case& one, Column column, double factor) {
  Points found;
  for (std::size_t k = 0; k < history.size(); ++k)
    for (const Row& row : history[k].rows)
      if (row[name] == one.name && !row[column].empty())
        found.emplace_back(static_cast<double>(k + 1), factor * std::stod(row[column]));
  return found;
}

/// Rising ticks from 0 beyond the greatest value.
std::vector<double> ticks_to(double greatest) {
  const double power = std::pow(10.0, std::floor(std::log10(greatest)));
  const double step = greatest / power < 2.0 ? 0.25 * power : greatest / power < 5.0 ? 0.5 * power : power;
  std::vector<double> ticks{0.0};
  while (ticks.back() < greatest) ticks.push_back(static_cast<double>(ticks.size()) * step);
  return ticks;
}

void draw(Svg& svg, double left, const std::vector<Measurement>& history, Column column, double factor,
          const std::string& words) {
  double greatest = 1e-9;
  for (const Case& one : cases)
    for (const auto& [at, value] : values_of(history, one, column, factor)) greatest = std::max(greatest, value);
  const std::vector<double> ticks = ticks_to(greatest);
  std::vector<double> numbers;
  for (std::size_t k = 1; k <= history.size(); ++k) numbers.push_back(static_cast<double>(k));
  Chart chart(svg, left, 76, 400, 304, 0.5, static_cast<double>(history.size()) + 0.5, 0.0, ticks.back());
  chart.axes(numbers, "measurement", ticks, words);
  double x = left;
  for (const Case& one : cases) {
    const Points points = values_of(history, one, column, factor);
    if (points.empty()) continue;
    chart.curve(points, one.colour, 2);
    for (const auto& [at, value] : points) chart.mark(one.mark, at, value, 4, one.colour);
    svg.mark(one.mark, x, 57, 4, one.colour);
    svg.text(x + 10.0, 62, one.words, 13, ink::text);
    x += 98.0;
  }
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 3) {
    fmt::print(stderr, "leewheel_bench_picture RESULTS.CSV PICTURE.SVG\n");
    return 2;
  }
  const std::vector<Measurement> history = read_history(arguments[1]);
  if (history.empty()) {
    fmt::print(stderr, "{}: no measurement\n", arguments[1]);
    return 2;
  }
  Svg svg = chart_paper(1000, 460 + 20.0 * static_cast<double>(history.size()));
  svg.text(40, 34, "Speed of the ride, measurement by measurement", 18, ink::text, "start", true);
  draw(svg, 80, history, ratio, 100.0, "rate, % of the yardstick's");
  draw(svg, 580, history, instructions, 0.001, "thousand instructions a rider-step");
  for (std::size_t k = 0; k < history.size(); ++k)
    svg.text(
        40, 455.0 + 20.0 * static_cast<double>(k),
        fmt::format("{}: commit {}, {}; {}", k + 1, history[k].commit, history[k].rows.front()[date], history[k].machine),
        12, ink::quiet);
  std::ofstream(arguments[2]) << svg.finished();
}
