#include "app/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <utility>

namespace leewheel {

constexpr std::chrono::seconds line_every{10};

std::string progress_line(std::string_view label, double done, double total, double passed_s) {
  constexpr int cells = 30;
  const double share = total > 0.0 ? std::clamp(done / total, 0.0, 1.0) : 0.0;
  const int filled = static_cast<int>(std::lround(share * cells));
  const std::string left = share > 0.02 ? fmt::format(", about {:.0f} s left", passed_s * (1.0 - share) / share) : "";
  return fmt::format("{} {:▪<{}}{:·<{}} {:3.0f} %{}", label, "", filled, "", cells - filled, share * 100.0, left);
}

Progress::Progress(std::string label, bool wanted)
    : label_(std::move(label)), wanted_(wanted), terminal_(isatty(STDERR_FILENO) != 0) {
  if (!terminal_) next_ = begun_ + line_every;
}

Progress::~Progress() {
  if (drawn_) fmt::print(stderr, "\r\x1b[K");
}

void Progress::at(double done, double total) {
  if (!wanted_ || Clock::now() < next_) return;
  const double passed_s = std::chrono::duration<double>(Clock::now() - begun_).count();
  if (!terminal_) {
    fmt::print(stderr, "{} {:.0f} %\n", label_, 100.0 * std::clamp(done / total, 0.0, 1.0));
    next_ = Clock::now() + line_every;
    return;
  }
  fmt::print(stderr, "\r{}\x1b[K", progress_line(label_, done, total, passed_s));
  std::fflush(stderr);
  drawn_ = true;
  next_ = Clock::now() + std::chrono::milliseconds(100);
}

}  // namespace leewheel
