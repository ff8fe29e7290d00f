/// learned.yaml files of several rides, put together.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>

#include "io/clock_time.hpp"
#include "io/learned_file.hpp"
#include "leewheel/over_weeks.hpp"

namespace leewheel {

namespace {

/// Days since 1970; nothing without a date.
std::optional<double> day_of(const std::string& date) {
  const StartTime start = date_and_time(date + " 00:00");
  if (!start) return std::nullopt;
  return static_cast<double>(std::chrono::floor<std::chrono::days>(*start).time_since_epoch().count());
}

bool counts(const LearnedEntry& entry) {
  return !entry.rider.empty() && entry.sd > 0.0 && (entry.how_sure == "learned" || entry.how_sure == "a hint");
}

}  // namespace

std::vector<LearnedEntry> learned_over_weeks(const std::vector<std::string>& paths) {
  Faults faults;
  std::vector<LearnedFile> files;
  std::vector<double> days;
  for (const std::string& path : paths) {
    files.push_back(read_learned(path, faults));
    const auto day = day_of(files.back().date);
    if (!day && paths.size() > 1)
      faults.add(
          {path, 0, 0, "ride.date", "found no date, expected one beside other rides, as 2027-05-16: which is the older?"});
    days.push_back(day.value_or(0.0));
  }
  faults.throw_if_any();
  const double latest = *std::max_element(days.begin(), days.end());
  std::map<std::pair<std::string, std::string>, std::vector<LearnedOnce>> by_number;
  for (std::size_t k = 0; k < files.size(); ++k)
    for (const LearnedEntry& e : files[k].numbers)
      if (counts(e))
        by_number[{e.rider, e.number}].push_back(
            {fmt::format("{} {}", files[k].date, files[k].title), latest - days[k], e.value, e.sd, e.before, e.before_sd});
  std::vector<LearnedEntry> kept;
  for (const auto& [key, once] : by_number) {
    const LearnedOverWeeks all = over_weeks(once);
    const LearnedOnce& last =
        *std::min_element(once.begin(), once.end(), [](const auto& a, const auto& b) { return a.age_days < b.age_days; });
    const char* const sure = all.disagree ? "contradiction" : all.sd < last.before_sd / 3.0 ? "learned" : "a hint";
    kept.push_back({key.first, key.second, all.value, all.sd, last.before, last.before_sd, sure,
                    fmt::format("{}", fmt::join(all.rides, "; "))});
  }
  return kept;
}

}  // namespace leewheel
