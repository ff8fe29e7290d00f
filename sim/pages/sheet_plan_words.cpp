#include <algorithm>
#include <cmath>
#include <map>

#include "leewheel/compass.hpp"
#include "leewheel/ride_facts.hpp"
#include "pages/sheet_page.hpp"
#include "pages/sheet_picture.hpp"
#include "words/formation_words.hpp"
#include "words/wait_words.hpp"

namespace leewheel {

std::string forecast_text(const Page& page) {
  const WindSettings& wind = page.scenario().wind;
  const auto point = [&](const ForecastPoint& p) {
    return fmt::format("{} from {}{}", page.speed(p.speed_mps), compass_point(p.from_rad),
                       p.gust_mps ? fmt::format(", gusts {}", page.speed(*p.gust_mps)) : "");
  };
  const auto& forecast = wind.stations.empty() ? wind.forecast : wind.stations.front().forecast;
  std::string text = point(forecast.front());
  if (forecast.size() > 1)
    text += fmt::format("; after {} {}", page.clock().beside(forecast.back().time_s), point(forecast.back()));
  return text;
}

std::string kind_text(const Scenario& scenario) {
  switch (scenario.ride.kind) {
    case RideKind::together: return "All together: the first rider sets a pace that everyone can follow.";
    case RideKind::steady:
      return "A shared, steady pace where a wheel pays; where it is steep and a wheel saves little, everyone climbs at his "
             "or "
             "her own pace.";
    case RideKind::free: return "Everyone rides by their own plan, holds any wheel that costs less, and shares the front.";
    case RideKind::race: return "Everyone rides for the finish, with nothing left there.";
    case RideKind::by_strength: return "Two groups, the stronger and the weaker riders, each at a steady pace.";
  }
  return "";
}

bool Page::ends_on_top() const {
  constexpr double near_m = 1.0;
  const auto& z = scenario().road.profile().elevation_m;
  return *std::max_element(z.begin(), z.end()) < z.back() + near_m && z.back() > z.front() + near_m;
}

std::string regroup_places(const Page& page) {
  std::vector<std::string> places;
  for (const PlannedStop& place : waiting_places(page.scenario().ride))
    if (page.group() || place.stop_s > 0.0) places.push_back(place_text(page.scenario(), place));
  return enumerated(places);
}

std::string given_up_words(const Page& page) {
  std::vector<std::string> sentences;
  for (const WaitOfRide& wait : waits_of(page.scenario(), page.sheet.ride))
    for (const WaitOfRide::GivenUp& given_up : wait.given_up)
      sentences.push_back(given_up_text(page.scenario(), wait, given_up));
  return fmt::format("{}", fmt::join(sentences, ". "));
}

std::string wind_text(const Page& page, const SheetStretch& s) {
  const double head = std::abs(s.head_mps), side = std::abs(s.from_left_mps);
  std::vector<std::string> parts;
  if (head >= 0.5) parts.push_back(fmt::format("{} {}", page.speed(head), s.head_mps > 0.0 ? "against" : "behind"));
  if (side >= 0.5)
    parts.push_back(fmt::format("{} from the {}", page.speed(side), s.from_left_mps > 0.0 ? "left" : "right"));
  return parts.empty() ? std::string("hardly any") : enumerated(parts);
}

std::string what_to_do(const Page& page, const SheetStretch& s) {
  if (page.scenario().riders.size() < 2) return "";
  if (s.descent()) return "single file with room to brake, no one holds a wheel";
  if (!s.in_a_line()) return "each rider at his or her own pace";
  std::string text(words_of(page.scenario().ride.formation).in_line);
  if (std::abs(s.from_left_mps) > 2.0 && std::abs(s.from_left_mps) > 0.5 * std::abs(s.head_mps))
    text += fmt::format("; sit a little to the {} of the wheel ahead, if lane and law allow",
                        s.from_left_mps > 0.0 ? "right" : "left");
  return text;
}

std::string who_with_whom(const Page& page, const SheetStretch& s) {
  if (s.groups.size() == 1 && s.groups.front().line.size() > 2) return "everyone";
  if (s.groups.size() > 2 && s.groups.size() == page.sheet.riders.size()) return "everyone alone";
  std::vector<std::string> parts;
  for (const GroupTurns& group : s.groups) {
    const std::vector<std::string> names = names_of(page.scenario(), group.line);
    parts.push_back(names.size() == 1 ? names.front() + " alone" : enumerated(names));
  }
  return fmt::format("{}", fmt::join(parts, "; "));
}

std::string first_and_last(const Page& page, std::size_t k) {
  double first_s = 1e18, last_s = 0.0, go_on_s = 1e18;
  bool all = true;
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i) {
    const SheetRidden* const at = page.ridden(i, k);
    if (!at) {
      all = false;
      continue;
    }
    first_s = std::min(first_s, at->arrive_s);
    last_s = std::max(last_s, at->arrive_s);
    if (at->go_on_s > at->arrive_s) go_on_s = std::min(go_on_s, at->go_on_s);
  }
  if (last_s == 0.0) return "nobody";
  const auto time = [&](double time_s) { return page.clock().beside(time_s); };
  const std::string go_on = go_on_s < 1e18 ? "; go on " + time(go_on_s) : "";
  if (last_s - first_s < 10.0 && all) return time(first_s) + go_on;
  return fmt::format("{} first, {}{}", time(first_s), all ? time(last_s) + " last" : "not everyone", go_on);
}

namespace {

/// Those whose numbers are known less well than the day's form varies: "W′ of Ada and Ben ±28 % (not given)".
std::vector<std::string> known_less_well(const Page& page) {
  const Uncertainty& u = page.scenario().uncertainty;
  std::vector<std::string> parts;
  const auto add = [&](const char* what, double RiderSettings::*spread, double day) {
    std::map<long, std::vector<std::string>> by_percent;
    for (const RiderSettings& rider : page.scenario().riders)
      if (rider.*spread > 0.0) by_percent[std::lround(100.0 * std::hypot(day, rider.*spread))].push_back(rider.name);
    for (const auto& [percent, names] : by_percent)
      parts.push_back(fmt::format("{} of {} ±{} %, known less well", what, enumerated_briefly(names), percent));
  };
  add("critical power", &RiderSettings::critical_power_spread, u.critical_power_share);
  add("W′", &RiderSettings::w_prime_spread, u.w_prime_share);
  return parts;
}

}  // namespace

std::string spread_words(const Page& page) {
  const Uncertainty& u = page.scenario().uncertainty;
  std::vector<std::string> parts;
  const auto add = [&](double spread, const std::string& words) {
    if (spread > 0.0) parts.push_back(words);
  };
  add(u.wind_speed_mps, fmt::format("wind ±{}", page.speed(u.wind_speed_mps)));
  add(u.wind_direction_deg, fmt::format("direction ±{:.0f}°", u.wind_direction_deg));
  add(u.wake_scale, fmt::format("what a wheel saves ±{:.0f} %", 100.0 * u.wake_scale));
  add(u.critical_power_share, fmt::format("everyone's critical power ±{:.0f} %", 100.0 * u.critical_power_share));
  add(u.w_prime_share, fmt::format("W′ ±{:.0f} %", 100.0 * u.w_prime_share));
  for (const std::string& known_less : known_less_well(page)) parts.push_back(known_less);
  add(u.drag_area_share, fmt::format("drag area ±{:.0f} %", 100.0 * u.drag_area_share));
  add(u.rolling_share, fmt::format("rolling ±{:.0f} %", 100.0 * u.rolling_share));
  add(u.mass_kg, fmt::format("mass ±{:.1f} {}", page.units.mass(u.mass_kg), page.units.mass_name()));
  return enumerated(parts);
}

std::vector<std::string> cautions_of_the_day(const Page& page) {
  std::vector<std::string> list;
  const SheetStretch* gusty = nullptr;
  std::vector<std::string> descents;
  for (const SheetStretch& s : page.sheet.stretches) {
    if (!gusty || s.gust_side_force_N > gusty->gust_side_force_N) gusty = &s;
    if (s.descent() || s.lowest_grade < descent_100m_below_grade)
      descents.push_back(fmt::format("{} to {} (down to {})", s.from, s.to, grade_text(s.lowest_grade)));
  }
  if (!descents.empty())
    list.push_back(fmt::format("Descents on {}: gaps grow with speed, brake before the bend, no one holds a wheel.",
                               enumerated(descents)));
  if (gusty && gusty->gust_side_force_N > page.scenario().wind.side_force_caution_N)
    list.push_back(
        fmt::format("Crosswind on {} to {}: a gust may push a rider sideways with about {:.0f} N. Leave room to both sides; "
                    "when in doubt do not ride there.",
                    gusty->from, gusty->to, gusty->gust_side_force_N));
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i)
    if (page.sheet.ride.riders[i].wbal_least_J < 0.1 * page.scenario().riders[i].w_prime_J)
      list.push_back(fmt::format("{} is nearly empty at some point (W′ below 10 %): plan an easier pace or a longer wait.",
                                 page.name(i)));
  if (page.scenario().air.temperature_C >= 28.0 || page.scenario().heat.on) list.push_back(heat_text(page));
  return list;
}

}  // namespace leewheel
