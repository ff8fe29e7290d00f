#pragma once
/// Times of day beside ride times, where the start is known: local time without a time zone.

#include <chrono>
#include <optional>
#include <string>

namespace leewheel {

class DayClock {
 public:
  explicit DayClock(std::optional<std::chrono::local_seconds> start) : start_(start) {}
  bool known() const { return start_.has_value(); }

  // Each is empty while the start is not known, and for a time that does not exist.
  /// "09:25" as a watch shows it, "00:35 +1 day" after midnight.
  std::string at(double time_s) const;
  /// "2027-05-16T09:25:44" (ISO 8601 without a zone).
  std::string iso(double time_s) const;
  /// "Sunday 16 May 2027".
  std::string date() const;

  /// "25:44 (09:25)", or the ride time alone.
  std::string beside(double time_s) const;

 private:
  std::optional<std::chrono::local_seconds> start_;
};

}  // namespace leewheel
