#pragma once
/// How far a long run has come, on a terminal's standard error. Silent when it is no terminal, and for the first second.

#include <chrono>
#include <string>

namespace leewheel {

class Progress {
 public:
  Progress(std::string label, bool wanted);
  ~Progress();  ///< wipes the line, so that what follows stands alone
  Progress(const Progress&) = delete;
  void at(double share);  ///< of the whole, 0 to 1; cheap to call often

 private:
  using Clock = std::chrono::steady_clock;
  std::string label_;
  bool wanted_, drawn_ = false;
  Clock::time_point begun_ = Clock::now(), next_ = begun_ + std::chrono::seconds(1);
};

}  // namespace leewheel
