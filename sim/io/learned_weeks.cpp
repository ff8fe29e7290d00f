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
  const bool faded = !entry.rests_on.empty() && entry.how_sure == "not learned";  // goes on fading
  return !entry.rider.empty() && entry.sd > 0.0 && (entry.how_sure == "learned" || entry.how_sure == "a hint" || faded);
}

/// Critical power comes of an all-out effort alone: what was believed before is not in it.
bool holds_belief(const LearnedEntry& entry) { return entry.number != "critical_power_W"; }
constexpr double least_critical_power_share = 0.05;  // Karsten et al. 2015, EJAP 115:197, from memory: however many efforts

struct Counted {
  const LearnedEntry* entry;
  LearnedOnce once;
};
using ByNumber = std::map<std::pair<std::string, std::string>, std::vector<Counted>>;

std::string ride_name(const LearnedFile& file, const LearnedEntry& entry) {
  if (!entry.rests_on.empty()) return entry.rests_on;
  return file.date.empty() ? file.title : file.date + " " + file.title;
}

/// One of them rests on the other, or both on the same.
bool same_ride(const std::string& a, const std::string& b) {
  const auto among = [](const std::string& one, const std::string& list) {
    return ("; " + list + "; ").find("; " + one + "; ") != std::string::npos;
  };
  return among(a, b) || among(b, a);
}

void add_numbers(const std::string& path, const LearnedFile& file, double age_days, ByNumber& all, Faults& faults) {
  bool told = false;
  for (const LearnedEntry& e : file.numbers) {
    if (!counts(e)) continue;
    std::vector<Counted>& others = all[{e.rider, e.number}];
    const std::string name = ride_name(file, e);
    const bool again =
        std::any_of(others.begin(), others.end(), [&](const Counted& o) { return same_ride(o.once.ride, name); });
    if (again && !told)
      faults.add({path, 0, 0, "ride", fmt::format("found {} a second time, expected each ride once", shown(name))});
    told = told || again;
    others.push_back({&e, {name, age_days, e.value, e.sd, e.before, holds_belief(e) ? e.before_sd : 0.0}});
  }
}

LearnedEntry put_together(const std::vector<Counted>& counted) {
  std::vector<LearnedOnce> once;
  for (const Counted& c : counted) once.push_back(c.once);
  const LearnedOverWeeks all = over_weeks(once);
  const Counted& last = *std::min_element(counted.begin(), counted.end(),
                                          [](const auto& a, const auto& b) { return a.once.age_days < b.once.age_days; });
  LearnedEntry kept = *last.entry;
  kept.value = all.value, kept.sd = all.sd, kept.recording.clear();
  kept.rests_on = fmt::format("{}", fmt::join(all.rides, "; "));
  if (!holds_belief(kept)) kept.sd = std::max(kept.sd, least_critical_power_share * kept.value);
  const double share = holds_belief(kept) ? all.sd / kept.before_sd : 0.0;
  kept.how_sure = all.disagree        ? "contradiction"
                  : share < 1.0 / 3.0 ? "learned"
                  : share < 2.0 / 3.0 ? "a hint"
                                      : "not learned";
  return kept;
}

}  // namespace

LearnedWeeks learned_over_weeks(const std::vector<std::string>& paths, const std::string& on) {
  Faults faults;
  std::vector<LearnedFile> files;
  LearnedWeeks kept;
  for (const std::string& path : paths) {
    files.push_back(read_learned(path, faults));
    const std::string& date = files.back().date;
    const auto day = day_of(date);
    if (!day && (paths.size() > 1 || !date.empty()))
      faults.add({path, 0, 0, "ride.date", "found no date, expected one as 2027-05-16: which ride is the older?"});
    if (day && (kept.date.empty() || date > kept.date)) kept.date = date;
  }
  faults.throw_if_any();
  if (!kept.date.empty() && on > kept.date) kept.date = on;
  const double now = day_of(kept.date).value_or(0.0);
  ByNumber by_number;
  for (std::size_t k = 0; k < files.size(); ++k)
    add_numbers(paths[k], files[k], now - day_of(files[k].date).value_or(now), by_number, faults);
  faults.throw_if_any();
  for (const auto& [key, counted] : by_number) kept.numbers.push_back(put_together(counted));
  return kept;
}

}  // namespace leewheel
