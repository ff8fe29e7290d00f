#include "io/clock_time.hpp"

#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <limits>
#include <string>

#include "io/plain_number.hpp"

namespace leewheel {

namespace {

namespace chrono = std::chrono;

/// Reads numbers off the front of a text.
class Digits {
 public:
  explicit Digits(std::string_view text) : left_(text) {}
  bool done() const { return left_.empty(); }
  bool mark(char wanted) {
    if (left_.empty() || left_.front() != wanted) return false;
    left_.remove_prefix(1);
    return true;
  }
  /// From `least` to `most` digits.
  std::optional<int> number(std::size_t least, std::size_t most) {
    std::size_t count = 0;
    int value = 0;
    for (; count < most && count < left_.size() && left_[count] >= '0' && left_[count] <= '9'; ++count)
      value = 10 * value + (left_[count] - '0');
    if (count < least) return std::nullopt;
    left_.remove_prefix(count);
    return value;
  }

 private:
  std::string_view left_;
};

/// "09:30" or "09:30:15" up to the end.
std::optional<chrono::seconds> time_of_day(Digits& text) {
  const auto hour = text.number(1, 2);
  if (!hour || *hour > 23 || !text.mark(':')) return std::nullopt;
  const auto minute = text.number(2, 2);
  if (!minute || *minute > 59) return std::nullopt;
  int second = 0;
  if (text.mark(':')) {
    const auto given = text.number(2, 2);
    if (!given || *given > 59) return std::nullopt;
    second = *given;
  }
  if (!text.done()) return std::nullopt;
  return chrono::hours(*hour) + chrono::minutes(*minute) + chrono::seconds(second);
}

constexpr double day_s = 86400.0;

/// Of a time of day; a step of more than 18 hours is rather a mistake than the next day.
std::optional<double> after_start_s(chrono::seconds of_day, chrono::local_seconds start, std::optional<double> after_s) {
  constexpr double longest_step_s = 18.0 * 3600.0;
  const chrono::seconds start_of_day = start - chrono::floor<chrono::days>(start);
  const double apart_s = static_cast<double>((of_day - start_of_day).count());
  if (!after_s) return apart_s - day_s * std::round(apart_s / day_s);
  const double time_s = apart_s + day_s * std::ceil((*after_s - apart_s) / day_s);
  return time_s - *after_s > longest_step_s ? std::nullopt : std::optional(time_s);
}

}  // namespace

/// "2027-05-16 09:00", or with a T between.
StartTime date_and_time(std::string_view text) {
  Digits digits(text);
  const auto year = digits.number(4, 4);
  if (!year || !digits.mark('-')) return std::nullopt;
  const auto month = digits.number(2, 2);
  if (!month || !digits.mark('-')) return std::nullopt;
  const auto day = digits.number(2, 2);
  if (!day || !(digits.mark(' ') || digits.mark('T'))) return std::nullopt;
  const chrono::year_month_day date{chrono::year(*year), chrono::month(static_cast<unsigned>(*month)),
                                    chrono::day(static_cast<unsigned>(*day))};
  const auto time = time_of_day(digits);
  if (!date.ok() || !time) return std::nullopt;
  return chrono::local_days(date) + *time;
}

StartTime read_start(const YamlValue& value) {
  std::string text;
  if (!value.text(text)) return std::nullopt;
  const StartTime start = date_and_time(text);
  if (!start) value.refuse("a date and a time of day, such as 2027-05-16 09:00");
  return start;
}

bool read_clock_time(const YamlValue& value, const StartTime& start, std::optional<double> after_s, double& time_s) {
  std::string text;
  if (!value.text(text)) return false;
  Digits digits(text);
  const StartTime moment = date_and_time(text);
  const auto of_day = time_of_day(digits);
  if (!moment && !of_day) {
    value.refuse("a time of day, such as \"10:30\", or a date with one, such as 2027-05-16 10:30");
    return false;
  }
  if (!start) {
    value.refuse("time_min, since the scenario tells no start (start: 2027-05-16 09:00)");
    return false;
  }
  const auto found_s =
      moment ? std::optional(static_cast<double>((*moment - *start).count())) : after_start_s(*of_day, *start, after_s);
  if (!found_s) {
    value.refuse("a time of day after the one before, or a date with it where the next day is meant");
    return false;
  }
  if (std::abs(*found_s) > 7.0 * day_s) {
    value.refuse("a time within seven days of the start");
    return false;
  }
  time_s = *found_s;
  return true;
}

double seconds_since_1970(std::string_view text, bool& zoned) {
  const std::string time(trimmed(text));
  int year = 0, month = 0, day = 0, hour = 0, minute = 0, used = 0;
  double second = 0.0;
  if (std::sscanf(time.c_str(), "%4d-%2d-%2dT%2d:%2d:%lf%n", &year, &month, &day, &hour, &minute, &second, &used) != 6)
    return std::numeric_limits<double>::quiet_NaN();
  const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok() || hour > 24 || minute > 59 || !(second >= 0.0 && second < 61.0))
    return std::numeric_limits<double>::quiet_NaN();
  int zone_hour = 0, zone_minute = 0;
  char sign = ' ';
  const int found = std::sscanf(time.c_str() + used, "%c%2d:%2d", &sign, &zone_hour, &zone_minute);
  zoned = sign == 'Z' || sign == 'z' || ((sign == '+' || sign == '-') && found >= 2);
  const double zone_s = (sign == '-' ? -1.0 : 1.0) * (3600.0 * zone_hour + 60.0 * zone_minute);
  return 86400.0 * static_cast<double>(std::chrono::sys_days(date).time_since_epoch().count()) + 3600.0 * hour +
         60.0 * minute + second - zone_s;
}

}  // namespace leewheel
