#pragma once

namespace leewheel {

/// True if an X display answers. Asked before anything of SFML is touched: without a display SFML ends the process.
bool display_answers();

}  // namespace leewheel
