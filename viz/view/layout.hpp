#pragma once
/// Where things stand in the window, in pixels; and a rule that keeps labels from lying on one another.

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

namespace leewheel::view {

struct Rect {
  float x = 0, y = 0, w = 0, h = 0;
  float right() const { return x + w; }
  float bottom() const { return y + h; }
  bool empty() const { return w <= 0 || h <= 0; }
  bool contains(float px, float py) const { return px >= x && px < right() && py >= y && py < bottom(); }
  bool overlaps(const Rect& o) const { return x < o.right() && o.x < right() && y < o.bottom() && o.y < bottom(); }
};

enum Panel : std::size_t { road_panel, riders_panel, tally_panel, why_panel, story_panel, panel_count };
using PanelFlags = std::array<bool, panel_count>;

/// Shares of the free room, moved by dragging the lines between panels.
struct Splits {
  float road = 0.43f;     ///< of the height
  float lower = 0.235f;   ///< of the height
  float middle = 0.465f;  ///< of the width, left of the line
};

enum class Divider { road, lower, middle };

struct Layout {
  Rect top, timeline, footer;
  std::array<Rect, panel_count> panels;  ///< empty when hidden
  Rect free;                             ///< what panels share
  float unit = 1;                        ///< pixels of one design pixel
  bool upright = false;                  ///< panel under panel, without dividers
};

/// What a room sees: profile, bunch, one sentence, one number.
struct ShowLayout {
  Rect head, sentence, road, riders, number, footer;
  float unit = 1;  ///< the smallest text, 12 design pixels, is 24 pixels at 1080 lines
};
ShowLayout show_layout(float width_px, float height_px);

/// One design pixel grows with the window (1 at 1280 x 720, 1.25 at 1920 x 1080 and 1080 x 1920) and with `scale`.
float design_unit(float width_px, float height_px, float scale);
Layout make_layout(float width_px, float height_px, float scale, const PanelFlags& visible, const Splits& splits);
std::optional<Divider> divider_at(const Layout& layout, float x, float y);
void drag_divider(const Layout& layout, Divider divider, float x, float y, Splits& splits);

/// Takes a label only where no earlier one lies, up to a thousand: beyond that nobody could read them.
class LabelPlacer {
 public:
  bool take(const Rect& label);
  void clear() { taken_.clear(); }

 private:
  std::vector<Rect> taken_;
};

}  // namespace leewheel::view
