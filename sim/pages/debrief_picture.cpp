/// Pictures of the debrief.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "leewheel/units.hpp"
#include "pages/debrief_page.hpp"
#include "pages/svg.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

struct Sheet {
  double width, left, right, parts;  ///< parts: about so many ticks along the road
  bool narrow;                       ///< for a phone: keys stand below, not beside
};
constexpr Sheet on_screen{900.0, 62.0, 150.0, 10.0, false}, on_phone{380.0, 58.0, 14.0, 5.0, true};
constexpr double key_row = 17.0, name_width = 92.0;

const Sheet& sheet_of(PictureWidth width) { return width == PictureWidth::phone ? on_phone : on_screen; }
constexpr const char* inks[] = {ink::night, ink::rust, ink::sea, ink::sand, ink::fern, ink::quiet};
constexpr const char* dashes[] = {"", "6 3", "2 2", "9 3 2 3"};

const char* colour(std::size_t k) { return inks[k % std::size(inks)]; }
const char* dash(std::size_t k) { return dashes[(k / std::size(inks)) % std::size(dashes)]; }

double round_step(double span, double parts) {
  const double raw = std::max(1e-9, span / parts), power = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double factor : {1.0, 2.0, 5.0})
    if (raw <= factor * power) return factor * power;
  return 10.0 * power;
}

std::vector<double> ticks(double low, double high, double parts) {
  std::vector<double> out;
  const double step = round_step(high - low, parts);
  for (double v = std::ceil(low / step - 1e-9) * step; v <= high + 1e-9; v += step) out.push_back(v + 0.0);  // no "-0"
  return out;
}

/// @param keys  that stand below on a phone
Svg paper(const Sheet& sheet, double height, std::size_t keys, const std::string& title) {
  if (sheet.narrow) height += key_row * static_cast<double>(keys);
  Svg svg(fmt::format(R"(viewBox="0 0 {:g} {:g}" role="img" aria-label="{}" font-family="DejaVu Sans, sans-serif")",
                      sheet.width, height, title));
  svg.rectangle(0.0, 0.0, sheet.width, height, ink::paper);
  return svg;
}

struct Frame {
  double top, height, low, high;
};

Chart chart_in(Svg& svg, const Sheet& sheet, const Debriefed& d, const Frame& f, const std::string& y_title) {
  const double length = d.units.way(d.input.scenario.road.length_m());
  Chart chart(svg, sheet.left, f.top, sheet.width - sheet.left - sheet.right, f.height, 0.0, length, f.low, f.high);
  chart.axes(ticks(0.0, length, sheet.parts), d.units.way_name(), ticks(f.low, f.high, 4.0), y_title);
  return chart;
}

/// Names beside the ends of lines, moved apart where they would lie on one another.
struct Key {
  std::string text;
  const char* ink;
  double y;
  const char* dashes = "";
};
void write_keys(Svg& svg, const Sheet& sheet, const Chart& chart, std::vector<Key> keys) {
  if (sheet.narrow) {
    double y = chart.bottom() + 42.0;
    for (const Key& key : keys) {
      y += key_row;
      svg.line(sheet.left, y, sheet.left + 22.0, y, key.ink, 2.5, key.dashes);
      svg.text(sheet.left + 28.0, y + 4.0, key.text, 13, ink::text);
    }
    return;
  }
  std::stable_sort(keys.begin(), keys.end(), [](const Key& a, const Key& b) { return a.y < b.y; });
  double last = -100.0;
  for (const Key& key : keys) {
    last = std::max(last + 13.0, key.y);
    svg.text(sheet.width - sheet.right + 6.0, last + 4.0, key.text, 12, key.ink);
  }
}

void draw_road(Svg& svg, const Sheet& sheet, const Debriefed& d, double top, double height) {
  const Road& road = d.input.scenario.road;
  const auto& z = road.profile().elevation_m;
  const auto [low, high] = std::minmax_element(z.begin(), z.end());
  const double from = d.units.height(*low), to = std::max(from + 20.0, d.units.height(*high));
  Chart chart = chart_in(svg, sheet, d, {top, height, from, to}, d.units.height_name());
  Points points{{0.0, from}};
  for (int k = 0; k <= 300; ++k) {
    const double at_m = road.length_m() * k / 300.0;
    points.emplace_back(d.units.way(at_m), d.units.height(road.elevation_m(at_m)));
  }
  points.emplace_back(d.units.way(road.length_m()), from);
  chart.area(points, ink::grid);
  double free_from = -name_width;
  for (const Landmark& mark : road.landmarks()) {
    const double x = chart.x(d.units.way(mark.distance_m));
    if (x < free_from || x > sheet.width - 0.5 * name_width) continue;  // no room for its name
    svg.text(x, top - 4.0, shortened(mark.name, 14), 11, ink::quiet, "middle");
    free_from = x + name_width;
  }
}

/// Ridden time of a rider at a place; NaN outside the part compared.
double ridden_at_s(const AlongRoad& along, double at_m) {
  const auto found = std::lower_bound(along.distance_m.begin(), along.distance_m.end(), at_m - 1e-6);
  if (found == along.distance_m.end() || at_m < along.distance_m.front() - 20.0) return not_recorded;
  return along.ridden_s[static_cast<std::size_t>(found - along.distance_m.begin())];
}

/// Mean over about 200 m, so that turns of the cranks do not fill the picture.
std::vector<double> smooth(const std::vector<double>& values) {
  std::vector<double> out;
  for (std::size_t k = 0; k < values.size(); ++k) {
    double sum = 0.0, count = 0.0;
    for (std::size_t j = k - std::min<std::size_t>(k, 5); j <= std::min(k + 5, values.size() - 1); ++j)
      if (!std::isnan(values[j])) sum += values[j], ++count;
    out.push_back(count > 0.0 && !std::isnan(values[k]) ? sum / count : not_recorded);
  }
  return out;
}

Points line_of(const Debriefed& d, const AlongRoad& along, const std::vector<double>& values) {
  Points points;
  for (std::size_t k = 0; k < values.size(); ++k) points.emplace_back(d.units.way(along.distance_m[k]), values[k]);
  return points;
}

/// The pieces of the road on which a value is known.
std::vector<Points> pieces_of(const Debriefed& d, const AlongRoad& along, const std::vector<double>& values) {
  std::vector<Points> pieces(1);
  for (const auto& point : line_of(d, along, values))
    if (!std::isnan(point.second))
      pieces.back().push_back(point);
    else if (!pieces.back().empty())
      pieces.emplace_back();
  if (pieces.back().empty()) pieces.pop_back();
  return pieces;
}

}  // namespace

std::string gap_picture(const Debriefed& d, PictureWidth width) {
  const Sheet& sheet = sheet_of(width);
  Svg svg = paper(sheet, 430.0, d.told.riders.size(), "Elevation, and gaps to the first rider");
  draw_road(svg, sheet, d, 18.0, 110.0);
  std::vector<Points> lines(d.told.riders.size());
  double most_s = 10.0;
  for (int k = 0; k <= 300; ++k) {
    const double at_m = d.input.scenario.road.length_m() * k / 300.0;
    double first_s = INFINITY;
    for (const RiderDebrief& rider : d.told.riders)
      if (!rider.along.distance_m.empty())
        if (const double t = ridden_at_s(rider.along, at_m); t < first_s) first_s = t;
    for (std::size_t r = 0; r < lines.size(); ++r) {
      if (d.told.riders[r].along.distance_m.empty()) continue;
      const double behind_s = ridden_at_s(d.told.riders[r].along, at_m) - first_s;
      if (!std::isfinite(behind_s)) continue;
      most_s = std::max(most_s, behind_s);
      lines[r].emplace_back(d.units.way(at_m), -behind_s);
    }
  }
  Chart chart = chart_in(svg, sheet, d, {190.0, 190.0, -1.05 * most_s, 0.02 * most_s}, "s behind the first");
  std::vector<Key> keys;
  for (std::size_t r = 0; r < lines.size(); ++r) {
    if (lines[r].empty()) continue;
    chart.curve(lines[r], colour(r), 1.8, dash(r));
    keys.push_back({shortened(d.name(d.told.riders[r].rider), 18), colour(r), chart.y(lines[r].back().second), dash(r)});
  }
  write_keys(svg, sheet, chart, keys);
  return svg.finished();
}

std::string power_picture(const Debriefed& d, const RiderDebrief& rider, PictureWidth width) {
  const Sheet& sheet = sheet_of(width);
  Svg svg = paper(sheet, 230.0, 2, "Power planned and ridden");
  const std::vector<double> planned = smooth(rider.along.planned_power_W), ridden = smooth(rider.along.power_W);
  double most = 100.0;
  for (const std::vector<double>* line : {&planned, &ridden})
    for (const double w : *line) most = std::isnan(w) ? most : std::max(most, w);
  Chart chart = chart_in(svg, sheet, d, {16.0, 160.0, 0.0, 1.05 * most}, "W");
  chart.curve(line_of(d, rider.along, planned), ink::quiet, 1.6, "6 3");
  std::vector<Key> keys{{"planned (dashes)", ink::quiet, chart.y(planned.back()), "6 3"}};
  const std::vector<Points> pieces = pieces_of(d, rider.along, ridden);
  for (const Points& piece : pieces) chart.curve(piece, ink::night, 1.8);
  keys.push_back({pieces.empty() ? "no power recorded" : "ridden", ink::night,
                  chart.y(pieces.empty() ? 0.0 : pieces.back().back().second)});
  write_keys(svg, sheet, chart, keys);
  return svg.finished();
}

std::string time_picture(const Debriefed& d, const RiderDebrief& rider, PictureWidth width) {
  const Sheet& sheet = sheet_of(width);
  Svg svg = paper(sheet, 250.0, factors, "Time against the plan by factor");
  double low = -5.0, high = 5.0;
  for (const TimeParts& parts : rider.along.part_s)
    for (const double s : parts) low = std::min(low, s), high = std::max(high, s);
  Chart chart = chart_in(svg, sheet, d, {16.0, 180.0, 1.05 * low, 1.05 * high}, "s later than planned");
  std::vector<Key> keys;
  for (std::size_t f = 0; f < factors; ++f) {
    if (!rider.has_part(static_cast<Factor>(f))) continue;
    std::vector<double> values;
    for (const TimeParts& parts : rider.along.part_s) values.push_back(parts[f]);
    const bool rest = f + 1 == factors;
    chart.curve(line_of(d, rider.along, values), colour(f), 1.8, rest ? "2 2" : "");
    keys.push_back({fmt::format("{} {:+.0f} s", factor_text(static_cast<Factor>(f)), rounded(values.back(), 0)), colour(f),
                    chart.y(values.back()), rest ? "2 2" : ""});
  }
  write_keys(svg, sheet, chart, keys);
  return svg.finished();
}

std::string company_picture(const Debriefed& d, PictureWidth width) {
  const Sheet& sheet = sheet_of(width);
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  double end_s = 60.0;
  for (const CompanySpan& span : d.told.company) {
    if (std::find(pairs.begin(), pairs.end(), std::pair(span.a, span.b)) == pairs.end()) pairs.emplace_back(span.a, span.b);
    end_s = std::max(end_s, span.to_s);
  }
  const double row = 18.0, bars_left = sheet.narrow ? 130.0 : 200.0;
  const double height = 40.0 + row * static_cast<double>(pairs.size()), wide = sheet.width - bars_left - 28.0;
  Svg svg = paper(sheet, height, 0, "Who rode together with whom");
  const auto x = [&](double s) { return bars_left + wide * s / end_s; };
  for (const double minute : ticks(0.0, end_s / 60.0, sheet.narrow ? 3.0 : 10.0)) {
    svg.line(x(60.0 * minute), 4.0, x(60.0 * minute), height - 26.0, ink::grid, 1.0);
    svg.text(x(60.0 * minute), height - 10.0, fmt::format("{:g} min", minute), 12, ink::quiet, "middle");
  }
  for (std::size_t k = 0; k < pairs.size(); ++k) {
    const double y = 6.0 + row * static_cast<double>(k);
    const std::size_t letters = sheet.narrow ? 7 : 12;
    svg.text(bars_left - 6.0, y + 11.0,
             shortened(d.name(pairs[k].first), letters) + " with " + shortened(d.name(pairs[k].second), letters), 12,
             ink::text, "end");
    for (const CompanySpan& span : d.told.company)
      if (pairs[k] == std::pair(span.a, span.b))
        svg.rectangle(x(span.from_s), y, std::max(1.0, x(span.to_s) - x(span.from_s)), row - 4.0, ink::sea);
  }
  return svg.finished();
}

}  // namespace leewheel
