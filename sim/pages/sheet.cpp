#include "pages/sheet.hpp"

#include <algorithm>
#include <cmath>

#include "pages/escape.hpp"
#include "pages/sheet_page.hpp"
#include "pages/sheet_picture.hpp"
#include "pages/sheet_riders.hpp"
#include "words/effort_words.hpp"

namespace leewheel {

namespace {

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
  data["warmth"] = fmt::format("{:.0f} {}", page.units.warmth(scenario.air.temperature_C), page.units.warmth_name());
}

/// One line at the head: the last one at the end, with its range.
void add_how_sure(PageData& data, const Page& page) {
  const Sheet& sheet = page.sheet;
  double last_s = 0.0;
  for (const RiderResult& rider : sheet.ride.riders) last_s = std::max(last_s, rider.finish_time_s);
  const bool home = sheet.ride.end == RideEnd::all_finished;
  data["not_all_home"] = !home;
  data["all_home"] = home;
  data["one_ride"] = sheet.days == 0;
  data["last_is"] = page.group() ? "the last " : "you ";
  data["last_time"] = page.clock().beside(last_s);
  data["ends"] = if_any(sheet.last_home_s ? clock_text(sheet.last_home_s->ends_error) : "");
  data["range"] = if_any(clock_range(sheet.last_home_s));
  data["share"] = if_any(sheet.all_home_share < 1.0 && sheet.days > 0 ? whole(100.0 * sheet.all_home_share) : "");
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

PageList lines_of(const std::vector<std::string>& texts) {
  PageList list;
  for (const std::string& text : texts) list.push_back(text);
  return list;
}

/// What a captain says before the start; the captain's card holds the same.
void add_head(PageData& data, const Page& page) {
  const bool group = page.group();
  data["group"] = group;
  data["meeting"] = meeting_text(page);
  data["kind"] = kind_text(page.scenario());
  data["order_head"] = page.sheet.groups_at_start.size() > 1 ? "Groups" : "Order at the start";
  data["order"] = if_any(group ? order_text(page) : "");
  data["rule"] = if_any(group ? rule_for_turns(page) : "");
  data["efforts"] = if_any(group ? harder_text(page.scenario(), page.units) : "");
  data["close_up"] = if_any(close_up_text(page));
  PageList regroup = lines_of(regroup_lines(page));
  if (group && regroup.empty()) regroup.push_back("nowhere on the way");
  data["regroup"] = regroup;
  data["look_after"] = if_any(group ? look_after_text(page) : "");
  data["change"] = lines_of(group ? when_to_change(page) : std::vector<std::string>{});
  PageList turns;
  for (const TurnsOnWay& row : turns_by_stretch(page))
    turns.push_back(PageData{{"from", row.from}, {"to", row.to}, {"text", row.text}});
  data["turns_by_stretch"] = turns;
}

void add_plan(PageData& data, const Page& page) {
  data["why_this_plan"] = if_any(page.sheet.why_this_plan);
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

}  // namespace

std::string sheet_html(const Sheet& sheet, const SheetOptions& options) {
  const Page page{sheet, options.units};
  PageData data{{"version", LEEWHEEL_VERSION}, {"seed", std::to_string(sheet.scenario.ride.seed)}};
  data["waits"] = !regroup_places(page).empty();
  data["end"] = page.end_word();
  data["End"] = page.ends_on_top() ? "Top" : "Finish";
  add_facts(data, page);
  add_head(data, page);
  add_plan(data, page);
  add_riders(data, page);
  add_how_sure(data, page);
  if (options.pocket) {
    add_leaves(data, page);
    return filled_page(pocket_template, data);
  }
  add_road(data, page);
  return filled_page(sheet_template, data);
}

}  // namespace leewheel
