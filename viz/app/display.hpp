#pragma once

namespace leewheel {

/// True if an X display answers. Asked before anything of SFML is touched: without a display SFML ends the process.
/// From then on a display that goes away ends the program with one line and exit code 3, at once.
bool display_answers();

}  // namespace leewheel
