#include "pages/sheet.hpp"

#include <algorithm>
#include <cmath>

#include "pages/escape.hpp"
#include "pages/sheet_page.hpp"
#include "pages/sheet_picture.hpp"
#include "pages/template.hpp"

namespace leewheel {

namespace {

std::string whole(double value) { return fmt::format("{:.0f}", value); }

std::optional<SheetRange> range_at(const std::vector<std::optional<SheetRange>>& ranges, std::size_t k) {
  return k < ranges.size() ? ranges[k] : std::nullopt;
}

/// Number of the landmark where a stretch ends, as in the picture; the finish has none.
PageValue end_number(const Page& page, std::size_t stretch) {
  return stretch + 1 < page.sheet.stretches.size() ? PageValue(std::to_string(stretch + 1)) : PageValue(false);
}

// ---- the head ----

void add_facts(PageData& data, const Page& page) {
  const Scenario& scenario = page.scenario();
  const RoadFacts road = scenario.road.facts();
  data["title"] = scenario.title;
  data["question"] = if_any(scenario.question);
  data["way"] = page.way(road.length_m);
  data["climb"] = page.climb(road.ascent_m);
  data["steepest"] = fmt::format("{} at {}", grade_text(road.steepest_100m_grade), page.way(road.steepest_at_m));
  data["forecast"] = forecast_text(page);
  const DayClock clock = page.clock();
  data["start"] = if_any(clock.known() ? fmt::format("{}, {}", clock.date(), clock.at(0.0)) : "");
  data["warmth"] = fmt::format("{:.0f} {}", page.units.warmth(scenario.air.temperature_C), page.units.warmth_name());
}

/// One line at the head: the last one home, with its range, and who is likeliest to lose the group.
void add_how_sure(PageData& data, const Page& page) {
  const Sheet& sheet = page.sheet;
  double last_s = 0.0;
  std::size_t shakiest = 0;
  for (std::size_t i = 0; i < sheet.riders.size(); ++i) {
    last_s = std::max(last_s, sheet.ride.riders[i].finish_time_s);
    if (sheet.riders[i].dropped_share > sheet.riders[shakiest].dropped_share) shakiest = i;
  }
  const bool home = sheet.ride.end == RideEnd::all_finished;
  data["not_all_home"] = !home;
  data["one_ride"] = home && sheet.days == 0;
  data["many_days"] = home && sheet.days > 0;
  data["last_is"] = page.group() ? "the last is" : "";
  data["last_time"] = page.clock().beside(last_s);
  data["range"] = if_any(clock_range(sheet.last_home_s));
  data["who"] = page.group() ? "everyone gets there" : "you get there";
  data["share"] = whole(100.0 * sheet.all_home_share);
  data["shakiest"] = false;
  if (const double share = sheet.riders[shakiest].dropped_share; share > 0.0)
    data["shakiest"] = PageData{{"name", page.name(shakiest)}, {"dropped", whole(100.0 * share)}};
  data["days"] = std::to_string(sheet.days);
  data["with_ranges"] = sheet.days > 0;
  data["spread"] = spread_words(page);
}

// ---- road and plan ----

void add_road(PageData& data, const Page& page) {
  data["picture_wide"] = road_picture(page.sheet, page.units, 900.0, "w");
  data["picture_narrow"] = road_picture(page.sheet, page.units, 360.0, "n");
  PageList land, landmarks;
  for (const LandClass& one : land_classes(page.scenario().road, "k"))
    land.push_back(PageData{{"swatch", one.swatch}, {"name", one.name}});
  for (std::size_t k = 0; k + 1 < page.sheet.stretches.size(); ++k) {
    const SheetStretch& s = page.sheet.stretches[k];
    landmarks.push_back(PageData{{"number", end_number(page, k)}, {"name", s.to}, {"way", page.way(s.to_m)}});
  }
  data["land"] = land;
  data["landmarks"] = landmarks;
}

/// The stretch where a wheel saves most, for a group that rides it in a line; empty where no wheel saves worth a word.
std::string where_to_close_up(const Page& page) {
  constexpr double worth_a_word_W = 10.0;  // assumed
  const SheetStretch* best = nullptr;
  for (const SheetStretch& s : page.sheet.stretches)
    if (s.in_a_line() && s.saved_W >= worth_a_word_W && (!best || s.saved_W > best->saved_W)) best = &s;
  if (!best || !page.group()) return "";
  return fmt::format("{} to {}, where a wheel saves most, {} W a rider ({})", best->from, best->to, whole(best->saved_W),
                     wind_text(page, *best));
}

void add_plan(PageData& data, const Page& page) {
  const Scenario& scenario = page.scenario();
  data["group"] = page.group();
  data["kind"] = kind_text(scenario);
  data["formation"] = page.group() ? formation_text(scenario) : "";
  data["why_this_plan"] = if_any(page.sheet.why_this_plan);
  data["order"] = if_any(page.group() ? enumerated(scenario.ride.start_order) : "");
  const std::string places = regroup_places(page);
  data["regroup"] = false;
  if (page.group() || !places.empty())
    data["regroup"] = places.empty() ? "nowhere on the way"
                                     : fmt::format("at {}, off the road, until the last rider has arrived{}", places,
                                                   scenario.ride.stops.empty() ? "" : " and had the stop");
  data["close_up"] = if_any(where_to_close_up(page));
  data["given_up"] = if_any(given_up_words(page));
  PageList stretches;
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k) {
    const SheetStretch& s = page.sheet.stretches[k];
    PageValue front(false);
    if (s.front_power_W > 0.0) front = PageData{{"speed", page.speed(s.front_speed_mps)}, {"power", whole(s.front_power_W)}};
    stretches.push_back(PageData{{"from", s.from},
                                 {"to", s.to},
                                 {"number", end_number(page, k)},
                                 {"way", page.way(s.to_m - s.from_m)},
                                 {"slope", grade_text(s.grade)},
                                 {"wind", wind_text(page, s)},
                                 {"what_to_do", what_to_do(page, s)},
                                 {"front", front},
                                 {"saved", whole(std::max(0.0, s.saved_W))},
                                 {"who_with_whom", who_with_whom(page, s)},
                                 {"arrive", first_and_last(page, k)}});
  }
  data["stretches"] = stretches;
}

// ---- riders ----

/// "+1 day" on a line of its own: a card is narrow.
std::string in_lines(std::string clock) {
  if (const std::size_t at = clock.find(' '); at != clock.npos) clock[at] = '\n';
  return clock;
}

/// Where a rider waits: on again when, and how long the wait is.
PageValue going_on(const Page& page, const SheetRidden& ridden) {
  if (ridden.go_on_s <= ridden.arrive_s) return false;
  return PageData{{"at", clock_text(ridden.go_on_s)},
                  {"clock", if_any(page.clock().at(ridden.go_on_s))},
                  {"clock_lines", if_any(in_lines(page.clock().at(ridden.go_on_s)))},
                  {"wait", clock_text(ridden.go_on_s - ridden.arrive_s)}};
}

PageValue place(const Page& page, std::size_t i, std::size_t k) {
  const SheetRidden* const ridden = page.ridden(i, k);
  PageData data{{"to", page.sheet.stretches[k].to}, {"number", end_number(page, k)}, {"there", ridden != nullptr}};
  if (!ridden) return data;
  const SheetRider& rider = page.sheet.riders[i];
  const std::string left = left_text(page, i, k);
  data["way"] = page.way(ridden->to_m);
  data["way_number"] = fmt::format("{:.1f}", page.units.way(ridden->to_m));
  data["arrive"] = clock_text(ridden->arrive_s);
  data["clock"] = if_any(page.clock().at(ridden->arrive_s));
  data["clock_lines"] = if_any(in_lines(page.clock().at(ridden->arrive_s)));
  data["arrive_range"] = if_any(clock_range(range_at(rider.arrives_s, k)));
  data["go_on"] = going_on(page, *ridden);
  data["power"] = whole(ridden->power_W());
  data["power_range"] = if_any(figures_range(range_at(rider.power_W, k)));
  data["effort"] = whole(100.0 * page.effort(i, ridden->power_W()));
  data["effort_word"] = effort_word(page.effort(i, ridden->power_W()));
  data["how"] = how_text(*ridden);
  data["how_briefly"] = how_briefly(*ridden);
  data["left"] = false;
  if (!left.empty())
    data["left"] = PageData{{"text", left}, {"range", if_any(figures_range(range_at(rider.wbal_share, k), 0.01))}};
  return data;
}

/// From the first to the last one reached, and the next if there is one.
PageList places(const Page& page, std::size_t i) {
  PageList list;
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k) {
    list.push_back(place(page, i, k));
    if (!page.ridden(i, k)) break;
  }
  return list;
}

PageValue rider(const Page& page, std::size_t i) {
  const RiderSettings& settings = page.scenario().riders[i];
  const RiderResult& ridden = page.sheet.ride.riders[i];
  const SheetRider& figures = page.sheet.riders[i];
  const bool regroups = !regroup_places(page).empty();
  return PageData{
      {"number", std::to_string(i + 1)},
      {"name", page.name(i)},
      {"mass", fmt::format("{:.0f} {}", page.units.mass(settings.total_mass_kg()), page.units.mass_name())},
      {"critical_power", whole(settings.critical_power_W)},
      {"finished", ridden.finished},
      {"top", page.clock().beside(ridden.finish_time_s)},
      {"reached", fmt::format("{} {:.1f}", page.units.way_name(), page.units.way(ridden.distance_m))},
      {"arrives", if_any(figures.arrives_s.empty() ? "" : clock_range(figures.arrives_s.back()))},
      {"mean_power", whole(ridden.mean_power_W)},
      {"mean_power_range", if_any(figures_range(figures.mean_power_W))},
      {"effort", whole(100.0 * mean_effort(page, i))},
      {"saved_share", whole(ridden.ledger.alone_J > 0.0 ? 100.0 * ridden.ledger.saved_J / ridden.ledger.alone_J : 0.0)},
      {"in_front", clock_text(figures.facts.front_s)},
      {"wbal_least", whole(100.0 * ridden.wbal_least_J / settings.w_prime_J)},
      {"wbal_least_range", if_any(figures_range(figures.wbal_least_share, 0.01))},
      {"home_share", whole(100.0 * figures.home_share)},
      {"dropped_share", whole(100.0 * figures.dropped_share)},
      {"places", places(page, i)},
      {"sit_in", sit_in_text(page, i)},
      {"turns", turn_text(page, i)},
      {"ease", ease_text(page, i)},
      {"regroups", if_any(regroups ? regroup_text(page, i) : "")},
      {"energy", energy_text(page, i)},
      {"energy_range", if_any(energy_range(page, i))},
      {"food", food_text(page, i)},
      {"water", if_any(water_text(page, i))},
      {"low_gear", if_any(low_gear_text(page, i))}};
}

void add_riders(PageData& data, const Page& page) {
  PageList riders, cautions;
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i) riders.push_back(rider(page, i));
  for (const std::string& caution : cautions_of_the_day(page)) cautions.push_back(caution);
  data["riders_head"] = page.group() ? "Riders" : "The rider";
  data["riders"] = riders;
  data["cautions"] = cautions;
}

}  // namespace

std::string sheet_html(const Sheet& sheet, const SheetOptions& options) {
  const Page page{sheet, options.units};
  PageData data{{"version", LEEWHEEL_VERSION}, {"seed", std::to_string(sheet.scenario.ride.seed)}};
  data["way_unit"] = options.units.way_name();
  data["waits"] = !regroup_places(page).empty();
  add_facts(data, page);
  add_plan(data, page);
  add_riders(data, page);
  if (options.pocket) return filled_page(pocket_template, data);
  add_how_sure(data, page);
  add_road(data, page);
  return filled_page(sheet_template, data);
}

}  // namespace leewheel
