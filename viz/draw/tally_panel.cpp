#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "viz/draw/scene.hpp"

namespace leewheel::draw {
namespace {

using namespace view;

constexpr double little_wbal = 0.15;  // below this share of W' the number carries a mark

float breadth(const std::vector<ColumnText>& columns) {
  float sum = 0;
  for (const ColumnText& column : columns) sum += column.least_px;
  return sum;
}

bool left_aligned(Column column) { return column == Column::rider; }

void draw_header(Canvas& c, const Rect& head, const std::vector<ColumnText>& columns, const Scene& scene, Hits& hits) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  c.fill(head, p.raised);
  const float stretch = head.w / breadth(columns);
  float x = head.x;
  for (const ColumnText& column : columns) {
    const Rect cell{x, head.y, column.least_px * stretch, head.h};
    const bool sorted = column.column == scene.controls.sort;
    const Rgb shade = sorted ? p.text : p.quiet;
    const float edge = left_aligned(column.column) ? cell.x + 4 * u : cell.right() - 6 * u;
    const Align align = left_aligned(column.column) ? Align::left : Align::right;
    c.text(edge, head.y + u, column.title, shade, Size::small, align, sorted);
    c.text(edge, head.y + 15 * u, column.unit, p.quiet, Size::small, align);
    if (sorted) {
      const float mx = left_aligned(column.column)
                           ? edge + 4 * u
                           : edge - 4 * u - c.text_width(column.unit, Size::small) - (*column.unit ? 6 * u : 0);
      const float my = head.y + 23 * u, way = scene.controls.falling ? 1.0f : -1.0f;
      c.triangle({mx, my + 4 * u * way}, {mx - 4 * u, my - 3 * u * way}, {mx + 4 * u, my - 3 * u * way}, p.text);
    }
    hits.headers.push_back({cell, column.column});
    x += cell.w;
  }
}

void draw_row(Canvas& c, const Rect& row, const std::vector<ColumnText>& columns, const Scene& scene, std::uint32_t rider) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const RiderView& r = scene.view.riders[rider];
  const bool chosen = rider == scene.controls.chosen;
  if (chosen) c.fill(row, p.chosen);
  const Rgb ink = chosen ? p.on_chosen : p.text;
  const float text_y = row.y + (row.h - c.line_height(Size::normal)) / 2;
  const float stretch = row.w / breadth(columns);
  float x = row.x;
  for (const ColumnText& column : columns) {
    const Rect cell{x, row.y, column.least_px * stretch, row.h};
    std::string words = cell_text(r, column.column);
    if (column.column == Column::rider) {
      c.text(cell.x + 4 * u, text_y, c.fonts().fitted(words, cell.w - 8 * u, Size::normal, u, chosen), ink, Size::normal,
             Align::left, chosen);
    } else if (column.column == Column::group) {
      if (r.group >= 0)
        c.fill({cell.x + 4 * u, row.y + row.h / 2 - 4 * u, 8 * u, 8 * u}, chosen ? p.on_chosen : p.group(r.group));
      c.text(cell.right() - 6 * u, text_y, words, ink, Size::normal, Align::right);
    } else if (column.column == Column::wbal) {
      const Rect bar{cell.x + 4 * u, row.y + row.h / 2 - 3 * u, std::max(4.0f, cell.w - 42 * u), 6 * u};
      c.frame(bar, chosen ? p.on_chosen : p.quiet);
      c.fill({bar.x, bar.y, bar.w * static_cast<float>(std::clamp(r.wbal_share, 0.0, 1.0)), bar.h},
             chosen ? p.on_chosen : p.quiet);
      const bool little = r.wbal_share < little_wbal;
      c.text(cell.right() - 6 * u, text_y, (little ? "! " : "") + words,
             chosen   ? ink
             : little ? p.warning
                      : ink,
             Size::normal, Align::right, little);
    } else {
      c.text(cell.right() - 6 * u, text_y, words, ink, Size::normal, Align::right);
    }
    x += cell.w;
  }
}

/// Who carried whom, at the foot of the table, as far as there is room.
void draw_whole_ride(Canvas& c, const Rect& room, const Scene& scene) {
  const Palette& p = scene.palette();
  const float u = c.unit(), line_h = std::round(16 * u);
  const auto& lines = scene.replay.give_and_take();
  const float needed = line_h * static_cast<float>(lines.size() + 1) + 4 * u;
  if (lines.empty() || room.h < needed) return;
  float y = room.bottom() - needed;
  c.text(room.x + 4 * u, y, "Over the whole ride", p.quiet, Size::small);
  for (const std::string& line : lines)
    c.text(room.x + 4 * u, y += line_h, c.fonts().fitted(line, room.w - 8 * u, Size::small, u), p.text, Size::small);
}

}  // namespace

Rect open_panel(Canvas& c, const Rect& area, const Palette& p, const std::string& title, const std::string& note) {
  const float u = c.unit(), head = std::round(20 * u);
  c.fill(area, p.panel);
  c.text(area.x + 8 * u, area.y + 2 * u, title, p.text, Size::normal, Align::left, true);
  const float from = 8 * u + c.text_width(title, Size::normal, true) + 14 * u;
  if (!note.empty() && area.w - from > 60 * u)
    c.text(area.x + from, area.y + 3 * u, c.fonts().fitted(note, area.w - from - 8 * u, Size::small, u), p.quiet,
           Size::small);
  return {area.x, area.y + head, area.w, std::max(0.0f, area.h - head)};
}

void draw_tallies(Canvas& c, const Rect& area, const Scene& scene, Hits& hits) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const auto rows = sorted_rows(scene.view, scene.controls.sort, scene.controls.falling);
  const float row_h = std::round(18 * u);
  const int room_rows = std::max(0, static_cast<int>((area.h - 20 * u - 32 * u) / row_h));
  const int chosen_row = static_cast<int>(std::ranges::find(rows, scene.controls.chosen) - rows.begin());
  const int most_first = std::max(0, static_cast<int>(rows.size()) - room_rows);
  const int kept_in_sight = std::clamp(chosen_row - room_rows / 2, 0, most_first);
  const int first = std::clamp(kept_in_sight + scene.controls.scroll_rows, 0, most_first);
  scene.controls.scroll_rows = first - kept_in_sight;
  const int last = std::min(static_cast<int>(rows.size()), first + room_rows);
  const std::string note = most_first > 0
                               ? fmt::format("rows {}\xE2\x80\x93{} of {}{}", first + 1, last, rows.size(),
                                             scene.controls.filming ? "" : "   \xC2\xB7   wheel scrolls, headings sort")
                               : std::string("saved by drafting, at the cranks");
  const Rect room = open_panel(c, area, p, "Tallies", note);
  const Rect table{room.x + 4 * u, room.y, room.w - 8 * u, room.h};
  const auto columns = columns_for(table.w / u);
  draw_header(c, {table.x, table.y, table.w, 32 * u}, columns, scene, hits);
  for (int k = first; k < last; ++k) {
    const Rect row{table.x, table.y + 32 * u + static_cast<float>(k - first) * row_h, table.w, row_h};
    draw_row(c, row, columns, scene, rows[static_cast<std::size_t>(k)]);
    if (k > first) c.fill({row.x, row.y, row.w, 1}, faded(p.line, 0.35));
    hits.riders.push_back({row, rows[static_cast<std::size_t>(k)]});
  }
  draw_whole_ride(c,
                  {table.x, table.y + 32 * u + static_cast<float>(last - first) * row_h, table.w,
                   table.h - 32 * u - static_cast<float>(last - first) * row_h},
                  scene);
}

}  // namespace leewheel::draw
