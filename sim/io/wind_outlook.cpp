#include "io/wind_outlook.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "io/svg.hpp"
#include "io/wind_section.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

std::string clock(double time_s) {
  const long minutes = std::lround(time_s / 60.0);
  return fmt::format("{}:{:02}", minutes / 60, minutes % 60);
}

double between(const std::vector<double>& x, const std::vector<double>& y, double at) {
  const auto next = std::upper_bound(x.begin(), x.end(), at);
  if (next == x.begin()) return y.front();
  if (next == x.end()) return y.back();
  const auto i = static_cast<std::size_t>(next - x.begin());
  return y[i - 1] + (at - x[i - 1]) / (x[i] - x[i - 1]) * (y[i] - y[i - 1]);
}

std::string exposure_words(const OutlookRow& row) {
  const auto name = [](Exposure exposure) {
    std::string words(exposure_names[static_cast<std::size_t>(exposure)]);
    std::replace(words.begin(), words.end(), '_', ' ');
    return words;
  };
  if (row.exposure_left == row.exposure_right) return name(row.exposure_left);
  return fmt::format("{} | {}", name(row.exposure_left), name(row.exposure_right));
}

constexpr double hill_told = 0.02;  // what a hill adds or takes is told from here on

/// "crest +12 %, sheltered to 60 %": what hills add or take, and what belts leave.
std::string land_words(const OutlookRow& row) {
  const double belts = row.land_share / row.hill_share;
  std::string words;
  if (row.hill_share > 1.0 + hill_told) words = fmt::format(", crest +{:.0f} %", 100.0 * (row.hill_share - 1.0));
  if (row.hill_share < 1.0 - hill_told) words = fmt::format(", lull -{:.0f} %", 100.0 * (1.0 - row.hill_share));
  if (belts < 0.995) words += fmt::format(", sheltered to {:.0f} %", 100.0 * belts);
  return words;
}

/// The crests, by their distance, behind which the wind of the time of arrival may turn round.
std::vector<double> steep_lees_m(const Scenario& scenario, const Wind& wind, const Coming& coming, double frozen_s) {
  std::vector<RoadHill> hills = scenario.wind.hills;
  if (scenario.wind.hills_from_road)
    for (const RoadHill& hill : hills_of_road(scenario.road)) hills.push_back(hill);
  std::vector<double> crests_m;
  for (const RoadHill& hill : hills) {
    const double when_s = frozen_s >= 0.0 ? frozen_s : between(coming.distance_m, coming.time_s, hill.crest_m);
    const Eigen::Vector2d open = wind.open_enu_mps(hill.crest_m, when_s);
    if (open.norm() > 0.0 && may_separate(hill, std::atan2(open.x(), open.y()))) crests_m.push_back(hill.crest_m);
  }
  return crests_m;
}

double from_deg(double from_rad) {
  const double deg = std::round(deg_from_rad(from_rad));
  return deg >= 360.0 ? deg - 360.0 : deg;
}

}  // namespace

Coming coming_at_speed(const Scenario& scenario, double speed_mps) {
  const double length_m = scenario.road.length_m();
  return {{0.0, length_m}, {0.0, length_m / speed_mps}};
}

Coming coming_alone(const Scenario& scenario, std::size_t rider) {
  Ride ride(alone(scenario, rider));
  Coming coming{{0.0}, {0.0}};
  while (ride.end() == RideEnd::riding) {
    ride.step();
    const double distance_m = ride.first_distance_m();
    if (ride.time_s() < coming.time_s.back() + 5.0 && ride.end() == RideEnd::riding) continue;
    if (distance_m <= coming.distance_m.back()) continue;
    coming.distance_m.push_back(std::min(distance_m, scenario.road.length_m()));
    coming.time_s.push_back(ride.time_s());
  }
  return coming;
}

Outlook wind_outlook(const Scenario& scenario, const Coming& coming, double spacing_m, double frozen_s) {
  const Road& road = scenario.road;
  const Wind wind(scenario.wind, road);
  WindSettings without_belts = scenario.wind;
  without_belts.shelter.clear();
  const Wind hills(without_belts, road);
  Outlook outlook{"", scenario.wind.gusty(), {}, steep_lees_m(scenario, wind, coming, frozen_s)};
  const auto steps = static_cast<std::size_t>(std::ceil(road.length_m() / spacing_m - 1e-9));
  for (std::size_t k = 0; k <= steps; ++k) {
    OutlookRow row{};
    const double x = row.distance_m = std::min(road.length_m(), static_cast<double>(k) * spacing_m);
    row.time_s = between(coming.distance_m, coming.time_s, x);
    const double before_m = std::max(0.0, x - 50.0), after_m = std::min(road.length_m(), x + 50.0);
    const double took_s =
        between(coming.distance_m, coming.time_s, after_m) - between(coming.distance_m, coming.time_s, before_m);
    row.speed_mps = took_s > 0.0 ? (after_m - before_m) / took_s : 0.0;
    const double when_s = frozen_s >= 0.0 ? frozen_s : row.time_s;
    const Eigen::Vector2d open = wind.open_enu_mps(x, when_s), local = wind.mean_enu_mps(x, when_s);
    row.open_mps = open.norm();
    row.open_from_rad = std::atan2(-open.x(), -open.y());
    if (row.open_from_rad < 0.0) row.open_from_rad += rad_from_deg(360.0);
    row.land_share = row.open_mps > 0.0 ? local.norm() / row.open_mps : 1.0;
    row.hill_share = row.open_mps > 0.0 ? hills.mean_enu_mps(x, when_s).norm() / row.open_mps : 1.0;
    const RoadWind air = wind.at(x, local);
    const ApparentWind met = apparent_wind(row.speed_mps, air);
    row.rider_mps = std::hypot(air.along_mps, air.cross_mps);
    row.head_mps = -air.along_mps;
    row.from_left_mps = -air.cross_mps;
    row.yaw_rad = met.yaw_rad;
    row.air_mps = met.speed_mps;
    row.gust_intensity = wind.gust_intensity(x, when_s);
    const double gust = three_second_gust(row.gust_intensity);
    row.gust_mps = gust * row.rider_mps;
    row.gust_least_mps = std::max(0.0, 2.0 - gust) * row.rider_mps;
    const double side_Npm2ps2 =
        0.5 * scenario.wind.side_area_m2 *
        air_density_kgpm3(air_at_altitude(scenario.air, scenario.air_station_altitude_m, road.elevation_m(x)));
    row.side_force_N = side_Npm2ps2 * std::abs(met.cross_mps) * met.speed_mps;
    const ApparentWind in_gust = apparent_wind(row.speed_mps, {gust * air.along_mps, gust * air.cross_mps});
    row.gust_side_force_N = side_Npm2ps2 * std::abs(in_gust.cross_mps) * in_gust.speed_mps;
    row.exposure_left = road.exposure_left(std::min(x, road.length_m() - 0.5 * road.spacing_m()));
    row.exposure_right = road.exposure_right(std::min(x, road.length_m() - 0.5 * road.spacing_m()));
    outlook.rows.push_back(row);
  }
  return outlook;
}

// --- words ---------------------------------------------------------------------------------------------------------

namespace {

/// The places a captain will ask about: the least head wind, the most, the most across, the hardest push.
std::string worst_text(const Outlook& outlook, const ShownUnits& units) {
  const auto most = [&](auto value) {
    return *std::max_element(outlook.rows.begin(), outlook.rows.end(),
                             [&](const OutlookRow& a, const OutlookRow& b) { return value(a) < value(b); });
  };
  const OutlookRow head = most([](const OutlookRow& r) { return r.head_mps; });
  const OutlookRow tail = most([](const OutlookRow& r) { return -r.head_mps; });
  const OutlookRow across = most([](const OutlookRow& r) { return std::abs(r.from_left_mps); });
  const OutlookRow push = most([](const OutlookRow& r) { return r.gust_side_force_N; });
  std::string text;
  if (head.head_mps > 0.05)
    text += fmt::format("most against   {:5.1f} {} at {:.1f} {}\n", units.wind(head.head_mps), units.wind_name(),
                        units.way(head.distance_m), units.way_name());
  if (tail.head_mps < -0.05)
    text += fmt::format("most behind    {:5.1f} {} at {:.1f} {}\n", units.wind(-tail.head_mps), units.wind_name(),
                        units.way(tail.distance_m), units.way_name());
  if (std::abs(across.from_left_mps) > 0.05)
    text += fmt::format("most across    {:5.1f} {} from the {} at {:.1f} {}\n", units.wind(std::abs(across.from_left_mps)),
                        units.wind_name(), across.from_left_mps > 0.0 ? "left" : "right", units.way(across.distance_m),
                        units.way_name());
  text += fmt::format("hardest push   {:5.0f} N to the side in a gust at {:.1f} {} ({:.0f} N in the mean wind)\n",
                      push.gust_side_force_N, units.way(push.distance_m), units.way_name(), push.side_force_N);
  for (const double crest_m : outlook.steep_lees_m)
    text +=
        fmt::format("steep lee      behind the crest at {:.1f} {} the wind may turn round and come in gusts from anywhere\n",
                    units.way(crest_m), units.way_name());
  return text;
}

std::string row_text(const OutlookRow& r, const ShownUnits& units) {
  const std::string head = std::abs(r.head_mps) < 0.05 ? "  0.0     "
                                                       : fmt::format("{:5.1f} {}", units.wind(std::abs(r.head_mps)),
                                                                     r.head_mps > 0.0 ? "head" : "tail");
  const std::string side =
      std::abs(r.from_left_mps) < 0.05
          ? "  0.0      "
          : fmt::format("{:5.1f} {:<5}", units.wind(std::abs(r.from_left_mps)), r.from_left_mps > 0.0 ? "left" : "right");
  const std::string land = exposure_words(r) + land_words(r);
  return fmt::format("{:6.1f}  {:>5}  {:5.0f}   {:5.1f} {:<4}{:3.0f}°  {:5.1f}  {}  {}  {:4.0f}°  {:>10}   {:4.0f}   {}\n",
                     units.way(r.distance_m), clock(r.time_s), units.speed(r.speed_mps), units.wind(r.open_mps),
                     compass_point(r.open_from_rad), from_deg(r.open_from_rad), units.wind(r.rider_mps), head, side,
                     deg_from_rad(r.yaw_rad),
                     fmt::format("{:.1f} to {:.1f}", units.wind(r.gust_least_mps), units.wind(r.gust_mps)),
                     r.gust_side_force_N, land);
}

}  // namespace

std::string outlook_text(const Scenario& scenario, const Outlook& outlook, double spacing_m, const ShownUnits& units) {
  std::string text =
      fmt::format("{}\n{}; gusts are {} in the ride\n\n", scenario.title, outlook.rider, outlook.gusty ? "on" : "off");
  text += fmt::format(
      "   {}   after   {:>4}   10 m wind     at rider: {} along      across       yaw    gusts {:>3}  side N  land (left | "
      "right)\n",
      units.way_name(), units.speed_name(), units.wind_name(), units.wind_name());
  double next_m = 0.0;
  for (const OutlookRow& row : outlook.rows) {
    if (row.distance_m < next_m - 1e-6 && &row != &outlook.rows.back()) continue;
    text += row_text(row, units);
    next_m = row.distance_m + spacing_m;
  }
  return text + "\n" + worst_text(outlook, units) +
         "Gusts: the weakest and the strongest three seconds to expect in ten minutes; the side force is that of such a "
         "gust. Forecasts\n"
         "are uncertain, above all near the ground and on hills: look at the sky, and ride so that a gust finds room beside "
         "you.\n";
}

std::string outlook_json(const Scenario& scenario, const Outlook& outlook) {
  nlohmann::ordered_json json{{"title", scenario.title}, {"times_of", outlook.rider}, {"gusts_in_ride", outlook.gusty}};
  json["rows"] = nlohmann::ordered_json::array();
  const auto rounded = [](double value) { return std::round(value * 1e3) / 1e3; };
  for (const OutlookRow& r : outlook.rows)
    json["rows"].push_back({{"distance_m", rounded(r.distance_m)},
                            {"time_s", rounded(r.time_s)},
                            {"speed_mps", rounded(r.speed_mps)},
                            {"open_mps", rounded(r.open_mps)},
                            {"open_from_deg", rounded(deg_from_rad(r.open_from_rad))},
                            {"rider_mps", rounded(r.rider_mps)},
                            {"head_mps", rounded(r.head_mps)},
                            {"from_left_mps", rounded(r.from_left_mps)},
                            {"yaw_deg", rounded(deg_from_rad(r.yaw_rad))},
                            {"air_mps", rounded(r.air_mps)},
                            {"gust_intensity", rounded(r.gust_intensity)},
                            {"gust_least_mps", rounded(r.gust_least_mps)},
                            {"gust_mps", rounded(r.gust_mps)},
                            {"side_force_N", rounded(r.side_force_N)},
                            {"gust_side_force_N", rounded(r.gust_side_force_N)},
                            {"land_share", rounded(r.land_share)},
                            {"hill_share", rounded(r.hill_share)},
                            {"exposure_left", exposure_names[static_cast<std::size_t>(r.exposure_left)]},
                            {"exposure_right", exposure_names[static_cast<std::size_t>(r.exposure_right)]}});
  return json.dump(2) + "\n";
}

std::string outlook_csv(const Outlook& outlook) {
  std::string text =
      "distance_m,time_s,speed_mps,open_mps,open_from_deg,rider_mps,head_mps,from_left_mps,yaw_deg,air_mps,gust_intensity,"
      "gust_least_mps,gust_mps,"
      "side_force_N,gust_side_force_N,land_share,hill_share,exposure_left,exposure_right\n";
  for (const OutlookRow& r : outlook.rows)
    text += fmt::format(
        "{:.1f},{:.1f},{:.3f},{:.3f},{:.1f},{:.3f},{:.3f},{:.3f},{:.2f},{:.3f},{:.3f},{:.3f},{:.3f},{:.2f},{:.2f},{:.3f},{:."
        "3f},{},{}\n",
        r.distance_m, r.time_s, r.speed_mps, r.open_mps, deg_from_rad(r.open_from_rad), r.rider_mps, r.head_mps,
        r.from_left_mps, deg_from_rad(r.yaw_rad), r.air_mps, r.gust_intensity, r.gust_least_mps, r.gust_mps, r.side_force_N,
        r.gust_side_force_N, r.land_share, r.hill_share, exposure_names[static_cast<std::size_t>(r.exposure_left)],
        exposure_names[static_cast<std::size_t>(r.exposure_right)]);
  return text;
}

// --- picture -------------------------------------------------------------------------------------------------------

namespace {

constexpr double width = 1200.0, left = 74.0, right = 30.0;
constexpr std::string_view paper = "#fbfaf7", ink = "#23262b", faint = "#d9d6cf", grey = "#6d7178";
constexpr std::string_view against = "#b4502f", behind = "#2f7a6b", across_colour = "#4a5fa5", open_colour = "#8a8f98",
                           rider_colour = "#1f5f8b";
constexpr std::string_view exposure_colours[exposure_names.size()] = {"#e9dfb8", "#cfe0b4", "#a3c78b", "#c9a79c", "#4f8058"};

/// A panel of the picture: values against distance.
struct Panel {
  double top, height, low, high, length_m;
  double x(double distance_m) const { return left + (width - left - right) * distance_m / length_m; }
  double y(double value) const { return top + height * (high - std::clamp(value, low, high)) / (high - low); }
};

double nice_step(double range, int parts) {
  const double raw = range / parts, ten = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double times : {1.0, 2.0, 5.0, 10.0})
    if (raw <= times * ten * 1.0001) return times * ten;
  return 10.0 * ten;
}

void draw_frame(Svg& svg, const Panel& p, std::string_view title, int lines) {
  svg.words(left, p.top - 8.0, title, 13, ink, "start", true);
  const double step = nice_step(p.high - p.low, lines);
  for (double value = std::ceil(p.low / step - 1e-9) * step; value <= p.high + 1e-9; value += step) {
    svg.line(left, p.y(value), width - right, p.y(value), std::abs(value) < 1e-9 ? grey : faint,
             std::abs(value) < 1e-9 ? 1.2 : 1.0);
    svg.words(left - 8.0, p.y(value) + 4.0, fmt::format("{:g}", std::abs(value) < 1e-9 ? 0.0 : value), 12, grey, "end");
  }
}

template <class Value>
Svg::Points curve(const Panel& p, const std::vector<OutlookRow>& rows, Value value) {
  Svg::Points points;
  for (const OutlookRow& row : rows) points.emplace_back(p.x(row.distance_m), p.y(value(row)));
  return points;
}

/// Between two curves.
template <class Upper, class Lower>
void fill_between(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows, Upper upper, Lower lower,
                  std::string_view colour, double opacity) {
  Svg::Points points = curve(p, rows, upper);
  const Svg::Points back = curve(p, rows, lower);
  points.insert(points.end(), back.rbegin(), back.rend());
  svg.area(points, colour, opacity);
}

void draw_road(Svg& svg, Panel p, const Scenario& scenario, const std::vector<OutlookRow>& rows) {
  draw_frame(svg, p, "Road: elevation (m), and how open the land lies left and right of it", 4);
  Svg::Points points{{p.x(0.0), p.top + p.height}};
  for (const OutlookRow& row : rows)
    points.emplace_back(p.x(row.distance_m), p.y(scenario.road.elevation_m(row.distance_m)));
  points.emplace_back(p.x(rows.back().distance_m), p.top + p.height);
  svg.area(points, "#c9c4b8", 0.55);
  points.erase(points.begin());
  points.pop_back();
  svg.polyline(points, ink, 1.6);
  for (const Landmark& mark : scenario.road.landmarks()) {
    svg.line(p.x(mark.distance_m), p.top, p.x(mark.distance_m), p.top + p.height, grey, 1.0, "3 3");
    const bool near_edge = p.x(mark.distance_m) > width - right - 90.0;
    svg.words(p.x(mark.distance_m) + (near_edge ? -4.0 : 4.0), p.top + 12.0, mark.name, 11, ink,
              near_edge ? "end" : "start");
  }
  const double strip_y = p.top + p.height + 6.0;
  for (std::size_t k = 0; k + 1 < rows.size(); ++k) {
    const double x = p.x(rows[k].distance_m), w = p.x(rows[k + 1].distance_m) - x + 0.6;
    svg.rect(x, strip_y, w, 10.0, exposure_colours[static_cast<std::size_t>(rows[k].exposure_left)]);
    svg.rect(x, strip_y + 12.0, w, 10.0, exposure_colours[static_cast<std::size_t>(rows[k].exposure_right)]);
  }
  for (const Shelter& belt : scenario.wind.shelter)
    for (const bool on_left : {true, false})
      if (belt.side == ShelterSide::both || (belt.side == ShelterSide::left) == on_left)
        svg.rect(p.x(belt.from_m), strip_y + (on_left ? 0.0 : 18.0), p.x(belt.to_m) - p.x(belt.from_m), 4.0, ink);
  const auto told = [](const OutlookRow& row) { return std::abs(row.hill_share - 1.0) > hill_told; };
  for (std::size_t k = 0; k + 1 < rows.size(); ++k)
    if (told(rows[k]))
      svg.rect(p.x(rows[k].distance_m), strip_y + 24.0, p.x(rows[k + 1].distance_m) - p.x(rows[k].distance_m) + 0.6, 5.0,
               rows[k].hill_share > 1.0 ? against : behind);
  svg.words(left - 8.0, strip_y + 9.0, "left", 10, grey, "end");
  svg.words(left - 8.0, strip_y + 21.0, "right", 10, grey, "end");
  double x = left;
  for (std::size_t k = 0; k < exposure_names.size(); ++k) {
    std::string name(exposure_names[k]);
    std::replace(name.begin(), name.end(), '_', ' ');
    svg.rect(x, strip_y + 36.0, 14.0, 10.0, exposure_colours[k]);
    svg.words(x + 19.0, strip_y + 45.0, name, 11, grey);
    x += 34.0 + 6.6 * static_cast<double>(name.size());
  }
  if (!scenario.wind.shelter.empty()) {
    svg.rect(x, strip_y + 39.0, 14.0, 4.0, ink);
    svg.words(x + 19.0, strip_y + 45.0, "row of trees, wall or cutting", 11, grey);
    x += 210.0;
  }
  if (std::any_of(rows.begin(), rows.end(), told)) {
    svg.rect(x, strip_y + 39.0, 14.0, 5.0, against);
    svg.words(x + 19.0, strip_y + 45.0, "crest, more wind", 11, grey);
    svg.rect(x + 130.0, strip_y + 39.0, 14.0, 5.0, behind);
    svg.words(x + 149.0, strip_y + 45.0, "lull of a hill, less", 11, grey);
  }
}

/// The wind as seen from the saddle: up is the way ahead, and an arrow flies with the air.
void draw_arrows(Svg& svg, double middle_y, const Panel& p, const std::vector<OutlookRow>& rows) {
  svg.words(left, middle_y - 26.0, "Wind at the rider, seen from the saddle: the way ahead is up, arrows fly with the air",
            13, ink, "start", true);
  const std::size_t every = std::max<std::size_t>(1, rows.size() / 30);
  double strongest = 0.1;
  for (const OutlookRow& row : rows) strongest = std::max(strongest, row.rider_mps);
  for (std::size_t k = every / 2; k < rows.size(); k += every) {
    const OutlookRow& r = rows[k];
    if (r.rider_mps < 0.05) continue;
    const double length = 9.0 + 17.0 * r.rider_mps / strongest, unit = length / r.rider_mps;
    const double dx = r.from_left_mps * unit,
                 dy = r.head_mps * unit;  // from the left: flies to the right; head wind: flies down
    const double x = p.x(r.distance_m), y = middle_y + 4.0, ex = dx / length, ey = dy / length;
    const std::string_view colour =
        std::abs(r.from_left_mps) > std::abs(r.head_mps) ? across_colour : (r.head_mps > 0.0 ? against : behind);
    svg.line(x - 0.5 * dx, y - 0.5 * dy, x + 0.5 * dx - 5.0 * ex, y + 0.5 * dy - 5.0 * ey, colour, 2.0);
    svg.area({{x + 0.5 * dx, y + 0.5 * dy},
              {x + 0.5 * dx - 8.0 * ex - 4.0 * ey, y + 0.5 * dy - 8.0 * ey + 4.0 * ex},
              {x + 0.5 * dx - 8.0 * ex + 4.0 * ey, y + 0.5 * dy - 8.0 * ey - 4.0 * ex}},
             colour);
  }
}

void draw_speeds(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows) {
  draw_frame(svg, p, "Wind speed (m/s)", 5);
  fill_between(
      svg, p, rows, [](const OutlookRow& r) { return r.rider_mps * (1.0 + 2.0 * r.gust_intensity); },
      [](const OutlookRow& r) { return std::max(0.0, r.rider_mps * (1.0 - 2.0 * r.gust_intensity)); }, rider_colour, 0.18);
  svg.polyline(curve(p, rows, [](const OutlookRow& r) { return r.open_mps; }), open_colour, 1.6, "6 4");
  svg.polyline(curve(p, rows, [](const OutlookRow& r) { return r.rider_mps; }), rider_colour, 2.2);
  const double y = p.top - 8.0;
  svg.line(left + 175.0, y - 4.0, left + 205.0, y - 4.0, open_colour, 1.6, "6 4");
  svg.words(left + 211.0, y, "forecast at 10 m over open land", 12, grey);
  svg.line(left + 440.0, y - 4.0, left + 470.0, y - 4.0, rider_colour, 2.2);
  svg.words(left + 476.0, y, "mean at the rider", 12, grey);
  svg.rect(left + 610.0, y - 10.0, 30.0, 11.0, rider_colour, 0.18);
  svg.words(left + 646.0, y, "19 of 20 moments, lulls and gusts", 12, grey);
}

void draw_parts(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows) {
  draw_frame(svg, p, "Along the road (m/s):", 4);
  const auto zero = [](const OutlookRow&) { return 0.0; };
  fill_between(
      svg, p, rows, [](const OutlookRow& r) { return std::max(0.0, r.head_mps); }, zero, against, 0.45);
  fill_between(
      svg, p, rows, zero, [](const OutlookRow& r) { return std::min(0.0, r.head_mps); }, behind, 0.45);
  svg.polyline(curve(p, rows, [](const OutlookRow& r) { return r.head_mps; }), ink, 1.2);
  const double y = p.top - 8.0;
  svg.rect(left + 175.0, y - 10.0, 14.0, 11.0, against, 0.6);
  svg.words(left + 195.0, y, "against you", 12, grey);
  svg.rect(left + 290.0, y - 10.0, 14.0, 11.0, behind, 0.6);
  svg.words(left + 310.0, y, "behind you", 12, grey);
}

void draw_across(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows) {
  draw_frame(svg, p, "Across the road (m/s): up is from the left, down from the right; the band shows gusts", 4);
  fill_between(
      svg, p, rows, [](const OutlookRow& r) { return r.from_left_mps * (1.0 + 2.0 * r.gust_intensity); },
      [](const OutlookRow& r) { return r.from_left_mps * std::max(0.0, 1.0 - 2.0 * r.gust_intensity); }, across_colour,
      0.18);
  svg.polyline(curve(p, rows, [](const OutlookRow& r) { return r.from_left_mps; }), across_colour, 2.2);
}

void draw_push(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows, double caution_N) {
  draw_frame(svg, p, "Side force on the rider (N)", 4);
  svg.polyline(curve(p, rows, [](const OutlookRow& r) { return r.side_force_N; }), across_colour, 2.0);
  svg.polyline(curve(p, rows, [](const OutlookRow& r) { return r.gust_side_force_N; }), against, 1.6, "6 4");
  if (caution_N < p.high) {
    svg.line(left, p.y(caution_N), width - right, p.y(caution_N), ink, 1.0, "2 3");
    svg.words(left + 6.0, p.y(caution_N) - 4.0, fmt::format("caution above {:g} N", caution_N), 11, ink);
  }
  const double y = p.top - 8.0;
  svg.line(left + 230.0, y - 4.0, left + 260.0, y - 4.0, across_colour, 2.0);
  svg.words(left + 266.0, y, "mean wind", 12, grey);
  svg.line(left + 360.0, y - 4.0, left + 390.0, y - 4.0, against, 1.6, "6 4");
  svg.words(left + 396.0, y, "gust of three seconds", 12, grey);
}

void draw_yaw(Svg& svg, const Panel& p, const std::vector<OutlookRow>& rows) {
  draw_frame(svg, p, "Yaw of the air you meet (degrees off the nose)", 4);
  svg.polyline(curve(p, rows, [](const OutlookRow& r) { return deg_from_rad(r.yaw_rad); }), rider_colour, 2.0);
}

void draw_axis(Svg& svg, const Panel& p, const Outlook& outlook) {
  const double length_km = p.length_m / 1e3, step_km = nice_step(length_km, 12), y = p.top + p.height;
  for (double km = 0.0; km <= length_km + 1e-9; km += step_km) {
    const auto& rows = outlook.rows;
    const auto row = std::lower_bound(rows.begin(), rows.end(), km * 1e3 - 1e-6,
                                      [](const OutlookRow& r, double m) { return r.distance_m < m; });
    svg.line(p.x(km * 1e3), y, p.x(km * 1e3), y + 5.0, grey);
    svg.words(p.x(km * 1e3), y + 19.0, fmt::format("{:g}", km), 12, ink, "middle");
    if (row != rows.end()) svg.words(p.x(km * 1e3), y + 35.0, clock(row->time_s), 11, grey, "middle");
  }
  svg.words(left - 22.0, y + 19.0, "km", 12, ink, "end");
  svg.words(left - 22.0, y + 35.0, "h:mm", 11, grey, "end");
}

template <class Value>
double highest(const std::vector<OutlookRow>& rows, Value value) {
  double most = 0.0;
  for (const OutlookRow& row : rows) most = std::max(most, value(row));
  return most;
}

}  // namespace

std::string outlook_svg(const Scenario& scenario, const Outlook& outlook) {
  const std::vector<OutlookRow>& rows = outlook.rows;
  const double length_m = scenario.road.length_m();
  const auto& elevation = scenario.road.profile().elevation_m;
  const auto [lowest_m, highest_m] = std::minmax_element(elevation.begin(), elevation.end());
  const double rise_m = std::max(20.0, *highest_m - *lowest_m);
  const double head = std::max(1.0, 1.1 * highest(rows, [](const OutlookRow& r) { return r.head_mps; }));
  const double tail = std::max(1.0, 1.1 * highest(rows, [](const OutlookRow& r) { return -r.head_mps; }));
  const double from_left = std::max(
      1.0, 1.05 * highest(rows, [](const OutlookRow& r) { return r.from_left_mps * (1.0 + 2.0 * r.gust_intensity); }));
  const double from_right = std::max(
      1.0, 1.05 * highest(rows, [](const OutlookRow& r) { return -r.from_left_mps * (1.0 + 2.0 * r.gust_intensity); }));
  const double speed = std::max(1.0, 1.05 * highest(rows, [](const OutlookRow& r) {
                                       return std::max(r.open_mps, r.rider_mps * (1.0 + 2.0 * r.gust_intensity));
                                     }));
  const double push = std::max(10.0, 1.1 * highest(rows, [](const OutlookRow& r) { return r.gust_side_force_N; }));
  const double yaw = std::max(10.0, 1.1 * highest(rows, [](const OutlookRow& r) { return deg_from_rad(r.yaw_rad); }));

  Svg svg(width, 1130.0, paper);
  svg.words(left, 34.0, scenario.title, 19, ink, "start", true);
  svg.words(left, 56.0, outlook.rider, 13, grey);
  draw_road(svg, {92.0, 120.0, *lowest_m - 0.05 * rise_m, *lowest_m + 1.3 * rise_m, length_m}, scenario,
            rows);  // room above for the names
  draw_arrows(svg, 312.0, {0.0, 0.0, 0.0, 1.0, length_m}, rows);
  draw_speeds(svg, {374.0, 120.0, 0.0, speed, length_m}, rows);
  draw_parts(svg, {534.0, 110.0, -tail, head, length_m}, rows);
  draw_across(svg, {684.0, 110.0, -from_right, from_left, length_m}, rows);
  draw_yaw(svg, {834.0, 80.0, 0.0, yaw, length_m}, rows);
  const Panel last{954.0, 100.0, 0.0, push, length_m};
  draw_push(svg, last, rows, scenario.wind.side_force_caution_N);
  draw_axis(svg, last, outlook);
  svg.words(left, 1120.0,
            "Times are hours and minutes after the start. Forecasts are uncertain, above all near the ground and on hills: "
            "look at the sky, leave room beside you for a gust.",
            11, grey);
  return svg.finish();
}

}  // namespace leewheel
