#include "io/sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/sheet_picture.hpp"
#include "io/sheet_style.hpp"
#include "io/wind_section.hpp"
#include "leewheel/units.hpp"

namespace leewheel {

namespace {

constexpr double gross_efficiency = 0.198;  // Moseley & Jeukendrup 2001, Med Sci Sports Exerc 33:621
constexpr double pays_W = 5.0;              // a wheel that saves less is not felt (assumed)

// ---- small words ----

std::string clock(double time_s) {
  const long s = std::lround(time_s);
  return s < 3600 ? fmt::format("{}:{:02}", s / 60, s % 60) : fmt::format("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
}

std::string range_text(const std::optional<SheetRange>& range) {
  return range ? fmt::format("{} to {}", clock(range->low), clock(range->high)) : std::string();
}

/// " (190 to 221)", or nothing.
std::string range_behind(const std::optional<SheetRange>& range, double unit = 1.0) {
  return range ? fmt::format(" <span class=\"soft nw\">({:.0f} to {:.0f})</span>", range->low / unit, range->high / unit)
               : std::string();
}

std::string enumerated(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  return text;
}

/// Share of critical power in a word (assumed).
const char* effort_word(double share) {
  return share < 0.60 ? "easy" : share < 0.80 ? "steady" : share < 0.95 ? "firm" : share < 1.05 ? "hard" : "very hard";
}

std::string number_mark(std::size_t k) { return fmt::format("<span class=\"no\">{}</span> ", k + 1); }

std::string cell(const char* label, const std::string& html, const char* classes = "") {
  return fmt::format("<td role=\"cell\" data-label=\"{}\"{}>{}</td>", label,
                     *classes ? fmt::format(" class=\"{}\"", classes) : "", html);
}

std::string table_begin(const std::string& caption, const std::vector<const char*>& heads, bool tight = false) {
  std::string text =
      fmt::format("<table class=\"stack{}\" role=\"table\"><caption>{}</caption><thead role=\"rowgroup\"><tr role=\"row\">",
                  tight ? " tight" : "", caption);
  for (const char* head : heads) text += fmt::format("<th scope=\"col\" role=\"columnheader\">{}</th>", head);
  return text + "</tr></thead><tbody role=\"rowgroup\">\n";
}
const char* const table_end = "</tbody></table>\n";

std::string row(const std::string& head, const std::string& cells) {
  return fmt::format("<tr role=\"row\"><th scope=\"row\" role=\"rowheader\">{}</th>{}</tr>\n", head, cells);
}

// ---- what the page is made from ----

/// Everything that the parts of the page share.
struct Page {
  const Sheet& sheet;
  const SheetOptions& options;
  ShownUnits units;
  const Scenario& scenario() const { return sheet.scenario; }
  std::string name(std::size_t rider) const { return html_text(scenario().riders[rider].name); }
  double effort(std::size_t rider, double power_W) const { return power_W / scenario().riders[rider].critical_power_W; }
  /// Number of the landmark where stretch k ends, as in the picture; the finish has none.
  std::string end_mark(std::size_t k) const { return k + 1 < sheet.stretches.size() ? number_mark(k) : std::string(); }
  std::string place(std::size_t k) const { return end_mark(k) + html_text(sheet.stretches[k].to); }
  std::string speed(double mps) const { return fmt::format("{:.0f} {}", units.speed(mps), units.speed_name()); }
  std::string way(double m) const { return fmt::format("{:.1f} {}", units.way(m), units.way_name()); }
  std::string climb(double m) const { return fmt::format("{:.0f} {}", units.height(m), units.height_name()); }
  const Passage* passage(std::size_t rider, std::size_t k) const {
    const auto& passed = sheet.ride.riders[rider].landmarks;
    return k < passed.size() ? &passed[k] : nullptr;
  }
};

double ascent_after_m(const Page& page, std::size_t stretch) {
  double ascent_m = 0.0;
  for (std::size_t k = stretch + 1; k < page.sheet.stretches.size(); ++k) ascent_m += page.sheet.stretches[k].ascent_m;
  return ascent_m;
}

std::string wind_text(const Page& page, const SheetStretch& s) {
  const double head = std::abs(s.head_mps), side = std::abs(s.from_left_mps);
  std::vector<std::string> parts;
  if (head >= 0.5) parts.push_back(fmt::format("{} {}", page.speed(head), s.head_mps > 0.0 ? "against" : "behind"));
  if (side >= 0.5)
    parts.push_back(fmt::format("{} from the {}", page.speed(side), s.from_left_mps > 0.0 ? "left" : "right"));
  return parts.empty() ? std::string("hardly any") : enumerated(parts);
}

// ---- head ----

std::string forecast_text(const Page& page) {
  const WindSettings& wind = page.scenario().wind;
  const auto point = [&](const ForecastPoint& p) {
    return fmt::format("{} from {}{}", page.speed(p.speed_mps), compass_point(p.from_rad),
                       p.gust_mps ? fmt::format(", gusts {}", page.speed(*p.gust_mps)) : "");
  };
  const auto& forecast = wind.stations.empty() ? wind.forecast : wind.stations.front().forecast;
  std::string text = point(forecast.front());
  if (forecast.size() > 1) text += fmt::format("; after {} {}", clock(forecast.back().time_s), point(forecast.back()));
  return text;
}

std::string facts(const Page& page) {
  const RoadFacts road = page.scenario().road.facts();
  const auto item = [](const std::string& label, const std::string& value) {
    return fmt::format("<li>{} <b>{}</b></li>", label, value);
  };
  return "<ul class=\"facts\">" + item("way", page.way(road.length_m)) + item("climbing", page.climb(road.ascent_m)) +
         item("steepest 100 m",
              fmt::format("{} at {}", grade_text(road.steepest_100m_grade), page.way(road.steepest_at_m))) +
         item("wind, 10 m up", forecast_text(page)) +
         item("air",
              fmt::format("{:.0f} {}", page.units.warmth(page.scenario().air.temperature_C), page.units.warmth_name())) +
         "</ul>\n";
}

/// One line at the head: the last one home, with its range, and who is likeliest to lose the group.
std::string sure_line(const Page& page) {
  const Sheet& sheet = page.sheet;
  double last_s = 0.0;
  std::size_t shakiest = 0;
  for (std::size_t i = 0; i < sheet.riders.size(); ++i) {
    last_s = std::max(last_s, sheet.ride.riders[i].finish_time_s);
    if (sheet.riders[i].dropped_share > sheet.riders[shakiest].dropped_share) shakiest = i;
  }
  if (sheet.ride.end != RideEnd::all_finished)
    return "<p class=\"sure\"><b>How sure:</b> by this plan not everyone reaches the top.</p>\n";
  const std::string last = sheet.riders.size() > 1 ? "the last is at the top" : "at the top";
  if (sheet.days == 0)
    return fmt::format("<p class=\"sure\"><b>How sure:</b> {} after {}; one ride, no range is known.</p>\n", last,
                       clock(last_s));
  std::string text =
      fmt::format("<p class=\"sure\"><b>How sure:</b> {} after <b>{}</b>{}; {} on {:.0f} % of days", last, clock(last_s),
                  sheet.last_home_s ? fmt::format(", {} on 8 days of 10", range_text(sheet.last_home_s)) : "",
                  sheet.riders.size() > 1 ? "everyone gets there" : "you get there", 100.0 * sheet.all_home_share);
  if (const double share = sheet.riders[shakiest].dropped_share; share > 0.0)
    text += fmt::format("; likeliest to lose the group: {}, at least once on {:.0f} % of days", page.name(shakiest),
                        100.0 * share);
  return text + ". <a href=\"#sure\">More</a></p>\n";
}

std::string jump_list(const Page& page) {
  std::string text = "<nav aria-label=\"Riders' cards\"><ul class=\"jump\"><li>Cards:</li>";
  for (std::size_t i = 0; i < page.scenario().riders.size(); ++i)
    text += fmt::format("<li><a href=\"#rider-{}\">{}</a></li>", i + 1, page.name(i));
  return text + "<li><a href=\"#cautions\">Cautions</a></li></ul></nav>\n";
}

// ---- the plan ----

std::string kind_text(const Scenario& scenario) {
  switch (scenario.ride.kind) {
    case RideKind::together: return "All together: whoever is in front rides what everyone can follow.";
    case RideKind::steady:
      return "A shared, steady pace where a wheel pays; where it is steep and a wheel saves little, everyone climbs at the "
             "own pace.";
    case RideKind::race: return "Everyone for the top; a wheel is held while it pays.";
    case RideKind::by_strength: return "Two groups of like strength, each at a steady pace.";
  }
  return "";
}

std::string formation_text(const Scenario& scenario) {
  switch (scenario.ride.formation) {
    case Formation::turns:
      return "One line; turns in front as long as strength allows, longer for those who have more to give.";
    case Formation::circulating: return "Always circulating: short turns, smooth changes, no surges.";
    case Formation::one_in_front: return "Whoever leads goes on leading.";
  }
  return "";
}

std::string place_near(const Page& page, double at_m) {
  for (const Landmark& mark : page.scenario().road.landmarks())
    if (std::abs(mark.distance_m - at_m) < 50.0) return html_text(mark.name);
  return page.way(at_m);
}

std::string the_plan_in_words(const Page& page) {
  const Scenario& scenario = page.scenario();
  std::string text =
      fmt::format("<p>{} {}</p>\n", kind_text(scenario), scenario.riders.size() > 1 ? formation_text(scenario) : "");
  if (!page.sheet.why_this_plan.empty())
    text += fmt::format("<p><b>Why this plan:</b> {}</p>\n", html_text(page.sheet.why_this_plan));
  if (scenario.riders.size() > 1 && !scenario.ride.order.empty()) {
    std::vector<std::string> names;
    for (const std::string& name : scenario.ride.order) names.push_back(html_text(name));
    text += fmt::format("<p><b>Order at the start:</b> {}.</p>\n", enumerated(names));
  }
  std::vector<std::string> places;
  for (const double at_m : scenario.ride.regroup_at_m) places.push_back(place_near(page, at_m));
  if (scenario.riders.size() > 1)
    text += places.empty()
                ? "<p><b>Regroup:</b> nowhere on the way.</p>\n"
                : fmt::format("<p><b>Regroup:</b> at {}, off the road, until the last is there.</p>\n", enumerated(places));
  return text;
}

std::string what_to_do(const Page& page, const SheetStretch& s) {
  if (page.scenario().riders.size() < 2) return "";
  if (!s.in_a_line() || (s.groups.size() > 1 && s.saved_W < pays_W)) return "each at the own pace";
  std::string text = page.scenario().ride.formation == Formation::circulating ? "in a line, circulating" : "in a line";
  if (std::abs(s.from_left_mps) > 2.0 && std::abs(s.from_left_mps) > 0.5 * std::abs(s.head_mps))
    text += fmt::format("; sit a little to the {} of the wheel ahead, if lane and law allow",
                        s.from_left_mps > 0.0 ? "right" : "left");
  return text;
}

std::string who_with_whom(const Page& page, const SheetStretch& s) {
  if (s.groups.size() == 1 && s.groups.front().size() > 2) return "everyone";
  if (s.groups.size() > 2 && s.groups.size() == page.sheet.riders.size()) return "everyone alone";
  std::vector<std::string> parts;
  for (const auto& group : s.groups) {
    std::vector<std::string> names;
    for (const std::uint32_t i : group) names.push_back(page.name(i));
    parts.push_back(group.size() == 1 ? names.front() + " alone" : enumerated(names));
  }
  return fmt::format("{}", fmt::join(parts, "; "));
}

std::string first_and_last(const Page& page, std::size_t k) {
  double first_s = 1e18, last_s = 0.0;
  bool all = true;
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i) {
    const Passage* at = page.passage(i, k);
    if (!at) {
      all = false;
      continue;
    }
    first_s = std::min(first_s, at->time_s);
    last_s = std::max(last_s, at->time_s);
  }
  if (last_s == 0.0) return "nobody";
  if (last_s - first_s < 10.0 && all) return clock(first_s);
  return fmt::format("{} first, {}", clock(first_s), all ? clock(last_s) + " last" : "not everyone");
}

std::string plan_table(const Page& page) {
  const bool group = page.scenario().riders.size() > 1;
  std::vector<const char*> heads{"From, to", "Way", "Slope", "Wind at the rider"};
  if (group)
    heads.insert(heads.end(), {"Ride", "Front", "A wheel saves", "Who with whom", "There at"});
  else
    heads.push_back("There at");
  std::string text = table_begin(
      "Stretch by stretch. Front: speed and power of whoever rides first in the largest group. A wheel saves: mean over all "
      "riders.",
      heads);
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k) {
    const SheetStretch& s = page.sheet.stretches[k];
    std::string cells = cell("way", page.way(s.to_m - s.from_m), "nw") + cell("slope", grade_text(s.grade), "nw") +
                        cell("wind", wind_text(page, s));
    if (group)
      cells += cell("ride", what_to_do(page, s)) +
               cell("front", s.front_power_W > 0.0
                                 ? fmt::format("<span class=\"nw\">{},</span> <span class=\"nw\">{:.0f} W</span>",
                                               page.speed(s.front_speed_mps), s.front_power_W)
                                 : "") +
               cell("a wheel saves", fmt::format("{:.0f} W", std::max(0.0, s.saved_W))) +
               cell("who with whom", who_with_whom(page, s), "all");
    cells += cell("there at", first_and_last(page, k));
    text += row(fmt::format("{} to {}", html_text(s.from), page.place(k)), cells);
  }
  return text + table_end;
}

// ---- riders ----

double riding_power_W(const SheetRider& rider) {
  double work_J = 0.0, time_s = 0.0;
  for (const SheetRidden& r : rider.stretches) work_J += r.pedal_J, time_s += r.riding_s;
  return time_s > 0.0 ? work_J / time_s : 0.0;
}

double mean_effort(const Page& page, std::size_t i) { return page.effort(i, riding_power_W(page.sheet.riders[i])); }

double total(const SheetRider& rider, double SheetRidden::*what) {
  double sum = 0.0;
  for (const SheetRidden& r : rider.stretches) sum += r.*what;
  return sum;
}

/// In front of a line; leading someone up a pitch where all climb freely is no turn.
double front_s(const Page& page, std::size_t i) {
  double sum = 0.0;
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k)
    if (page.sheet.stretches[k].in_a_line()) sum += page.sheet.riders[i].stretches[k].front_s;
  return sum;
}

std::string riders_table(const Page& page) {
  std::string text = table_begin(
      "Top: expected time at the finish, and the middle 80 % of the drawn days; where it lies outside them, groups form "
      "otherwise on most days. Effort: share of critical power while riding.",
      {"Rider", "All-up mass", "Critical power", "Top", "Effort", "Saved by others", "In front", "Lowest W′"}, true);
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i) {
    const RiderSettings& r = page.scenario().riders[i];
    const RiderResult& ridden = page.sheet.ride.riders[i];
    const SheetRider& s = page.sheet.riders[i];
    const std::string range = s.arrives_s.empty() ? std::string() : range_text(s.arrives_s.back());
    text +=
        row(fmt::format("<a href=\"#rider-{}\">{}</a>", i + 1, page.name(i)),
            cell("all-up mass", fmt::format("{:.0f} {}", page.units.mass(r.total_mass_kg()), page.units.mass_name())) +
                cell("critical power", fmt::format("{:.0f} W", r.critical_power_W)) +
                cell("top",
                     ridden.finished
                         ? clock(ridden.finish_time_s) +
                               (range.empty() ? "" : fmt::format("<br/><span class=\"soft nw\">{}</span>", range))
                         : fmt::format("not there; {} {:.1f}", page.units.way_name(), page.units.way(ridden.distance_m))) +
                cell("effort", fmt::format("{:.0f} %", 100.0 * mean_effort(page, i))) +
                cell("saved by others", fmt::format("{:.0f} %", ridden.ledger.alone_J > 0.0
                                                                    ? 100.0 * ridden.ledger.saved_J / ridden.ledger.alone_J
                                                                    : 0.0)) +
                cell("in front", clock(front_s(page, i))) +
                cell("lowest W′", fmt::format("{:.0f} %{}", 100.0 * ridden.wbal_least_J / r.w_prime_J,
                                              range_behind(s.wbal_least_share, 0.01))));
  }
  return text + table_end;
}

std::string how_text(const SheetRidden& r) {
  if (r.riding_s <= 0.0) return "";
  std::vector<std::string> parts;
  if (r.front_s >= 20.0) parts.push_back("in front " + clock(r.front_s));
  if (r.follow_s >= 0.2 * r.riding_s) parts.push_back(fmt::format("on a wheel {:.0f} %", 100.0 * r.follow_s / r.riding_s));
  if (parts.empty()) parts.push_back("own pace");
  if (r.waiting_s >= 10.0) parts.push_back("waits " + clock(r.waiting_s));
  return fmt::format("{}", fmt::join(parts, ", "));
}

std::optional<SheetRange> range_at(const std::vector<std::optional<SheetRange>>& ranges, std::size_t k) {
  return k < ranges.size() ? ranges[k] : std::nullopt;
}

std::string left_text(const Page& page, std::size_t i, std::size_t k) {
  const Passage* at = page.passage(i, k);
  const RiderResult& ridden = page.sheet.ride.riders[i];
  if (!at || !ridden.finished || k + 1 >= page.sheet.stretches.size()) return "";
  double work_J = 0.0, riding_s = 0.0;
  for (std::size_t j = k + 1; j < page.sheet.stretches.size(); ++j) {
    work_J += page.sheet.riders[i].stretches[j].pedal_J;
    riding_s += page.sheet.riders[i].stretches[j].riding_s;
  }
  const double all_J = std::max(1.0, total(page.sheet.riders[i], &SheetRidden::pedal_J));
  return fmt::format("{}, {} up, {} riding, {:.0f} % of your work; W′ {:.0f} %{}",
                     page.way(page.scenario().road.length_m() - at->distance_m), page.climb(ascent_after_m(page, k)),
                     clock(riding_s), 100.0 * work_J / all_J,
                     100.0 * std::max(0.0, at->wbal_J) / page.scenario().riders[i].w_prime_J,
                     range_behind(range_at(page.sheet.riders[i].wbal_share, k), 0.01));
}

std::string card_table(const Page& page, std::size_t i) {
  std::string text = table_begin(fmt::format("{}: power on the way to each place, time there, and what is then left{}.",
                                             page.name(i), page.sheet.days > 0 ? "; ranges hold on 8 days of 10" : ""),
                                 {"To", "There at", "Power on the way", "How", "Left from there"});
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k) {
    const SheetRidden& r = page.sheet.riders[i].stretches[k];
    const Passage* at = page.passage(i, k);
    if (!at) {
      text += row(page.place(k), cell("there at", "not reached", "all"));
      break;
    }
    const std::string range = range_text(range_at(page.sheet.riders[i].arrives_s, k));
    text += row(
        fmt::format("{} <span class=\"soft\">{}</span>", page.place(k), page.way(at->distance_m)),
        cell("there at", fmt::format("<b>{}</b>{}", clock(at->time_s),
                                     range.empty() ? "" : fmt::format("<br/><span class=\"soft nw\">{}</span>", range))) +
            cell("power", fmt::format("<b>{:.0f} W</b>{} {:.0f} % of CP, {}", r.power_W(),
                                      range_behind(range_at(page.sheet.riders[i].power_W, k)),
                                      100.0 * page.effort(i, r.power_W()), effort_word(page.effort(i, r.power_W())))) +
            cell("how", how_text(r), "all") + cell("left", left_text(page, i, k), "all"));
  }
  return text + table_end;
}

std::string stretch_name(const Page& page, std::size_t k) {
  return fmt::format("{} to {}", html_text(page.sheet.stretches[k].from), html_text(page.sheet.stretches[k].to));
}

std::string sit_in_text(const Page& page, std::size_t i) {
  std::vector<std::pair<double, std::size_t>> worth;
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k)
    if (const SheetRidden& r = page.sheet.riders[i].stretches[k]; r.saved_W() >= pays_W) worth.emplace_back(-r.saved_W(), k);
  std::sort(worth.begin(), worth.end());
  if (worth.empty()) return "nowhere by more than 5 W: ride your own pace, company apart";
  std::vector<std::string> parts;
  for (std::size_t n = 0; n < std::min<std::size_t>(3, worth.size()); ++n)
    parts.push_back(fmt::format("{} ({:.0f} W)", stretch_name(page, worth[n].second), -worth[n].first));
  return enumerated(parts);
}

/// The stretches ridden clearly below the rider's own mean.
std::string ease_text(const Page& page, std::size_t i) {
  const double mean = mean_effort(page, i);
  std::vector<std::string> parts;
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k) {
    const SheetRidden& r = page.sheet.riders[i].stretches[k];
    const double effort = page.effort(i, r.power_W());
    if (r.riding_s > 0.0 && effort < mean - 0.05 && parts.size() < 3)
      parts.push_back(fmt::format("{} ({:.0f} W, {})", stretch_name(page, k), r.power_W(), effort_word(effort)));
  }
  return parts.empty() ? "nowhere by much: the effort is even" : enumerated(parts);
}

std::string turn_text(const Page& page, std::size_t i) {
  std::vector<std::string> parts;
  std::size_t turns = 0;
  double told_s = 0.0;
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k) {
    const SheetRidden& r = page.sheet.riders[i].stretches[k];
    if (!page.sheet.stretches[k].in_a_line() || r.turns == 0 || r.front_s < 15.0) continue;
    turns += r.turns;
    told_s += r.front_s;
    parts.push_back(fmt::format("{} {}", stretch_name(page, k), clock(r.front_s)));
  }
  if (parts.empty()) return "none expected of you: stay on the wheel and say so";
  return fmt::format("{} in front in {} turn{}: {}", clock(told_s), turns, turns == 1 ? "" : "s", enumerated(parts));
}

std::string regroup_text(const Page& page, std::size_t i) {
  const SheetRider& s = page.sheet.riders[i];
  const double waits_s = total(s, &SheetRidden::waiting_s);
  std::vector<std::string> places;
  for (const double at_m : page.scenario().ride.regroup_at_m) places.push_back(place_near(page, at_m));
  return fmt::format("{}; {}", enumerated(places),
                     waits_s >= 10.0 ? fmt::format("you wait about {} in all: keep warm, stand off the road", clock(waits_s))
                                     : std::string("you are among the last: they wait, do not chase"));
}

std::string food_text(const Page& page, std::size_t i) {
  const RiderResult& ridden = page.sheet.ride.riders[i];
  const double riding_s = std::max(1.0, total(page.sheet.riders[i], &SheetRidden::riding_s)),
               hours = ridden.finish_time_s / 3600.0;
  const double litres = sweat_lph(ridden.ledger.pedal_J / riding_s, page.scenario().air.temperature_C) * riding_s / 3600.0;
  const double kcal_J = gross_efficiency * 4184.0, kcal = ridden.ledger.pedal_J / kcal_J;
  std::string text = fmt::format("about {:.0f} kcal", std::round(kcal / 10.0) * 10.0);
  if (const auto& work = page.sheet.riders[i].work_J)
    text += range_behind(
        SheetRange{std::round(work->low / kcal_J / 10.0) * 10.0, std::round(work->high / kcal_J / 10.0) * 10.0});
  text += hours > 1.0 ? fmt::format("; carbohydrate {:.0f} to {:.0f} g on the way", 5.0 * std::round(6.0 * hours),
                                    5.0 * std::round(12.0 * hours))
                      : std::string("; under an hour little food is needed if you start fed");
  return text + fmt::format("; you sweat roughly {:.1f} to {:.1f} {}: drink to thirst, no more than that",
                            page.units.litres(0.7 * litres), page.units.litres(1.3 * litres), page.units.litres_name());
}

std::string card(const Page& page, std::size_t i) {
  const RiderResult& ridden = page.sheet.ride.riders[i];
  const SheetRider& s = page.sheet.riders[i];
  std::string text =
      fmt::format("<section class=\"card\" id=\"rider-{0}\" aria-labelledby=\"name-{0}\"><h3 id=\"name-{0}\">{1}</h3>\n",
                  i + 1, page.name(i));
  text += ridden.finished
              ? fmt::format("<p>At the top after <b>{}</b>{}, {:.0f} W{} on average, {:.0f} % of critical power.</p>\n",
                            clock(ridden.finish_time_s),
                            s.arrives_s.empty() || !s.arrives_s.back()
                                ? ""
                                : fmt::format(" ({} on 8 days of 10)", range_text(s.arrives_s.back())),
                            riding_power_W(s), range_behind(s.mean_power_W), 100.0 * mean_effort(page, i))
              : std::string("<p><b>By this plan you do not reach the top.</b> Ask for another plan.</p>\n");
  text += card_table(page, i) + "<ul>";
  const auto item = [&](const char* what, const std::string& words) {
    text += fmt::format("<li><b>{}:</b> {}.</li>\n", what, words);
  };
  if (page.scenario().riders.size() > 1) {
    item("Sit in", sit_in_text(page, i));
    item("Turns", turn_text(page, i));
  }
  item("Ease", ease_text(page, i));
  if (page.scenario().riders.size() > 1 && !page.scenario().ride.regroup_at_m.empty())
    item("Regroup", regroup_text(page, i));
  item("Food and water", food_text(page, i));
  return text + "</ul></section>\n";
}

// ---- how sure, cautions ----

std::string spread_words(const Page& page) {
  const Uncertainty& u = page.scenario().uncertainty;
  std::vector<std::string> parts;
  const auto add = [&](double spread, const std::string& words) {
    if (spread > 0.0) parts.push_back(words);
  };
  add(u.wind_speed_mps, fmt::format("wind ±{}", page.speed(u.wind_speed_mps)));
  add(u.wind_direction_deg, fmt::format("direction ±{:.0f}°", u.wind_direction_deg));
  add(u.lee_scale, fmt::format("what a wheel saves ±{:.0f} %", 100.0 * u.lee_scale));
  add(u.critical_power_share, fmt::format("everyone's critical power ±{:.0f} %", 100.0 * u.critical_power_share));
  add(u.w_prime_share, fmt::format("W′ ±{:.0f} %", 100.0 * u.w_prime_share));
  add(u.drag_area_share, fmt::format("drag area ±{:.0f} %", 100.0 * u.drag_area_share));
  add(u.rolling_share, fmt::format("rolling ±{:.0f} %", 100.0 * u.rolling_share));
  add(u.mass_kg, fmt::format("mass ±{:.1f} {}", page.units.mass(u.mass_kg), page.units.mass_name()));
  return enumerated(parts);
}

std::string how_sure(const Page& page) {
  std::string text = "<section aria-labelledby=\"sure\"><h2 id=\"sure\">How sure is this?</h2>\n";
  if (page.sheet.days == 0) return text + "<p>One ride with one set of inputs: no range is known.</p></section>\n";
  text += fmt::format(
      "<p>The same plan was ridden on {} invented days, each with its own wind and fitness and its own strength of the lee "
      "(one standard deviation: {}). Ranges on this page hold the middle 80 % of these days. A figure outside its own range "
      "means that "
      "groups usually form otherwise than on the expected day.</p>\n",
      page.sheet.days, spread_words(page));
  text += table_begin(
      "By rider.", {"Rider", "Top, expected", "Top, 8 days of 10", "Reaches the top", "Loses a group at least once"}, true);
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i) {
    const SheetRider& s = page.sheet.riders[i];
    const RiderResult& ridden = page.sheet.ride.riders[i];
    text += row(page.name(i), cell("expected", ridden.finished ? clock(ridden.finish_time_s) : "not there") +
                                  cell("8 days of 10", s.arrives_s.empty() ? "" : range_text(s.arrives_s.back())) +
                                  cell("reaches the top", fmt::format("{:.0f} % of days", 100.0 * s.home_share)) +
                                  cell("loses a group", fmt::format("{:.0f} % of days", 100.0 * s.dropped_share)));
  }
  return text + table_end +
         "<p class=\"soft\">Not in it: stops, traffic, punctures, a bad night, food, heat, rain. Grades come from the road "
         "as given.</p></section>\n";
}

std::vector<std::string> cautions(const Page& page) {
  std::vector<std::string> list{
      "A model's answer, no instruction. Traffic law and your group's riding code come first: ride single file where they "
      "ask for it, whatever this page says.",
      "Close behind a wheel you see less road and have less time. Leave room with riders you do not know, in the wet, in "
      "gusts, where the surface is bad; never overlap wheels.",
      "Hard efforts are for people whose doctor has no objection. Stop for chest pain, dizziness or unusual breathlessness. "
      "Food and water are rough figures, no medical advice."};
  const SheetStretch* gusty = nullptr;
  for (const SheetStretch& s : page.sheet.stretches) {
    if (!gusty || s.gust_side_force_N > gusty->gust_side_force_N) gusty = &s;
    if (s.lowest_grade < -0.03)
      list.push_back(
          fmt::format("Descent on {} to {}, down to {}: gaps grow with speed, brake before the bend, no one holds a wheel.",
                      html_text(s.from), html_text(s.to), grade_text(s.lowest_grade)));
  }
  if (gusty && gusty->gust_side_force_N > page.scenario().wind.side_force_caution_N)
    list.push_back(
        fmt::format("Crosswind on {} to {}: a gust may push a rider sideways with about {:.0f} N. Leave room to both sides; "
                    "when in doubt do not ride there.",
                    html_text(gusty->from), html_text(gusty->to), gusty->gust_side_force_N));
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i)
    if (page.sheet.ride.riders[i].wbal_least_J < 0.1 * page.scenario().riders[i].w_prime_J)
      list.push_back(fmt::format("{} is nearly empty at some point (W′ below 10 %): plan an easier pace or a longer wait.",
                                 page.name(i)));
  if (page.scenario().air.temperature_C >= 28.0)
    list.push_back(
        "Heat: start easier, drink early, look out for one another. Power fades in the heat; this page does not know it.");
  return list;
}

std::string cautions_section(const Page& page) {
  std::string text =
      "<section class=\"caution\" id=\"cautions\" aria-labelledby=\"cautions-head\"><h2 "
      "id=\"cautions-head\">Cautions</h2><ul>\n";
  for (const std::string& caution : cautions(page)) text += fmt::format("<li>{}</li>\n", caution);
  return text + "</ul></section>\n";
}

std::string sources() {
  return "<p class=\"soft\">Energy by a gross efficiency of 0.198 (Moseley &amp; Jeukendrup 2001, Med Sci Sports Exerc "
         "33:621). Carbohydrate 30 to 60 g an hour "
         "and no more drink than sweat (Coyle 2004, J Sports Sci 22:39). Sweat 0.4 to 1.8 L an hour (second-hand); how it "
         "grows with power and warmth is assumed. "
         "Under an hour little food: common practice, no source. CP is critical power; W′ the work above it that a rider "
         "has in store. Effort words: easy below 60 % "
         "of CP, steady to 80, firm to 95, hard to 105 (assumed).</p>\n";
}

// ---- pages ----

std::string pocket_card(const Page& page, std::size_t i) {
  const RiderResult& ridden = page.sheet.ride.riders[i];
  std::string text =
      fmt::format("<section class=\"card\" id=\"rider-{0}\" aria-labelledby=\"name-{0}\"><h3 id=\"name-{0}\">{1}</h3>\n",
                  i + 1, page.name(i));
  text += fmt::format(
      "<table><caption>{}</caption><thead><tr><th scope=\"col\">To</th><th scope=\"col\" class=\"n\">{}</th><th "
      "scope=\"col\" class=\"n\">At</th>"
      "<th scope=\"col\" class=\"n\">W</th><th scope=\"col\">How</th></tr></thead><tbody>\n",
      ridden.finished ? fmt::format("Top {}{}", clock(ridden.finish_time_s),
                                    page.sheet.riders[i].arrives_s.empty() || !page.sheet.riders[i].arrives_s.back()
                                        ? ""
                                        : " (" + range_text(page.sheet.riders[i].arrives_s.back()) + ")")
                      : "by this plan not at the top",
      page.units.way_name());
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k) {
    const Passage* at = page.passage(i, k);
    if (!at) break;
    const SheetRidden& r = page.sheet.riders[i].stretches[k];
    const std::string how = r.front_s >= 20.0                ? "front " + clock(r.front_s)
                            : r.follow_s >= 0.4 * r.riding_s ? "wheel"
                                                             : "own pace";
    text += fmt::format(
        "<tr><th scope=\"row\">{}</th><td class=\"n\">{:.1f}</td><td class=\"n\">{}</td><td "
        "class=\"n\">{:.0f}</td><td>{}</td></tr>\n",
        html_text(page.sheet.stretches[k].to), page.units.way(at->distance_m), clock(at->time_s), r.power_W(), how);
  }
  text += "</tbody></table><ul>";
  if (page.scenario().riders.size() > 1) text += fmt::format("<li><b>Sit in:</b> {}.</li>", sit_in_text(page, i));
  if (page.scenario().riders.size() > 1 && !page.scenario().ride.regroup_at_m.empty())
    text += fmt::format("<li><b>Regroup:</b> {}.</li>", regroup_text(page, i));
  text += fmt::format("<li><b>Food:</b> {}.</li></ul>", food_text(page, i));
  return text +
         "<p class=\"soft\">A model's figures. Law, your group's code and your own judgement come first; leave room, stop "
         "when unwell.</p></section>\n";
}

std::string pocket_body(const Page& page) {
  std::string text = "<main><div class=\"pocket\">\n";
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i) text += pocket_card(page, i);
  return text + "</div></main>\n";
}

std::string full_body(const Page& page) {
  const bool group = page.scenario().riders.size() > 1;
  std::string text = jump_list(page) + "<main>\n<section aria-labelledby=\"road\"><h2 id=\"road\">Road and wind</h2>\n";
  text += "<figure class=\"wide\">" + road_picture(page.sheet, page.units, 900.0, "w") + "</figure>\n";
  text += "<figure class=\"narrow\">" + road_picture(page.sheet, page.units, 360.0, "n") + "</figure>\n";
  text += land_key(page.scenario().road, "k") + "<ol class=\"key\" aria-label=\"Landmarks\">";
  for (std::size_t k = 0; k + 1 < page.sheet.stretches.size(); ++k)
    text += fmt::format("<li>{} {}</li>", page.place(k), page.way(page.sheet.stretches[k].to_m));
  text += "</ol></section>\n";
  text += fmt::format("<section aria-labelledby=\"plan\"><h2 id=\"plan\">The plan</h2>\n{}{}</section>\n",
                      the_plan_in_words(page), plan_table(page));
  text += fmt::format("<section aria-labelledby=\"riders\"><h2 id=\"riders\">{}</h2>\n{}", group ? "Riders" : "The rider",
                      riders_table(page));
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i) text += card(page, i);
  return text + "</section>\n" + how_sure(page) + cautions_section(page) + sources() + "</main>\n";
}

}  // namespace

double sweat_lph(double power_W, double temperature_C) {
  const double heat_W = power_W * (1.0 / gross_efficiency - 1.0);
  const double share = std::clamp(0.35 + (temperature_C - 5.0) * (0.9 - 0.35) / 30.0, 0.35, 0.9);
  return std::clamp(heat_W * share * 3600.0 / 2.43e6, 0.4, 1.8);
}

std::string sheet_html(const Sheet& sheet, const SheetOptions& options) {
  const Page page{sheet, options, options.units};
  const std::string title = html_text(sheet.scenario.title);
  std::string text = fmt::format(
      "<!DOCTYPE html>\n<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
      "<meta name=\"viewport\" content=\"width=device-width, "
      "initial-scale=1\"/>\n<title>{}</title>\n<style>{}</style>\n</head>\n<body>\n",
      title, sheet_style);
  text += fmt::format("<header><h1>{}</h1>\n", title);
  if (!options.pocket) {
    if (!sheet.scenario.question.empty()) text += fmt::format("<p>{}</p>\n", html_text(sheet.scenario.question));
    text += facts(page) + sure_line(page);
  }
  text += "</header>\n" + (options.pocket ? pocket_body(page) : full_body(page));
  if (options.pocket) return text + "</body>\n</html>\n";
  text += fmt::format(
      "<footer class=\"soft\"><p>Made by leewheel {} by riding the scenario, seed {}. Computed, not "
      "measured.</p></footer>\n</body>\n</html>\n",
      LEEWHEEL_VERSION, sheet.scenario.ride.seed);
  return text;
}

}  // namespace leewheel
