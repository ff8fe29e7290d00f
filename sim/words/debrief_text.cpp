/// The debrief on the terminal.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "words/day_clock.hpp"
#include "words/debrief_words.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

constexpr std::size_t page_columns = 120;

std::string lines_of(const std::string& heading, const std::vector<std::string>& lines, std::size_t most = 40) {
  if (lines.empty()) return "";
  std::string text = "\n" + heading + "\n";
  for (std::size_t k = 0; k < std::min(most, lines.size()); ++k) text += wrapped("  ", lines[k], page_columns);
  if (lines.size() > most) text += fmt::format("  and {} more in debrief.json\n", lines.size() - most);
  return text;
}

std::string head_of(const Debriefed& d) {
  std::string day;
  if (d.told.begin_s > 0.0) {
    const std::chrono::local_seconds start{std::chrono::seconds(std::lround(d.told.begin_s))};
    day = fmt::format(", {}, set off at {} UTC", DayClock(start).date(), DayClock(start).at(0.0));
  }
  return fmt::format("{}: {} of {} recorded{}\n", d.input.scenario.title, d.told.riders.size(),
                     counted(d.input.scenario.riders.size(), "rider"), day);
}

/// Rows are stretches, columns riders: planned and ridden time, and how much later.
std::string stretch_table(const Debriefed& d) {
  if (!d.told.planned || d.told.riders.empty()) return "";
  std::string text = "\nTimes by stretch: ridden, and against the plan (+ later, - sooner)\n  " + left_aligned("", 30);
  const std::size_t most = std::min<std::size_t>(d.told.riders.size(), 5);
  for (std::size_t r = 0; r < most; ++r) text += right_aligned(d.name(d.told.riders[r].rider), 17);
  text += "\n";
  for (const RoadStretch& where : stretches_of(d.input.scenario.road)) {
    text += "  " + left_aligned(where.from + " - " + where.to, 30);
    for (std::size_t r = 0; r < most; ++r) {
      const auto& stretches = d.told.riders[r].stretches;
      const auto found = std::find_if(stretches.begin(), stretches.end(),
                                      [&](const DebriefStretch& s) { return s.from == where.from && s.to == where.to; });
      const double later_s = found == stretches.end() ? 0.0 : found->ridden_s - found->planned_s;
      const std::string cell = found == stretches.end()
                                   ? "–"
                                   : fmt::format("{} {}{}", clock_text(found->ridden_s), later_s < -0.5 ? "-" : "+",
                                                 clock_text(std::abs(later_s)));
      text += right_aligned(cell, 17);
    }
    text += "\n";
  }
  if (d.told.riders.size() > most)
    text += fmt::format("  and {} more in debrief_stretches.csv\n", d.told.riders.size() - most);
  return text;
}

std::string numbers_told(const Debriefed& d) {
  std::vector<NumberRow> rows = strength_rows(d);
  for (const LearnedNumber& n : d.told.numbers) rows.push_back(number_row(d, n));
  if (rows.empty()) return "\nNumbers: none, for no recording has power enough to learn from.\n";
  std::string text = "\nWhat the ride tells of the numbers (one standard deviation)\n  " + left_aligned("", 40) +
                     left_aligned("before", 20) + left_aligned("after", 20) + "how sure\n";
  for (const NumberRow& row : rows) {
    const std::string lead = "  " + left_aligned(row.what, 40) + left_aligned(row.before, 20) + left_aligned(row.after, 20);
    text += wrapped(lead, row.sure + (row.says.empty() ? "" : ": " + row.says), page_columns + 30);
  }
  return text;
}

}  // namespace

std::string debrief_text(const Debriefed& d) {
  std::vector<std::string> time, recordings;
  for (const RiderDebrief& rider : d.told.riders) {
    if (d.told.planned)
      time.push_back(where_time_went(d, rider));
    else
      time.push_back(fmt::format("{}: ridden in {}, standing {}.", d.name(rider.rider), clock_text(rider.ridden_s),
                                 clock_text(rider.stood_s)));
    for (const std::string& remark : recording_remarks(d, rider)) recordings.push_back(remark);
  }
  for (const std::string& remark : whole_remarks(d)) recordings.push_back(remark);
  std::string text = head_of(d) + lines_of(d.told.planned ? "Where the time went" : "Times", time) + stretch_table(d) +
                     lines_of("Waits and stops", waits_told(d)) + lines_of("Who came off", came_off_told(d), 15) +
                     numbers_told(d) + lines_of("Recordings", recordings) + "\nCautions\n";
  for (const char* caution : debrief_cautions) text += wrapped("  ", caution, page_columns);
  return text;
}

}  // namespace leewheel
