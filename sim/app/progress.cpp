#include "app/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

namespace leewheel {

Progress::Progress(std::string label, bool wanted) : label_(std::move(label)), wanted_(wanted && isatty(STDERR_FILENO)) {}

Progress::~Progress() {
  if (drawn_) fmt::print(stderr, "\r\x1b[K");
}

void Progress::at(double share) {
  if (!wanted_ || Clock::now() < next_) return;
  constexpr int cells = 30;
  share = std::clamp(share, 0.0, 1.0);
  const int filled = static_cast<int>(std::lround(share * cells));
  const double passed_s = std::chrono::duration<double>(Clock::now() - begun_).count();
  const std::string left = share > 0.02 ? fmt::format(", about {:.0f} s left", passed_s * (1.0 - share) / share) : "";
  fmt::print(stderr, "\r{} {:▪<{}}{:·<{}} {:3.0f} %{}\x1b[K", label_, "", filled, "", cells - filled, share * 100.0, left);
  std::fflush(stderr);
  drawn_ = true;
  next_ = Clock::now() + std::chrono::milliseconds(100);
}

}  // namespace leewheel
