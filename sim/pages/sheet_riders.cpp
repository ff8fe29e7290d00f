#include "pages/sheet_riders.hpp"

#include <algorithm>

#include "pages/sheet_leaves.hpp"
#include "words/effort_words.hpp"

namespace leewheel {

namespace {

std::optional<SheetRange> range_at(const std::vector<std::optional<SheetRange>>& ranges, std::size_t k) {
  return k < ranges.size() ? ranges[k] : std::nullopt;
}

/// Where a rider waits: on again when, and how long the wait is.
PageValue going_on(const Page& page, const SheetRidden& ridden) {
  if (ridden.go_on_s <= ridden.arrive_s) return false;
  return PageData{{"at", clock_text(ridden.go_on_s)},
                  {"clock", if_any(page.clock().at(ridden.go_on_s))},
                  {"wait", clock_text(ridden.go_on_s - ridden.arrive_s)}};
}

PageValue place(const Page& page, std::size_t i, std::size_t k) {
  const SheetRidden* const ridden = page.ridden(i, k);
  PageData data{{"to", page.sheet.stretches[k].to}, {"number", end_number(page, k)}, {"there", ridden != nullptr}};
  if (!ridden) return data;
  const SheetRider& rider = page.sheet.riders[i];
  data["way"] = page.way(ridden->to_m);
  data["arrive"] = clock_text(ridden->arrive_s);
  data["clock"] = if_any(page.clock().at(ridden->arrive_s));
  data["arrive_range"] = if_any(clock_range(range_at(rider.arrives_s, k)));
  data["go_on"] = going_on(page, *ridden);
  data["power"] = whole(ridden->power_W());
  data["power_range"] = if_any(figures_range(range_at(rider.power_W, k)));
  data["effort_word"] = effort_word(page.effort(i, ridden->power_W()));
  data["follow"] = page.group() ? whom_to_follow(page, i, k) : "";
  data["left"] = left_text(page, i, k);
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
  const double effort = mean_effort(page, i);
  return PageData{
      {"number", std::to_string(i + 1)},
      {"name", page.name(i)},
      {"mass", fmt::format("{:.0f} {}", page.units.mass(settings.total_mass_kg()), page.units.mass_name())},
      {"critical_power", whole(settings.critical_power_W)},
      {"finished", ridden.finished},
      {"top", clock_text(ridden.finish_time_s)},
      {"top_clock", if_any(page.clock().at(ridden.finish_time_s))},
      {"reached", fmt::format("{} {:.1f}", page.units.way_name(), page.units.way(ridden.distance_m))},
      {"arrives", if_any(figures.arrives_s.empty() ? "" : clock_range(figures.arrives_s.back()))},
      {"mean_power", whole(ridden.mean_power_W)},
      {"mean_power_range", if_any(figures_range(figures.mean_power_W))},
      {"effort", whole(100.0 * effort)},
      {"effort_word", effort_word(effort)},
      {"saved_share", whole(ridden.ledger.alone_J > 0.0 ? 100.0 * ridden.ledger.saved_J / ridden.ledger.alone_J : 0.0)},
      {"in_front", clock_text(figures.facts.front_s)},
      {"wbal_least", whole(100.0 * ridden.wbal_least_J / settings.w_prime_J)},
      {"wbal_least_range", if_any(figures_range(figures.wbal_least_share, 0.01))},
      {"home_share", whole(100.0 * figures.home_share)},
      {"dropped_share", whole(100.0 * figures.dropped_share)},
      {"long", page.sheet.stretches.size() > 4 ? " long" : ""},
      {"places", places(page, i)},
      {"sit_in", sit_in_text(page, i)},
      {"turns", turn_text(page, i)},
      {"own_effort", if_any(effort_changes_text(page.scenario(), i, page.units))},
      {"ease", if_any(ease_text(page, i))},
      {"regroups", if_any(regroup_places(page).empty() ? "" : regroup_text(page, i))},
      {"energy", energy_text(page, i)},
      {"energy_range", if_any(energy_range(page, i))},
      {"food", food_text(page, i)},
      {"water", if_any(water_text(page, i))},
      {"low_gear", if_any(low_gear_text(page, i))}};
}

// ---- pocket cards on paper ----

/// A row of a table takes as many lines as its fullest cell.
CardBlock row_block(std::initializer_list<CardBlock> cells) {
  return *std::ranges::max_element(cells, {},
                                   [](const CardBlock& c) { return static_cast<double>(c.letters) * c.size / c.width; });
}

std::vector<CardBlock> rider_blocks(const Page& page, std::size_t i) {
  std::vector<CardBlock> card{{10, 0.5, 1.9, 0.1}, {page.scenario().title.size(), 1.0, 0.7, 0.1}, {40, 1.0, 0.7, 0.1}};
  const double follow_width = regroup_places(page).empty() ? 0.38 : 0.25;
  for (std::size_t k = 0; k < page.ridden(i).size(); ++k) {
    const std::size_t follow = page.group() ? whom_to_follow(page, i, k).size() : 0;
    card.push_back(row_block({{page.sheet.stretches[k].to.size() + 6, 0.21, 0.95, 0.35},
                              {26, 0.25, 0.9, 0.35},
                              {follow, follow_width, 1.0, 0.35}}));
  }
  card.push_back({food_text(page, i).size() + 6});
  for (const std::string& text :
       {effort_changes_text(page.scenario(), i, page.units), water_text(page, i), low_gear_text(page, i)})
    if (!text.empty()) card.push_back({text.size() + 22});
  card.push_back({110, 1.0, 0.62, 0.1});
  return card;
}

std::vector<CardBlock> captain_blocks(const Page& page) {
  std::vector<CardBlock> card{{20, 0.5, 1.4}, {meeting_text(page).size(), 1.0, 0.9}};
  const auto line = [&](const std::string& text) { card.push_back({text.size() + 12}); };
  line(order_text(page));
  for (const TurnsOnWay& row : turns_by_stretch(page))
    card.push_back(row_block({{row.from.size() + row.to.size() + 4, 0.3}, {row.text.size(), 0.7}}));
  if (const std::string efforts = harder_text(page.scenario(), page.units); !efforts.empty()) line(efforts);
  for (const std::string& text : regroup_lines(page)) line(text);
  line(look_after_text(page));
  card.push_back({70});  // who is last at the end, with the range
  line(close_up_text(page));
  for (const std::string& text : when_to_change(page)) line(text);
  card.push_back({130, 1.0, 0.62, 0.1});
  return card;
}

}  // namespace

PageValue end_number(const Page& page, std::size_t stretch) {
  return stretch + 1 < page.sheet.stretches.size() ? PageValue(std::to_string(stretch + 1)) : PageValue(false);
}

void add_riders(PageData& data, const Page& page) {
  PageList riders, cautions;
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i) riders.push_back(rider(page, i));
  for (const std::string& caution : cautions_of_the_day(page)) cautions.push_back(caution);
  data["riders_head"] = page.group() ? "Riders" : "The rider";
  data["riders"] = riders;
  data["cautions"] = cautions;
}

void add_leaves(PageData& data, const Page& page) {
  std::vector<std::vector<CardBlock>> blocks;
  if (page.group()) blocks.push_back(captain_blocks(page));
  const std::size_t riders_from = blocks.size();
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i) blocks.push_back(rider_blocks(page, i));
  PageList leaves;
  for (const Leaf& leaf : leaves_of(blocks)) {
    PageList riders;
    for (std::size_t k = std::max(leaf.from, riders_from); k < leaf.to; ++k)
      riders.push_back(data["riders"].list_value()[k - riders_from]);
    leaves.push_back(
        PageData{{"pt", std::to_string(leaf.type_pt)}, {"captain", leaf.from < riders_from}, {"riders_of_leaf", riders}});
  }
  data["leaves"] = leaves;
}

}  // namespace leewheel
