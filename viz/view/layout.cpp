#include "viz/view/layout.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel::view {
namespace {

constexpr float gutter = 4;  // between panels, and where a divider can be caught

struct Heights {
  float road, middle, lower;
};

Heights heights(float free_h, const PanelFlags& visible, const Splits& splits) {
  const bool has_road = visible[road_panel];
  const bool has_middle = visible[riders_panel] || visible[tally_panel];
  const bool has_lower = visible[why_panel] || visible[story_panel];
  float road = has_road ? splits.road : 0, lower = has_lower ? splits.lower : 0;
  float middle = has_middle ? std::max(0.1f, 1 - splits.road - splits.lower) : 0;
  const float sum = road + middle + lower;
  if (sum <= 0) return {0, 0, 0};
  if (has_middle)
    middle = std::max(0.0f, 1 - road - lower);
  else
    road /= sum, lower /= sum;
  return {road * free_h, middle * free_h, lower * free_h};
}

void place_row(const Rect& row, float middle, float gap, bool left_shown, bool right_shown, Rect& left, Rect& right) {
  if (row.h <= 0) return;
  const float left_w = !right_shown ? row.w : !left_shown ? 0 : std::round(row.w * middle);
  const float before = std::floor(gap / 2), after = gap - before;  // whole pixels, so that letters stay sharp
  if (left_shown) left = {row.x, row.y, left_w - (right_shown ? before : 0), row.h};
  if (right_shown)
    right = {row.x + left_w + (left_shown ? after : 0), row.y, row.w - left_w - (left_shown ? after : 0), row.h};
}

/// Upright: panel under panel.
void stack(Layout& out, const PanelFlags& visible) {
  constexpr std::array<float, panel_count> shares{0.30f, 0.19f, 0.19f, 0.15f, 0.17f};
  const float gap = std::round(gutter * out.unit);
  float sum = 0;
  for (std::size_t k = 0; k < panel_count; ++k) sum += visible[k] ? shares[k] : 0;
  float from = 0;
  for (std::size_t k = 0; k < panel_count; ++k) {
    if (!visible[k]) continue;
    const float to = from + shares[k] / sum, y = std::round(out.free.y + from * out.free.h);
    out.panels[k] = {out.free.x, y, out.free.w, std::round(out.free.y + to * out.free.h) - y - gap};
    from = to;
    if (out.panels[k].h < 1) out.panels[k] = {};
  }
  out.upright = true;
}

}  // namespace

float design_unit(float width_px, float height_px, float scale) {
  const float longer = std::max(width_px, height_px), shorter = std::min(width_px, height_px);
  return scale * std::clamp(std::min(longer / 1536.0f, shorter / 864.0f), 1.0f, 3.0f);
}

Layout make_layout(float width_px, float height_px, float scale, const PanelFlags& visible, const Splits& splits) {
  Layout out;
  const float u = out.unit = design_unit(width_px, height_px, scale);
  const float gap = std::round(gutter * u);
  out.top = {0, 0, width_px, std::round(32 * u)};
  out.footer = {0, height_px - std::round(38 * u), width_px, std::round(38 * u)};
  out.timeline = {0, out.footer.y - std::round(36 * u), width_px, std::round(36 * u)};
  out.free = {gap, out.top.bottom(), width_px - 2 * gap, std::max(0.0f, out.timeline.y - out.top.bottom())};

  if (height_px > 1.2f * width_px) {
    stack(out, visible);
    return out;
  }
  const Heights h = heights(out.free.h, visible, splits);
  const float middle_y = std::round(out.free.y + h.road), lower_y = std::round(middle_y + h.middle);
  if (h.road > 0) out.panels[road_panel] = {out.free.x, out.free.y, out.free.w, middle_y - out.free.y - gap};
  const Rect middle{out.free.x, middle_y, out.free.w, lower_y - middle_y - gap};
  const Rect lower{out.free.x, lower_y, out.free.w, out.free.bottom() - lower_y - gap};
  place_row(middle, splits.middle, gap, visible[riders_panel], visible[tally_panel], out.panels[riders_panel],
            out.panels[tally_panel]);
  place_row(lower, splits.middle, gap, visible[why_panel], visible[story_panel], out.panels[why_panel],
            out.panels[story_panel]);
  for (Rect& panel : out.panels)
    if (panel.w < 1 || panel.h < 1) panel = {};
  return out;
}

ShowLayout show_layout(float width_px, float height_px) {
  ShowLayout out;
  const float u = out.unit = std::max(1.0f, 2 * std::min(width_px, height_px) / 1080);
  const float gap = std::round(gutter * u);
  const bool stacked = width_px < 1.3f * height_px;
  const auto row = [&](float y, float h) { return Rect{gap, std::round(y), width_px - 2 * gap, std::round(h)}; };
  out.head = {0, 0, width_px, std::round(34 * u)};
  out.sentence = row(out.head.bottom(), (stacked ? 90 : 60) * u);
  out.footer = {0, height_px - std::round(20 * u), width_px, std::round(20 * u)};
  const float top = out.sentence.bottom(), free_h = out.footer.y - top;
  out.road = row(top, (stacked ? 0.44f : 0.53f) * free_h - gap);
  const float lower = out.road.bottom() + gap;
  out.riders = row(lower, (stacked ? 0.32f * free_h : out.footer.y - lower) - gap);
  if (stacked) {
    out.number = row(out.riders.bottom() + gap, out.footer.y - out.riders.bottom() - 2 * gap);
    return out;
  }
  out.riders.w = std::round(0.68f * out.riders.w);
  out.number = {out.riders.right() + gap, out.riders.y, width_px - gap - out.riders.right() - gap, out.riders.h};
  return out;
}

std::optional<Divider> divider_at(const Layout& layout, float x, float y) {
  if (layout.upright) return {};  // panel under panel, of fixed shares
  const float reach = gutter * layout.unit;
  const auto& p = layout.panels;
  const auto near = [reach](float a, float b) { return std::abs(a - b) <= reach; };
  const bool middle_shown = !p[riders_panel].empty() || !p[tally_panel].empty();
  const Rect& any_middle = p[riders_panel].empty() ? p[tally_panel] : p[riders_panel];
  const Rect& any_lower = p[why_panel].empty() ? p[story_panel] : p[why_panel];
  if (!layout.free.contains(x, y)) return {};
  if (!p[road_panel].empty() && middle_shown && near(y, p[road_panel].bottom() + reach / 2)) return Divider::road;
  if (middle_shown && !any_lower.empty() && near(y, any_middle.bottom() + reach / 2)) return Divider::lower;
  if (!p[riders_panel].empty() && !p[tally_panel].empty() && near(x, p[riders_panel].right() + reach / 2) &&
      y > any_middle.y && y < any_middle.bottom())
    return Divider::middle;
  return {};
}

void drag_divider(const Layout& layout, Divider divider, float x, float y, Splits& splits) {
  const float share_y = (y - layout.free.y) / std::max(1.0f, layout.free.h);
  const float share_x = (x - layout.free.x) / std::max(1.0f, layout.free.w);
  switch (divider) {
    case Divider::road: splits.road = std::clamp(share_y, 0.15f, 0.85f - splits.lower); break;
    case Divider::lower: splits.lower = std::clamp(1 - share_y, 0.10f, 0.85f - splits.road); break;
    case Divider::middle: splits.middle = std::clamp(share_x, 0.15f, 0.85f); break;
  }
}

bool LabelPlacer::take(const Rect& label) {
  for (const Rect& other : taken_)
    if (other.overlaps(label)) return false;
  if (taken_.size() >= 1000) return false;
  taken_.push_back(label);
  return true;
}

}  // namespace leewheel::view
