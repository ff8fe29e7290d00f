#include "viz/app/remembered.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "io/atomic_file.hpp"
#include "io/fault.hpp"

namespace leewheel {
namespace {

std::filesystem::path state_folder() {
  const char* state = std::getenv("XDG_STATE_HOME");
  const char* home = std::getenv("HOME");
  if (state && *state) return std::filesystem::path(state) / "leewheel";
  if (home && *home) return std::filesystem::path(home) / ".local/state/leewheel";
  return {};
}

}  // namespace

Remembered recall() {
  Remembered r;
  std::ifstream in(state_folder() / "view");
  unsigned w = 0, h = 0;
  int light = 0, imperial = 0;
  view::Splits s;
  if (!(in >> w >> h >> light >> imperial >> s.road >> s.lower >> s.middle)) return r;
  r.width_px = std::clamp(w, 640u, 7680u), r.height_px = std::clamp(h, 480u, 4320u);
  r.light = light != 0, r.units = imperial != 0 ? view::Units::imperial : view::Units::metric;
  r.splits = {std::clamp(s.road, 0.15f, 0.6f), std::clamp(s.lower, 0.1f, 0.35f), std::clamp(s.middle, 0.15f, 0.85f)};
  return r;
}

void remember(const Remembered& r) {
  const auto folder = state_folder();
  if (folder.empty()) return;
  try {
    make_output_folder(folder.string());
    write_whole_file((folder / "view").string(),
                     fmt::format("{} {} {} {} {:.4f} {:.4f} {:.4f}\n", r.width_px, r.height_px, int{r.light},
                                 int{r.units == view::Units::imperial}, r.splits.road, r.splits.lower, r.splits.middle));
  } catch (const InputFault&) {
    // Forgetting the size of a window is no reason to complain.
  }
}

}  // namespace leewheel
