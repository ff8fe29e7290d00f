#include "pages/ride_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "pages/sheet_page.hpp"
#include "pages/svg.hpp"
#include "pages/template.hpp"
#include "words/cautions.hpp"
#include "words/formation_words.hpp"
#include "words/wait_words.hpp"

namespace leewheel {

namespace {

/// Profile above, and below it the watts saved over the power alone: mean of all riders.
std::string picture(const Scenario& scenario, const RecordedRide& ride) {
  constexpr double width = 900, left = 60, right = 880, top = 20, foot = 170, strip_top = 200, strip_foot = 290;
  Svg svg(
      R"(viewBox="0 0 900 330" role="img" aria-label="Profile of the road, and watts saved along it" font-family="sans-serif")");
  svg.rectangle(0, 0, width, 330, ink::paper);
  const Road& road = scenario.road;
  const auto& z = road.profile().elevation_m;
  const auto [low, high] = std::minmax_element(z.begin(), z.end());
  const double rise_m = std::max(10.0, *high - *low);
  const auto x = [&](double m) { return left + m / road.length_m() * (right - left); };
  Points profile{{left, foot}};
  for (int k = 0; k <= 300; ++k) {
    const double m = road.length_m() * k / 300.0;
    profile.emplace_back(x(m), foot - (road.elevation_m(m) - *low) / rise_m * (foot - top));
  }
  profile.emplace_back(right, foot);
  svg.area(profile, ink::grid), svg.polyline(profile, ink::text, 1.2);
  const double scale_W = ride.saved.scale_W();
  const auto tall = [&](double watts) { return std::min(1.0, watts / scale_W) * (strip_foot - strip_top); };
  const std::vector<SavedPiece> pieces = ride.saved.mean();
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    const double from = x(static_cast<double>(k) * ride.saved.piece_m()), w = x(ride.saved.piece_m()) - left;
    svg.rectangle(from, strip_foot - tall(pieces[k].alone_W), w, tall(pieces[k].alone_W), ink::grid);
    const double saved = tall(std::max(0.0, pieces[k].saved_W));
    if (saved > 0.0) svg.rectangle(from, strip_foot - saved, w, saved, ink::sea);
  }
  svg.text(left - 8, foot, fmt::format("{:.0f} m", *low), 12, ink::quiet, "end");
  svg.text(left - 8, top + 10, fmt::format("{:.0f} m", *low + rise_m), 12, ink::quiet, "end");
  svg.text(left - 8, strip_top + 10, fmt::format("{:.0f} W", scale_W), 12, ink::quiet, "end");
  svg.text(left, strip_foot + 30, "dark: watts saved, mean of all riders; pale: the power that riding alone asks", 13,
           ink::text);
  svg.text(right, foot + 16, fmt::format("{:.1f} km", road.length_m() / 1e3), 12, ink::quiet, "end");
  return svg.finished();
}

std::string names_in(const Scenario& scenario, const std::vector<std::uint32_t>& order) {
  return enumerated(names_of(scenario, order));
}

PageList results(const Scenario& scenario, const WhatIfs& rides) {
  const RecordedRide &ride = rides.as_planned(),
                     &alone = rides.rides[wind_as_forecast][static_cast<std::size_t>(CompanyCase::alone)];
  PageList rows;
  for (std::size_t i = 0; i < scenario.riders.size(); ++i)
    rows.push_back(PageData{{"name", scenario.riders[i].name},
                            {"time", clock_text(ride.finish_s[i])},
                            {"mean", number_text(ride.mean_power_W[i], 0)},
                            {"work", number_text(ride.pedal_J[i] / 1e3, 0)},
                            {"saved", number_text(ride.saved_J[i] / 1e3, 0)},
                            {"alone", clock_text(alone.finish_s[i])}});
  return rows;
}

PageList plan_lines(const Scenario& scenario) {
  PageList lines;
  lines.push_back(kind_text(scenario));
  lines.push_back(std::string(words_of(scenario.ride.formation).rule));
  for (const PlannedStop& place : waiting_places(scenario.ride))
    lines.push_back(fmt::format("The first wait for the last: {}.", place_text(scenario, place)));
  return lines;
}

}  // namespace

std::string ride_page_html(const Scenario& scenario, const WhatIfs& rides, const std::string& data) {
  PageList cautions;
  for (const char* caution : ride_cautions) cautions.push_back(std::string(caution));
  return filled_page(ride_template, {{"title", scenario.title},
                                     {"question", if_any(scenario.question)},
                                     {"finding", if_any(scenario.finding)},
                                     {"planned_order", names_in(scenario, rides.planned_order)},
                                     {"opposite_order", names_in(scenario, rides.opposite_order)},
                                     {"results", results(scenario, rides)},
                                     {"picture", picture(scenario, rides.as_planned())},
                                     {"plan", plan_lines(scenario)},
                                     {"cautions", cautions},
                                     {"data", data}});
}

}  // namespace leewheel
