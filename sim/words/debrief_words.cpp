/// Sentences of the debrief: time, recordings, waits and company.

#include "words/debrief_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "words/plain_text.hpp"

namespace leewheel {

namespace {

std::string place_text(const Debriefed& d, double at_m) {
  const auto mark = landmark_near(d.input.scenario.road, at_m);
  if (mark) return d.input.scenario.road.landmarks()[*mark].name;
  return fmt::format("{} {:.1f}", d.units.way_name(), d.units.way(at_m));
}

std::vector<std::string> names(const Debriefed& d, const std::vector<std::size_t>& riders) {
  std::vector<std::string> list;
  for (const std::size_t rider : riders) list.push_back(d.name(rider));
  return list;
}

/// Without its folders, which are nobody's business on a page that is handed on.
std::string file_of(const Debriefed& d, const RiderDebrief& rider) {
  const std::string& path = d.input.recordings[rider.recording].file;
  return path.substr(path.find_last_of('/') + 1);
}

}  // namespace

std::string later_text(double s) {
  if (std::lround(s) == 0) return "the same";
  return clock_text(std::abs(s)) + (s > 0.0 ? " later" : " sooner");
}

const char* factor_text(Factor factor) {
  static constexpr const char* texts[] = {"waits and stops", "effort", "wind", "company", "rider and road", "what is left"};
  return texts[static_cast<std::size_t>(factor)];
}

double too_small_s(const RiderDebrief& rider) {
  double sum_s = 0.0;
  for (std::size_t k = 0; k < factors; ++k)
    if (!rider.told[k]) sum_s += rider.part_s[k];
  return sum_s;
}

namespace {
std::string no_power_text(const RiderDebrief& rider) {
  constexpr double nearly_all = 0.98;
  if (!rider.has_part(Factor::effort))
    return " No effort part, for no power was recorded: what effort did is in what is left.";
  if (rider.power_share > nearly_all) return "";
  return fmt::format(
      " No power was recorded on {:.0f} % of the way: there the effort is taken as planned, and what it did is in what is "
      "left.",
      100.0 * (1.0 - rider.power_share));
}
}  // namespace

std::string where_time_went(const Debriefed& d, const RiderDebrief& rider) {
  std::vector<std::string> parts;
  for (std::size_t k = 0; k < factors; ++k) {
    if (!rider.told[k]) continue;
    const bool sure = rider.part_sd_s[k] < 1.0;
    parts.push_back(fmt::format("{} {}{}", factor_text(static_cast<Factor>(k)), later_text(rider.part_s[k]),
                                sure ? "" : fmt::format(" (± {})", clock_text(rider.part_sd_s[k]))));
  }
  const double small_s = too_small_s(rider);
  if (std::lround(small_s) != 0) parts.push_back("too small to tell " + later_text(small_s));
  return fmt::format("{}: planned {}, ridden {}, {}: {}.{}", d.name(rider.rider), clock_text(rider.planned_s),
                     clock_text(rider.ridden_s), later_text(rider.ridden_s - rider.planned_s), enumerated(parts),
                     no_power_text(rider));
}

namespace {

std::string clock_remark(const Debriefed& d, const RiderDebrief& rider) {
  const double shift_s = rider.notes.clock_shift_s;
  constexpr double half_hour_s = 1800.0, near_s = 60.0;
  const double zones_s = half_hour_s * std::round(std::abs(shift_s) / half_hour_s);
  if (zones_s > 0.0 && std::abs(std::abs(shift_s) - zones_s) < near_s)
    return fmt::format(
        "the clock is {:g} h {}, a time zone? ({:.0f} s, by when {} rode near the others); it was set right here",
        zones_s / 3600.0, shift_s > 0.0 ? "late" : "early", std::abs(shift_s), d.name(rider.rider));
  if (shift_s != 0.0)
    return fmt::format("the clock is {:.0f} s {} by when {} rode near the others; it was set right here", std::abs(shift_s),
                       shift_s > 0.0 ? "late" : "early", d.name(rider.rider));
  if (!rider.notes.clock_compared && d.told.riders.size() > 1)
    return "the clock cannot be compared, for nobody else was near for a minute: who was with whom rests on the clock alone";
  return "";
}

std::string heart_remark(const HeartTold& heart) {
  switch (heart.quiet) {
    case HeartQuiet::told:
      return fmt::format("after setting off the heart rate took {:.0f} s for 63 % of its rise; the ride assumes {:.0f} s",
                         heart.rise_s, heart.assumed_s);
    case HeartQuiet::none_recorded: return "nothing is told of the heart rate, for none was recorded in the first minutes";
    case HeartQuiet::short_ride: return "nothing is told of the heart rate, for the ride is shorter than seven minutes";
    case HeartQuiet::no_power:
      return "nothing is told of the heart rate's rise, for without power nobody knows whether the effort was steady";
    case HeartQuiet::effort_changed:
      return "nothing is told of the heart rate's rise, for the effort changed within the first seven minutes; seven steady "
             "minutes after setting off would tell";
    case HeartQuiet::no_rise:
      return "nothing is told of the heart rate's rise, for it was up when the ride began; a recording from a quiet heart "
             "on "
             "would tell";
  }
  return "";
}

std::string power_remark(const Debriefed& d, const RiderDebrief& rider) {
  const RecordingFacts& facts = rider.notes.facts;
  if (d.input.recordings[rider.recording].silent_meter)
    return "power is 0 W at every point, so it is taken as not recorded: times only, no number is learned; look at the "
           "meter's battery and pairing";
  if (facts.interval_s > coarse_interval_s)
    return fmt::format("a point every {:.0f} s is too coarse to learn from: times only; set the device to a point a second",
                       facts.interval_s);
  if (facts.power_missing_share == 1.0) return "no power was recorded: times only, no number is learned";
  if (facts.power_missing_share >= most_power_missing)
    return fmt::format("power is missing for {:.0f} % of the time: times only, no number is learned; look at the sensor",
                       100.0 * facts.power_missing_share);
  return "";
}

}  // namespace

std::vector<std::string> recording_remarks(const Debriefed& d, const RiderDebrief& rider) {
  std::vector<std::string> told;
  const RecordingNotes& notes = rider.notes;
  const Road& road = d.input.scenario.road;
  const auto add = [&](const std::string& text) {
    if (!text.empty()) told.push_back(fmt::format("{} ({}): {}.", d.name(rider.rider), file_of(d, rider), text));
  };
  add(clock_remark(d, rider));
  add(power_remark(d, rider));
  if (notes.fastest_mps < walking_mps)
    add(fmt::format("never faster than {:.1f} {}, so it may be a walk", d.units.speed(notes.fastest_mps),
                    d.units.speed_name()));
  if (notes.off_points > 0)
    add(fmt::format("{} off the road between its first point on it and its last, the first in line {}; they are left out",
                    counted(notes.off_points, "point"), d.input.recordings[rider.recording].points[notes.first_off].line));
  if (notes.lost_s >= 10.0)
    add(fmt::format("no place for {} in all; what lies between is taken as even", clock_text(notes.lost_s)));
  if (rider.to_m < road.length_m() - 100.0)
    add(fmt::format("ends at {}; compared as far as there", place_text(d, rider.to_m)));
  if (rider.from_m > 200.0) add(fmt::format("begins at {}; compared from there", place_text(d, rider.from_m)));
  if (notes.start_delay_s >= 10.0) add(fmt::format("set off {} after the first", clock_text(notes.start_delay_s)));
  if (notes.own_zero) add("set off at another time than the others: times count from the own start");
  if (std::abs(notes.elevation_worst_m) > told_elevation_m)
    add(fmt::format(
        "recorded elevation is {:.0f} m {} the road's at {}, offset and drift taken off; the road's is used: is it "
        "this road, and is its elevation right there?",
        std::abs(notes.elevation_worst_m), notes.elevation_worst_m > 0.0 ? "above" : "below",
        place_text(d, notes.elevation_worst_at_m)));
  if (std::abs(notes.elevation_offset_m) > told_elevation_m)
    add(fmt::format(
        "recorded elevation is {:.0f} m {} the road's from start to finish: taken for an offset of the device, and "
        "the road's is used",
        std::abs(notes.elevation_offset_m), notes.elevation_offset_m > 0.0 ? "above" : "below"));
  if (d.heart_rate) add(heart_remark(rider.heart));
  return told;
}

std::vector<std::string> whole_remarks(const Debriefed& d) {
  std::vector<std::string> told;
  if (!d.told.planned)
    told.push_back(
        "No scenario: nobody described the riders, so they begin with usual numbers, known as little as those of anybody, "
        "and "
        "the road has one surface. A scenario with mass and critical power tells more.");
  if (!d.told.unrecorded.empty() && d.told.planned)
    told.push_back(
        fmt::format("No recording of {}: where the plan has their company, riders may have had it unseen, so such time "
                    "does not count as ridden alone. --alone names a recording ridden without any.",
                    enumerated_briefly(names(d, d.told.unrecorded))));
  if (d.told.blocks > 0 && d.told.misfit > 1.7)
    told.push_back(
        fmt::format("The balance of energy misses by {:.1f} times what noise explains; the spreads are widened. Look at "
                    "the surface, the wind by the hour and unrecorded company.",
                    d.told.misfit));
  return told;
}

std::vector<std::string> waits_told(const Debriefed& d) {
  std::vector<std::string> told;
  for (const RiderDebrief& rider : d.told.riders)
    for (const DebriefStand& stand : rider.stands) {
      std::string plan;
      if (d.told.planned)
        plan = stand.planned_s < 1.0 ? ", not planned" : fmt::format(", planned {}", clock_text(stand.planned_s));
      const std::string until =
          stand.until.empty() ? "" : fmt::format(", until {} came", enumerated_briefly(names(d, stand.until)));
      told.push_back(fmt::format("{} stood {} at {}, from {} on{}{}.", d.name(rider.rider), clock_text(stand.stood_s),
                                 place_text(d, stand.at_m), clock_text(stand.from_s), until, plan));
    }
  return told;
}

std::vector<std::string> came_off_told(const Debriefed& d) {
  std::vector<std::string> told;
  for (const DebriefCameOff& c : d.told.came_off) {
    const std::string wind = std::abs(c.head_mps) < 0.5
                                 ? "hardly any wind along the road"
                                 : fmt::format("{:.1f} {} {}", std::abs(d.units.wind(c.head_mps)), d.units.wind_name(),
                                               c.head_mps > 0.0 ? "head wind" : "tail wind");
    const std::string power =
        std::isnan(c.power_minute_W) ? "power not recorded" : fmt::format("{:.0f} W in the minute before", c.power_minute_W);
    const std::string back =
        std::isnan(c.back_s) ? "did not come back"
                             : fmt::format("with {} again after {}", d.name(c.back_with), clock_text(c.back_s - c.time_s));
    told.push_back(fmt::format("{} came off {} at {} after {}: {:.1f} % grade, {}, {}; {}.", d.name(c.rider),
                               enumerated_briefly(names(d, c.from)), place_text(d, c.at_m), clock_text(c.time_s),
                               100.0 * c.grade, wind, power, back));
  }
  return told;
}

}  // namespace leewheel
