#pragma once
/// What the viewer remembers from one run to the next, in $XDG_STATE_HOME/leewheel/view (or ~/.local/state).

#include "viz/view/controls.hpp"

namespace leewheel {

struct Remembered {
  unsigned width_px = 1280, height_px = 720;
  bool light = false;
  view::Units units = view::Units::metric;
  view::Splits splits;
};

Remembered recall();                    ///< what cannot be read takes its default
void remember(const Remembered& what);  ///< silent when the place cannot be written
}  // namespace leewheel
