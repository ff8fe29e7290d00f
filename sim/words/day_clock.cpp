#include "words/day_clock.hpp"

#include <fmt/format.h>

#include <cmath>

#include "words/plain_text.hpp"

namespace leewheel {

namespace {

namespace chrono = std::chrono;

chrono::local_seconds later(chrono::local_seconds start, double time_s) {
  return start + chrono::seconds(std::lround(time_s));
}

std::string day_text(chrono::local_days day) {
  const chrono::year_month_day date(day);
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                     static_cast<unsigned>(date.day()));
}

}  // namespace

std::string DayClock::at(double time_s) const {
  if (!start_ || !std::isfinite(time_s)) return "";
  const chrono::local_seconds moment = later(*start_, time_s);
  const auto day = chrono::floor<chrono::days>(moment), first = chrono::floor<chrono::days>(*start_);
  const chrono::hh_mm_ss of_day(moment - day);
  const long days = (day - first).count();
  return fmt::format("{:02}:{:02}", of_day.hours().count(), of_day.minutes().count()) +
         (days == 0 ? "" : fmt::format(" {:+} day{}", days, std::abs(days) == 1 ? "" : "s"));
}

std::string DayClock::iso(double time_s) const {
  if (!start_ || !std::isfinite(time_s)) return "";
  const chrono::local_seconds moment = later(*start_, time_s);
  const auto day = chrono::floor<chrono::days>(moment);
  const chrono::hh_mm_ss of_day(moment - day);
  return fmt::format("{}T{:02}:{:02}:{:02}", day_text(day), of_day.hours().count(), of_day.minutes().count(),
                     of_day.seconds().count());
}

std::string DayClock::date() const {
  if (!start_) return "";
  constexpr const char* days[] = {"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"};
  constexpr const char* months[] = {"January", "February", "March",     "April",   "May",      "June",
                                    "July",    "August",   "September", "October", "November", "December"};
  const auto day = chrono::floor<chrono::days>(*start_);
  const chrono::year_month_day date(day);
  return fmt::format("{} {} {} {}", days[chrono::weekday(day).c_encoding()], static_cast<unsigned>(date.day()),
                     months[static_cast<unsigned>(date.month()) - 1], static_cast<int>(date.year()));
}

std::string DayClock::beside(double time_s) const {
  const std::string clock = at(time_s);
  return clock.empty() ? clock_text(time_s) : fmt::format("{} ({})", clock_text(time_s), clock);
}

}  // namespace leewheel
