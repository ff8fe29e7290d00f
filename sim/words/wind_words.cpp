#include "words/wind_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "leewheel/compass.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

std::string exposure_text(Exposure exposure) {
  std::string words(exposure_names[static_cast<std::size_t>(exposure)]);
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

namespace {

std::string beside_the_road(const OutlookRow& row) {
  if (row.exposure_left == row.exposure_right) return exposure_text(row.exposure_left);
  return fmt::format("{} | {}", exposure_text(row.exposure_left), exposure_text(row.exposure_right));
}

/// "crest +12 %, sheltered to 60 %": what hills add or take, and what belts leave.
std::string land_words(const OutlookRow& row) {
  const double belts = row.land_share / row.hill_share;
  std::string words;
  if (row.hill_share > 1.0 + hill_shown_from) words = fmt::format(", crest +{:.0f} %", 100.0 * (row.hill_share - 1.0));
  if (row.hill_share < 1.0 - hill_shown_from) words = fmt::format(", lull -{:.0f} %", 100.0 * (1.0 - row.hill_share));
  if (belts < 0.995) words += fmt::format(", windbreaks leave {:.0f} %", 100.0 * belts);
  return words;
}

/// The places a captain will ask about: the least head wind, the most, the most across, the largest side force.
std::string worst_text(const Outlook& outlook, const ShownUnits& units) {
  const auto most = [&](auto value) {
    return *std::max_element(outlook.rows.begin(), outlook.rows.end(),
                             [&](const OutlookRow& a, const OutlookRow& b) { return value(a) < value(b); });
  };
  const OutlookRow head = most([](const OutlookRow& r) { return r.head_mps; });
  const OutlookRow tail = most([](const OutlookRow& r) { return -r.head_mps; });
  const OutlookRow across = most([](const OutlookRow& r) { return std::abs(r.from_left_mps); });
  const OutlookRow side = most([](const OutlookRow& r) { return r.gust_side_force_N; });
  std::string text;
  if (head.head_mps > 0.05)
    text += fmt::format("most headwind  {:5.1f} {} at {:.1f} {}\n", units.wind(head.head_mps), units.wind_name(),
                        units.way(head.distance_m), units.way_name());
  if (tail.head_mps < -0.05)
    text += fmt::format("most tailwind  {:5.1f} {} at {:.1f} {}\n", units.wind(-tail.head_mps), units.wind_name(),
                        units.way(tail.distance_m), units.way_name());
  if (std::abs(across.from_left_mps) > 0.05)
    text += fmt::format("most crosswind {:5.1f} {} from the {} at {:.1f} {}\n", units.wind(std::abs(across.from_left_mps)),
                        units.wind_name(), across.from_left_mps > 0.0 ? "left" : "right", units.way(across.distance_m),
                        units.way_name());
  text += fmt::format("largest side   {:5.0f} N of side force in a gust at {:.1f} {} ({:.0f} N in the mean wind)\n",
                      side.gust_side_force_N, units.way(side.distance_m), units.way_name(), side.side_force_N);
  for (const double crest_m : outlook.steep_leewards_m)
    text +=
        fmt::format("leeward side   behind the crest at {:.1f} {} the wind may turn round and come in gusts from anywhere\n",
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
  const std::string land = beside_the_road(r) + land_words(r);
  return fmt::format("{:6.1f}  {:>5}  {:5.0f}   {:5.1f} {:<4}{:3.0f}°  {:5.1f}  {}  {}  {:4.0f}°  {:>10}   {:4.0f}   {}\n",
                     units.way(r.distance_m), hours_minutes_text(r.time_s), units.speed(r.speed_mps), units.wind(r.open_mps),
                     compass_point(r.open_from_rad), compass_deg(r.open_from_rad, 0), units.wind(r.rider_mps), head, side,
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
         "are uncertain, above all near the ground and on hills: look at the sky, and leave room for gusts beside "
         "you.\n";
}

}  // namespace leewheel
