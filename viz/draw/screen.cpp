#include "viz/draw/screen.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "viz/view/groups_apart.hpp"
#include "viz/view/pointer.hpp"
#include "words/plain_text.hpp"

namespace leewheel::draw {

Screen::Screen(float scale) : scale_(scale), canvas_(fonts_), road_(fonts_), riders_(fonts_) {}

void Screen::draw(sf::RenderTarget& target, const Scene& scene, bool whole_wake) {
  const auto size = target.getSize();
  hits_.clear();
  target.clear(colour(scene.palette().back));
  if (scene.controls.show) {
    draw_for_a_room(target, scene, whole_wake);
  } else {
    layout_ = view::make_layout(static_cast<float>(size.x), static_cast<float>(size.y), scale_, scene.controls.panels,
                                scene.controls.splits);
    draw_panels(target, scene, whole_wake);
    draw_bars(target, scene);
  }
  draw_over(target, scene);
}

void Screen::draw_for_a_room(sf::RenderTarget& target, const Scene& scene, bool whole_wake) {
  const auto size = target.getSize();
  const Rect window{0, 0, static_cast<float>(size.x), static_cast<float>(size.y)};
  const view::ShowLayout room = view::show_layout(window.w, window.h);
  layout_ = {};
  layout_.unit = room.unit, layout_.panels[view::riders_panel] = room.riders;
  riders_.draw(target, room.riders, room.unit, scene, hits_, whole_wake);
  road_.draw(target, room.road, room.unit, scene, hits_);
  canvas_.begin(room.unit);
  draw_show(canvas_, room, scene);
  draw_card(canvas_, room.riders, scene);
  canvas_.draw(target, window);
}

/// What lies over everything: the list of keys, or words beside the pointer.
void Screen::draw_over(sf::RenderTarget& target, const Scene& scene) {
  const auto size = target.getSize();
  const Rect window{0, 0, static_cast<float>(size.x), static_cast<float>(size.y)};
  const view::Pointer& at = scene.controls.pointer;
  canvas_.begin(layout_.unit);
  if (scene.controls.help)
    draw_help(canvas_, window, scene);
  else if (const auto pointed = at.inside && !scene.controls.filming ? pointed_at(at.x, at.y, scene) : std::nullopt)
    draw_hover(canvas_, window, scene, pointed->words);
  else
    return;
  canvas_.draw(target, window);
}

void Screen::draw_panels(sf::RenderTarget& target, const Scene& scene, bool whole_wake) {
  const auto& areas = layout_.panels;
  const float unit = layout_.unit;
  view::Camera& camera = scene.controls.camera;
  camera.shown_from_m = camera.shown_to_m = 0;
  if (!areas[view::riders_panel].empty()) riders_.draw(target, areas[view::riders_panel], unit, scene, hits_, whole_wake);
  if (!areas[view::road_panel].empty())
    road_.draw(target, areas[view::road_panel], unit, scene, hits_);  // marks what the view from above shows
  draw_numbers(target, scene, whole_wake);
}

void Screen::draw_numbers(sf::RenderTarget& target, const Scene& scene, bool exact) {
  constexpr int renewed_every = 5;  // pictures
  const auto one = [&](std::size_t k, view::Panel panel, auto&& fill) {
    Numbers& n = numbers_[k];
    const Rect& area = layout_.panels[panel];
    if (area.empty()) return;
    const auto& c = scene.controls;
    const Look look{layout_.unit, c.light, c.falling, c.playing, c.units, c.chosen, c.sort, c.scroll_rows};
    const bool renew = exact || look != n.look || --n.age <= 0;
    n.kept.draw(target, area, renew, [&](sf::RenderTarget& picture, sf::Vector2f origin) {
      n.hits.clear();
      canvas_.begin(layout_.unit);
      fill(area, n.hits);
      canvas_.draw(picture, area, origin);
      n.age = renewed_every;
    });
    n.look = look, n.look.scroll_rows = c.scroll_rows;  // the tallies put it within their rows
    hits_.riders.insert(hits_.riders.end(), n.hits.riders.begin(), n.hits.riders.end());
    hits_.headers.insert(hits_.headers.end(), n.hits.headers.begin(), n.hits.headers.end());
    hits_.lines.insert(hits_.lines.end(), n.hits.lines.begin(), n.hits.lines.end());
  };
  one(0, view::tally_panel, [&](const Rect& area, Hits& hits) { draw_tallies(canvas_, area, scene, hits); });
  one(1, view::why_panel, [&](const Rect& area, Hits&) { draw_why(canvas_, area, scene); });
  one(2, view::story_panel, [&](const Rect& area, Hits& hits) { draw_story(canvas_, area, scene, hits); });
}

void Screen::draw_bars(sf::RenderTarget& target, const Scene& scene) {
  const auto size = target.getSize();
  const Rect window{0, 0, static_cast<float>(size.x), static_cast<float>(size.y)};
  canvas_.begin(layout_.unit);
  draw_top(canvas_, layout_.top, scene);
  draw_timeline(canvas_, layout_.timeline, scene, hits_);
  draw_footer(canvas_, layout_.footer, scene);
  if (const Rect& bunch = layout_.panels[view::riders_panel]; !bunch.empty())
    draw_caption(canvas_, bunch, scene), draw_card(canvas_, bunch, scene);
  canvas_.draw(target, window);
}

std::optional<std::uint32_t> Screen::rider_at(float x, float y) const {
  for (auto hit = hits_.riders.rbegin(); hit != hits_.riders.rend(); ++hit)
    if (hit->area.contains(x, y)) return hit->rider;
  return {};
}

std::optional<view::Column> Screen::column_at(float x, float y) const {
  for (const auto& hit : hits_.headers)
    if (hit.area.contains(x, y)) return hit.column;
  return {};
}

bool Screen::on_mark(float x, float y) const {
  return std::ranges::any_of(hits_.lines, [&](const Hits::Line& hit) { return hit.area.contains(x, y); });
}

std::optional<Pointed> Screen::pointed_at(float x, float y, const Scene& scene) const {
  const auto& lines = scene.replay.story(scene.controls.units);
  for (auto hit = hits_.lines.rbegin(); hit != hits_.lines.rend(); ++hit)
    if (hit->area.contains(x, y) && hit->line < lines.size()) {
      const view::StoryLine& line = lines[hit->line];
      return Pointed{fmt::format("{}  {}", clock_text(line.from_s), line.words), line.from_s};
    }
  if (const auto column = column_at(x, y))
    for (const view::ColumnText& text : view::tally_columns())
      if (text.column == *column) return Pointed{fmt::format("{}: {}", text.title, text.meaning), {}};
  const Rect& profile = hits_.profile;
  if (!profile.contains(x, y)) return {};
  if (const auto rider = rider_at(x, y)) {
    const view::GroupView* group = view::group_of(scene.view, *rider);
    return Pointed{group ? view::members_words(*group, scene.view) : scene.view.riders[*rider].name, {}};
  }
  const double at_m = (x - profile.x) / std::max(1.0f, profile.w) * scene.replay.road().length_m();
  const std::uint32_t chosen = scene.controls.chosen;
  const auto of = scene.controls.strip_of_all ? std::nullopt : std::optional(chosen);
  return Pointed{view::profile_words(scene.replay, of, at_m, scene.controls.units), scene.replay.passing_s(chosen, at_m)};
}

std::optional<double> Screen::time_at(float x, float y, bool dragging, const Replay& replay) const {
  const Rect& line = hits_.timeline;
  if (!dragging && !line.contains(x, y)) return {};
  const double share = std::clamp((x - line.x) / std::max(1.0f, line.w), 0.0f, 1.0f);
  return replay.start_s() + share * (replay.end_s() - replay.start_s());
}

}  // namespace leewheel::draw
