#include "evidence/pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "evidence/wake_setup.hpp"
#include "io/atomic_file.hpp"
#include "leewheel/motion.hpp"
#include "pages/svg.hpp"

namespace leewheel::evidence {
namespace {

const JudgedGroup& wake_group(const std::vector<JudgedGroup>& book) {
  return *std::find_if(book.begin(), book.end(), [](const JudgedGroup& g) { return g.group->name == "drafting"; });
}

double answer(const Row& row, const std::string& quantity, std::size_t place) {
  for (const Quantity& q : row.work({}))
    if (q.name == quantity && place <= q.values.size()) return q.values[place - 1];
  return std::nan("");
}

std::size_t riders_of(const Row& row) {
  for (const Quantity& q : row.work({}))
    if (q.name == "drag_percent") return q.values.size();
  return 0;
}

// --- drag behind one wheel by the gap

struct Air {
  double turbulence;
  const char* colour;
  const char* words;
};
constexpr Air airs[] = {{0.0, ink::night, "smooth: computed flow"},
                        {0.05, ink::sea, "5 %: hall, track, tunnel"},
                        {0.12, ink::fern, "12 %: open road, middle"},
                        {0.25, ink::rust, "25 %: very restless air"}};

const Air& air_of(double turbulence_percent) {
  return *std::min_element(std::begin(airs), std::end(airs), [&](const Air& a, const Air& b) {
    return std::abs(100.0 * a.turbulence - turbulence_percent) < std::abs(100.0 * b.turbulence - turbulence_percent);
  });
}

Svg::Mark mark_of(const std::string& series) {
  static const std::map<std::string, Svg::Mark> marks{{"line", Svg::Mark::disc},
                                                      {"size", Svg::Mark::square},
                                                      {"gaps", Svg::Mark::diamond},
                                                      {"track", Svg::Mark::up},
                                                      {"ahead", Svg::Mark::down}};
  return marks.at(series);
}

/// The published number of a row about the rider behind one wheel, or about the second place of a longer line where no
/// pair is published.
bool behind_one_wheel(const Line& line) {
  const Row& row = *line.row;
  if (!line.published || !row.set_aside.empty() || line.published->quantity != "drag_percent" || line.published->place != 2)
    return false;
  if (row.series == "line") return riders_of(row) == 2 || row.name == "line of three, gap 5 m";
  if (row.series == "track") return !row.source.authors.starts_with("Broker");
  return row.series == "size" || row.series == "gaps" || row.series == "ahead";
}

std::string gap_picture(const std::vector<JudgedGroup>& book) {
  Svg svg = chart_paper(1000, 600);
  constexpr double longest_m = 10.5, area_m2 = 0.27;
  svg.text(70, 34, "Drag behind one wheel, by the gap", 20, ink::text, "start", true);
  svg.text(70, 56,
           "Curves: the model for two riders of 0.27 m² by the restlessness of the air. Marks: published; a thin stick "
           "leads to the model's",
           12.5, ink::quiet);
  svg.text(70, 73, "own answer for that row (ring), whose size of rider and air differ from the curve's.", 12.5, ink::quiet);
  Chart chart(svg, 70, 95, 640, 440, 0, longest_m, 45, 105, true);
  chart.axes({0, 0.2, 0.5, 1, 2, 3, 4, 5, 6, 8, 10}, "wheel gap (m), spread out at its beginning", {50, 60, 70, 80, 90, 100},
             "drag, % of riding alone");
  for (const Air& air : airs) {
    Points curve;
    for (int k = 0; k <= 150; ++k) {
      const double gap_m = longest_m * (k / 150.0) * (k / 150.0);
      curve.emplace_back(gap_m, 100.0 * factors_of(line_of(2, gap_m, area_m2, 12.0, air.turbulence), {}).drag[1]);
    }
    chart.curve(curve, air.colour, 2.5);
  }
  for (const Line& line : wake_group(book).lines) {
    if (!behind_one_wheel(line)) continue;
    const Row& row = *line.row;
    const double gap_m = answer(row, "gap_m", 2);
    if (gap_m > longest_m) continue;
    const Air& air = air_of(answer(row, "turbulence_percent", 1));
    const double published = line.published->is_bound() ? *line.published->lowest : line.published->value;
    const char* colour = line.published->is_bound() ? ink::quiet : air.colour;
    if (!line.published->is_bound()) {
      svg.line(chart.x(gap_m), chart.y(published), chart.x(gap_m), chart.y(line.ours), colour, 1);
      chart.mark(Svg::Mark::ring, gap_m, line.ours, 6, colour);
    }
    chart.mark(mark_of(row.series), gap_m, published, 11, colour);
  }
  double y = 118;
  const double x = 732;
  svg.text(x, y, "air", 13, ink::text, "start", true);
  for (const Air& air : airs) {
    y += 22;
    svg.line(x, y, x + 26, y, air.colour, 3);
    svg.text(x + 34, y + 4, air.words, 12.5, ink::text);
  }
  svg.text(x, y += 38, "published", 13, ink::text, "start", true);
  const auto entry = [&](Svg::Mark shape, const char* words, const char* colour = ink::text) {
    svg.mark(shape, x + 13, y += 22, 11, colour);
    svg.text(x + 34, y + 4, words, 12.5, ink::text);
  };
  entry(Svg::Mark::disc, "line table 2018 (5 m: of three)");
  entry(Svg::Mark::square, "behind small, middle, large 2007");
  entry(Svg::Mark::diamond, "coasting 1979, 1998; pacer 2018;");
  svg.text(x + 34, (y += 16) + 4, "stated middle at 5 m", 12.5, ink::text);
  entry(Svg::Mark::up, "velodrome 2018");
  entry(Svg::Mark::down, "motorcycle ahead 2020: a bound,", ink::quiet);
  svg.text(x + 34, (y += 16) + 4, "a bicycle gives no more draft", 12.5, ink::text);
  entry(Svg::Mark::ring, "the model's answer for the row");
  svg.text(x, y += 46, "The sources disagree beyond 2 m;", 12.5, ink::quiet);
  svg.text(x, y += 17, "the spread is carried as wake_scale", 12.5, ink::quiet);
  svg.text(x, y += 17, "and as turbulence times or over 1.5.", 12.5, ink::quiet);
  return svg.finished();
}

// --- drag by place in a line

void line_panel(Svg& svg, const std::vector<JudgedGroup>& book, double left, double gap_m, bool first) {
  Chart chart(svg, left, 110, 265, 330, 0.7, 9.3, 35, 103);
  chart.axes({1, 2, 3, 4, 5, 6, 7, 8, 9}, "place in the line", {40, 50, 60, 70, 80, 90, 100},
             first ? "drag, % of riding alone" : "");
  svg.text(left + 132, 102, fmt::format("gap {:g} m", gap_m), 14, ink::text, "middle", true);
  const std::vector<double> nine = factors_of(line_of(9, gap_m, 0.23, 15.0, 0.0), {}).drag;
  Points by_place, last;
  for (std::size_t i = 0; i < nine.size(); ++i) by_place.emplace_back(static_cast<double>(i + 1), 100.0 * nine[i]);
  for (std::size_t n = 2; n <= 9; ++n)
    last.emplace_back(static_cast<double>(n), 100.0 * factors_of(line_of(n, gap_m, 0.23, 15.0, 0.0), {}).drag.back());
  chart.curve(by_place, ink::night, 2.5);
  chart.curve(last, ink::rust, 2.5, "6 4");
  for (const Line& line : wake_group(book).lines) {
    const Row& row = *line.row;
    if (row.series != "line" || !line.published || !row.set_aside.empty() ||
        std::abs(answer(row, "gap_m", 2) - gap_m) > 1e-6)
      continue;
    const std::size_t n = riders_of(row), place = line.published->place;
    if (n == 9 && place < 9) chart.mark(Svg::Mark::disc, static_cast<double>(place), line.published->value, 9, ink::night);
    if (place == n) chart.mark(Svg::Mark::diamond, static_cast<double>(place), line.published->value, 9, ink::rust);
  }
}

std::string line_picture(const std::vector<JudgedGroup>& book) {
  Svg svg = chart_paper(960, 560);
  svg.text(70, 34, "A line of riders: drag by place", 20, ink::text, "start", true);
  svg.text(70, 56,
           "Level, no wind, smooth air, time-trial posture. Curves: the model. Marks: Blocken et al. 2018, J Wind Eng Ind "
           "Aerodyn 182:128",
           12.5, ink::quiet);
  svg.text(70, 73,
           "(from a second-hand copy). Nobody behind the last rider: from six riders on at small gaps the last has more "
           "drag than the one before.",
           12.5, ink::quiet);
  line_panel(svg, book, 70, 0.15, true);
  line_panel(svg, book, 375, 1.0, false);
  line_panel(svg, book, 680, 5.0, false);
  svg.line(70, 520, 100, 520, ink::night, 2.5);
  svg.mark(Svg::Mark::disc, 112, 520, 9, ink::night);
  svg.text(126, 524.5, "every place in a line of nine", 13, ink::text);
  svg.line(390, 520, 420, 520, ink::rust, 2.5, "6 4");
  svg.mark(Svg::Mark::diamond, 432, 520, 9, ink::rust);
  svg.text(446, 524.5, "the last of a line of two, three, ... nine", 13, ink::text);
  return svg.finished();
}

// --- what a wheel is worth over grade and speed

/// The rider of the uphill study in second place of eight.
struct WorthCase {
  RoadLoad load;
  double drag;

  WorthCase() {
    load.mass_kg = 72.0;
    load.drag_area_m2 = 0.473;
    load.wheel_drag_area_m2 = 0.0044;
    load.rolling = 0.0032;
    load.efficiency = 0.98;
    load.gravity_mps2 = 9.81;
    drag = factors_of(line_of(8, 0.15, load.drag_area_m2, 6.0, 0.0), {}).drag[1];
  }
  double power_W(double grade, double speed_mps, bool sheltered) const {
    RoadLoad here = load;
    here.grade = grade;
    if (sheltered) here.drag_factor = drag;
    return road_power(here, speed_mps).crank_W;
  }
  double worth_percent(double grade, double speed_mps) const {
    return 100.0 * (1.0 - power_W(grade, speed_mps, true) / power_W(grade, speed_mps, false));
  }
  /// Speed at which something that grows with speed reaches a level, within the picture.
  template <class Growing>
  static double speed_where(const Growing& growing, double level, double lowest_mps, double highest_mps) {
    double low = lowest_mps, high = highest_mps;
    for (int i = 0; i < 60; ++i) (growing(0.5 * (low + high)) < level ? low : high) = 0.5 * (low + high);
    return 0.5 * (low + high);
  }
};

std::string worth_picture(const std::vector<JudgedGroup>& book) {
  Svg svg = chart_paper(960, 620);
  const WorthCase rider;
  constexpr double slow = 2.0, fast = 14.0, steep = 10.0;
  svg.text(70, 34, "What a wheel is worth, by grade and speed", 20, ink::text, "start", true);
  svg.text(70, 56,
           "Power saved in second place of eight, % of riding alone at the same speed. Rider and diamonds: van Druenen & "
           "Blocken 2021",
           12.5, ink::quiet);
  svg.text(70, 73,
           "(72 kg, 0.473 m², gap 0.15 m, no wind); published in bold, the model's beneath. What fades is the air's share "
           "of the work, not of drafting.",
           12.5, ink::quiet);
  Chart chart(svg, 70, 95, 640, 450, 0, steep, slow, fast);
  // Light to dark; each band lies above its level.
  constexpr std::pair<double, const char*> bands[] = {{0, "#f4f1ea"},  {2, "#e3e6dc"},  {5, "#c7d8d0"},
                                                      {10, "#a3c4c6"}, {15, "#7cabb9"}, {20, "#5a90a9"},
                                                      {25, "#3f7596"}, {30, "#2b5b80"}, {40, "#1b4268"}};
  for (const auto& [level, fill] : bands) {
    Points edge;
    for (int k = 0; k <= 100; ++k) {
      const double percent = steep * k / 100.0;
      edge.emplace_back(
          percent, level == 0 ? slow
                              : WorthCase::speed_where([&](double v) { return rider.worth_percent(percent / 100.0, v); },
                                                       level, slow, fast));
    }
    edge.emplace_back(steep, fast);
    edge.emplace_back(0.0, fast);
    chart.area(edge, fill);
  }
  for (const double watts : {150.0, 250.0, 400.0, 600.0}) {
    Points curve;
    for (int k = 0; k <= 100; ++k) {
      const double percent = steep * k / 100.0;
      const double v = WorthCase::speed_where([&](double speed) { return rider.power_W(percent / 100.0, speed, false); },
                                              watts, 0.1, 30.0);
      if (v >= slow && v <= fast) curve.emplace_back(percent, v);
    }
    chart.curve(curve, ink::sand, 2, "7 4");
    const auto& at = curve[curve.size() * 11 / 20];
    svg.text(chart.x(at.first) + 6, chart.y(at.second) - 6, fmt::format("{:g} W", watts), 12.5, "#7a5200", "start", true);
  }
  chart.axes({0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, "grade (%)", {2, 4, 6, 8, 10, 12, 14}, "speed (m/s)", false);
  const auto point = [&](double grade_percent, double speed_mps, double published) {
    const double x = chart.x(grade_percent), y = chart.y(speed_mps), shift = grade_percent < 0.5 ? 12 : -12;
    const bool dark = rider.worth_percent(grade_percent / 100.0, speed_mps) > 22.0;
    const char* anchor = grade_percent < 0.5 ? "start" : "end";
    svg.mark(Svg::Mark::diamond, x, y, 13, ink::rust);
    svg.text(x + shift, y - 2, fmt::format("{:.1f} %", published), 13, dark ? ink::paper : ink::text, anchor, true);
    svg.text(x + shift, y + 13, fmt::format("{:.1f} %", rider.worth_percent(grade_percent / 100.0, speed_mps)), 12.5,
             dark ? ink::paper : ink::text, anchor);
  };
  for (const Line& line : wake_group(book).lines) {
    const Row& row = *line.row;
    if (!line.published) continue;
    if (row.name == "eight uphill, our wakes" && line.published->place == 2) point(7.5, 6.0, line.published->value);
    if (row.series == "fading" && row.name.starts_with("300 W") && line.published->quantity == "saved_percent" &&
        line.published->place == 1) {
      const double v = answer(row, "speed_mps", 1);
      const double percent = row.name.ends_with("level") ? 0.0 : row.name.ends_with("4 %") ? 4.0 : 8.0;
      point(percent, v, line.published->value);
    }
  }
  double y = 120;
  svg.text(738, y, "saved, % of the power alone", 13, ink::text, "start", true);
  for (auto band = std::rbegin(bands); band != std::rend(bands); ++band) {
    svg.rectangle(738, y += 24, 34, 24, band->second);
    const std::string words = band == std::rbegin(bands) ? fmt::format("over {:g}", band->first)
                                                         : fmt::format("{:g} to {:g}", band->first, std::prev(band)->first);
    svg.text(782, y + 17, words, 13, ink::text);
  }
  y += 56;
  svg.line(738, y, 772, y, ink::sand, 2, "7 4");
  svg.text(782, y + 4, "power needed alone", 13, ink::text);
  svg.mark(Svg::Mark::diamond, 755, y += 28, 13, ink::rust);
  svg.text(782, y + 4, "published beside ours", 13, ink::text);
  svg.text(738, y += 34, "Published with F 52 % in second", 12.5, ink::quiet);
  svg.text(738, y += 17, fmt::format("place; our wake model has {:.1f} %.", 100.0 * rider.drag), 12.5, ink::quiet);
  return svg.finished();
}

}  // namespace

void write_pictures(const std::string& folder, const std::vector<JudgedGroup>& book) {
  make_output_folder(folder);
  write_whole_files({{folder + "/drafting_gap.svg", gap_picture(book)},
                     {folder + "/drafting_line.svg", line_picture(book)},
                     {folder + "/drafting_worth.svg", worth_picture(book)}});
}

}  // namespace leewheel::evidence
