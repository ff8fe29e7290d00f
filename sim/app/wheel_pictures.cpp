#include <fmt/format.h>

#include <cmath>
#include <vector>

#include "app/wheel_case.hpp"
#include "pages/svg.hpp"

namespace leewheel {

namespace {

struct Wind {
  double headwind_mps;
  const char* colour;
};
constexpr std::array drawn_winds{Wind{-3.0, ink::sand}, Wind{0.0, ink::night}, Wind{3.0, ink::sea}, Wind{6.0, ink::rust}};

std::string wind_words(double headwind_mps) {
  return headwind_mps == 0.0
             ? std::string("calm")
             : fmt::format("{} {:g} m/s", headwind_mps < 0.0 ? "tailwind" : "headwind", std::abs(headwind_mps));
}

void legend(Svg& svg, double x, double y) {
  svg.text(x, y, "wind at the rider", 13, ink::text, "start", true);
  for (const Wind& wind : drawn_winds) {
    y += 22;
    svg.line(x, y, x + 26, y, wind.colour, 3);
    svg.text(x + 34, y + 4, wind_words(wind.headwind_mps), 12.5, ink::text);
  }
}

/// A rounded upper end and its ticks for an axis that holds `most`.
std::vector<double> ticks_up_to(double most) {
  const double step = most > 150.0 ? 50.0 : most > 60.0 ? 20.0 : 10.0;
  std::vector<double> ticks;
  for (double tick = 0.0; tick < most + step; tick += step) ticks.push_back(tick);
  return ticks;
}

}  // namespace

std::string wheel_grade_picture(const WheelCase& c) {
  Svg svg = chart_paper(900, 520);
  double most_W = 0.0;
  for (const Wind& wind : drawn_winds)
    most_W = std::max(
        most_W, wheel_worth_at_power(c.rider, c.placed(0.0, wind.headwind_mps), c.deeper(c.wake_spread), c.power_W).saved_W);
  const std::vector<double> ticks = ticks_up_to(most_W);
  svg.text(70, 34, fmt::format("A wheel's worth to {}, by the grade", c.rider.name), 20, ink::text, "start", true);
  svg.text(70, 56,
           fmt::format("Watts saved {:.1f} m behind another rider, at the speed that {:.0f} W hold alone. Band: spread of "
                       "the wake model (one wake_scale).",
                       c.place.gap_m, c.power_W),
           12.5, ink::quiet);
  Chart chart(svg, 70, 80, 600, 380, 0, 12, 0, ticks.back());
  chart.axes({0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}, "grade (%)", ticks, "saved (W)");
  for (const Wind& wind : drawn_winds) {
    Points curve, band;
    Points lower;
    for (int k = 0; k <= 120; ++k) {
      const WheelPlace place = c.placed(0.001 * k, wind.headwind_mps);
      curve.emplace_back(0.1 * k, wheel_worth_at_power(c.rider, place, c.wake_law, c.power_W).saved_W);
      if (wind.headwind_mps != 0.0) continue;
      band.emplace_back(0.1 * k, wheel_worth_at_power(c.rider, place, c.deeper(c.wake_spread), c.power_W).saved_W);
      lower.emplace_back(0.1 * k, wheel_worth_at_power(c.rider, place, c.deeper(-c.wake_spread), c.power_W).saved_W);
    }
    band.insert(band.end(), lower.rbegin(), lower.rend());
    if (!lower.empty()) chart.area(band, "#14365c22");
    chart.curve(curve, wind.colour, 2.5);
  }
  const double least_W = std::max(least_worth_W, 0.01 * least_worth_percent * c.power_W);
  chart.curve({{0, least_W}, {12, least_W}}, ink::quiet, 1.5, "6 4");
  svg.text(chart.left() + 8, chart.y(least_W) + 15, fmt::format("below {:.0f} W it no longer pays", least_W), 12,
           ink::quiet);
  legend(svg, 700, 110);
  return svg.finished();
}

std::string wheel_gap_picture(const WheelCase& c) {
  Svg svg = chart_paper(900, 520);
  double most_s = 0.0;
  for (const Wind& wind : drawn_winds) {
    WheelPlace place = c.placed(0.02, wind.headwind_mps);
    place.gap_m = 0.1;
    most_s = std::max(most_s, wheel_worth_at_power(c.rider, place, c.wake_law, c.power_W).saved_s_per_km);
  }
  const std::vector<double> ticks = ticks_up_to(most_s);
  svg.text(70, 34, fmt::format("Seconds a kilometre behind a wheel, {}, by the gap", c.rider.name), 20, ink::text, "start",
           true);
  svg.text(70, 56, fmt::format("At {:.0f} W. Full lines: 2 % up; broken lines: 8 % up.", c.power_W), 12.5, ink::quiet);
  Chart chart(svg, 70, 80, 600, 380, 0.1, 10, 0, ticks.back(), true);
  chart.axes({0.2, 0.5, 1, 2, 3, 4, 5, 6, 8, 10}, "wheel gap (m), spread out at its beginning", ticks, "gained (s/km)");
  for (const double grade : {0.02, 0.08})
    for (const Wind& wind : drawn_winds) {
      Points curve;
      for (int k = 0; k <= 100; ++k) {
        WheelPlace place = c.placed(grade, wind.headwind_mps);
        place.gap_m = 0.1 + 9.9 * (0.01 * k) * (0.01 * k);
        curve.emplace_back(place.gap_m, wheel_worth_at_power(c.rider, place, c.wake_law, c.power_W).saved_s_per_km);
      }
      chart.curve(curve, wind.colour, 2.5, grade > 0.05 ? "7 5" : "");
    }
  legend(svg, 700, 110);
  return svg.finished();
}

}  // namespace leewheel
