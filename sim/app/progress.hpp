#pragma once
/// How far a long run has come, on standard error: a bar on a terminal, silent for the first second; else a line now and then.
/// The caller gives numbers only: how much is done, of how much.

#include <chrono>
#include <string>
#include <string_view>

namespace leewheel {

/// "riding ▪▪▪▪▪▪▪▪▪▪▪▪▪▪▪···············  50 %, about 12 s left"; the time left once a fiftieth is done.
std::string progress_line(std::string_view label, double done, double total, double passed_s);

class Progress {
 public:
  Progress(std::string label, bool wanted);  ///< the run has started
  ~Progress();                               ///< it has finished: the line goes, so that what follows stands alone
  Progress(const Progress&) = delete;
  void at(double done, double total = 1.0);  ///< cheap to call often

 private:
  using Clock = std::chrono::steady_clock;
  std::string label_;
  bool wanted_, terminal_, drawn_ = false;
  Clock::time_point begun_ = Clock::now(), next_ = begun_ + std::chrono::seconds(1);
};

}  // namespace leewheel
