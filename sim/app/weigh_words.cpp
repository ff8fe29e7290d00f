#include "app/weigh_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "words/cautions.hpp"
#include "words/day_clock.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

std::string place_name(const Road& road, double at_m) {
  if (at_m <= 0.0) return "start";
  if (at_m >= road.length_m()) return "finish";
  for (const Landmark& mark : road.landmarks())
    if (mark.distance_m == at_m) return mark.name;
  return "";
}

namespace {

constexpr std::array<const char*, ways_to_ride> way_advice{"ride as planned",           "ride alone", "sit in", "take turns",
                                                           "wait for the group behind", "let go"};

long whole(double value) { return std::lround(value); }  // never "-0"
std::string with_sign(double value) { return whole(value) == 0 ? "0" : fmt::format("{:+d}", whole(value)); }
std::string span(const DayRange& r) { return fmt::format("{} ({} to {})", whole(r.mean), whole(r.low), whole(r.high)); }
std::string span_of_times(const DayRange& r) {
  return fmt::format("{} ({} to {})", clock_text(r.mean), clock_text(r.low), clock_text(r.high));
}
std::string signed_span(const DayRange& r) {
  return fmt::format("{} ({} to {})", with_sign(r.mean), with_sign(r.low), with_sign(r.high));
}

std::string wheel_saves(const Weighing& w) {
  return fmt::format("{} W ({} %)", whole(w.reason.wheel_saves_W), whole(w.wheel_saves_percent()));
}
std::string within_reach(const Weighing& w) { return fmt::format("{} of {} days", w.reach_days, w.days); }

std::string cost(const Weighing& w) {
  constexpr double worth_saying_s = 5.0;
  if (w.verdict == Verdict::nobody_there) return "-";
  const WayWeighed& way = w.in_company();
  const std::string pace = whole(w.above_own_W()) > 0 ? fmt::format("{} W above own pace", whole(w.above_own_W())) : "";
  if (way.chase_s < worth_saying_s) return pace.empty() ? "nothing" : pace;
  return fmt::format("{}{}{} s of chasing at {} W", pace, pace.empty() ? "" : ", ", whole(way.chase_s), whole(way.chase_W));
}

/// In watts where the group rides easier than the rider would, since its speed is given; else in seconds.
std::string gain_words(const Weighing& w) {
  const WayWeighed& way = w.in_company();
  const long power_W = whole(way.power_W.mean), above_W = whole(w.above_own_W()), gain_s = whole(way.gain_s.mean);
  if (above_W < 0)
    return fmt::format("{} W saved, {} W there and {} W alone at the same speed (own pace {} W)",
                       whole(way.alone_power_W.mean) - power_W, power_W, whole(way.alone_power_W.mean),
                       whole(w.own_power_W()));
  return fmt::format("{} s {} than alone at the same {} W{}", std::abs(gain_s), gain_s >= 0 ? "sooner" : "later", power_W,
                     above_W > 0 ? fmt::format(", {} W above the own pace", above_W) : ", the own pace");
}

/// Not all days have a wheel; W' where company spends what riding alone would leave.
std::string but(const Weighing& w) {
  std::string text;
  if (w.reach_days < w.days && w.company != way_of(Choice::waits_behind))
    text += fmt::format("; a wheel for half of the time or more on {}", within_reach(w));
  if (w.in_company().spent_days > w.ways[by_oneself].spent_days)
    text += fmt::format("; W′ is nearly spent at its end on {} of {} days", w.in_company().spent_days, w.in_company().days);
  return text;
}

}  // namespace

std::string verdict(const Weighing& w) {
  if (w.ways[by_oneself].days == 0) return "the end of the stretch is not reached alone, so nothing can be compared";
  if (w.verdict == Verdict::nobody_there)
    return fmt::format("no wheel within reach on {} of {} days{}; if the group kept you, {} fewer at the same speed",
                       w.days - w.reach_days, w.days,
                       w.in_company().gain_s.mean < w.felt_s ? ""
                                                             : fmt::format(" ({} s sooner than alone with those there are)",
                                                                           whole(w.in_company().gain_s.mean)),
                       wheel_saves(w));
  if (w.verdict == Verdict::no_difference)
    return fmt::format("no difference: less than {} s between company and riding alone at the same {} W{}",
                       static_cast<long>(std::ceil(w.felt_s)), whole(w.in_company().power_W.mean), but(w));
  return fmt::format("{}{}: {}{}", way_advice[w.best], w.verdict == Verdict::uncertain ? ", though not on every day" : "",
                     gain_words(w), but(w));
}

namespace {

std::string as_good(const Weighing& w) {
  std::vector<std::string> names;
  for (const std::size_t way : w.as_good) names.push_back(way_words[way]);
  if (std::abs(w.ways[as_planned].gain_s.mean - w.ways[w.best].gain_s.mean) < w.felt_s) names.push_back("riding as planned");
  return names.empty() ? "" : fmt::format("As good, within {:.0f} s: {}.\n", w.felt_s, enumerated(names));
}

/// "Wood gate (km 4.16)", "km 0.60", "finish".
std::string place(const Weighed& q, double at_m) {
  const std::string way = fmt::format("{} {:.2f}", q.units.way_name(), q.units.way(at_m));
  const std::string name = place_name(q.scenario.road, at_m);
  return name.empty() ? way : name == "start" || name == "finish" ? name : fmt::format("{} ({})", name, way);
}

std::string heading(const Weighed& q, const std::string& what) {
  const DayClock clock(q.scenario.start);
  return fmt::format("{}, {} to {}: {}\nAs planned the first is there after {}, the last after {}.\n", what,
                     place(q, q.settings.from_m), place(q, q.settings.to_m), q.scenario.title, clock.beside(q.first_there_s),
                     clock.beside(q.last_there_s));
}

std::string days_words(const Weighed& q) {
  return fmt::format(
      "{} days: the scenario as it stands, and days drawn by its uncertainty of wind, wakes, rolling "
      "resistance and riders.\n",
      q.answers.front().days);
}

/// Not everyone can sit in: what shared turns bring, where nobody is told to take any.
std::string in_front(const Weighed& q) {
  std::vector<std::string> gains;
  for (const Weighing& w : q.answers) {
    if (w.verdict != Verdict::pays && w.verdict != Verdict::uncertain) continue;
    if (w.best == way_of(Choice::takes_turns)) return "";
    if (w.best != way_of(Choice::sits_in)) continue;
    gains.push_back(fmt::format("{} {} s", name_of(q, w), with_sign(w.ways[way_of(Choice::takes_turns)].gain_s.mean)));
  }
  if (gains.size() < 2) return "";
  return fmt::format(" Somebody must be in front: not all can sit in. Gains with shared turns: {}.", enumerated(gains));
}

/// The answer for everyone at once: for whom it pays, for whom not, whom no wheel waits for.
std::string in_short(const Weighed& q) {
  constexpr std::array<const char*, 4> heads{"no difference for ", "perhaps for ", "yes for ", "no wheel within reach for "};
  constexpr std::array order{Verdict::pays, Verdict::uncertain, Verdict::no_difference, Verdict::nobody_there};
  std::vector<std::string> parts;
  for (const Verdict verdict : order) {
    std::vector<std::string> names;
    for (const Weighing& w : q.answers) {
      const bool company_wins = w.verdict != Verdict::pays || w.best != by_oneself;
      if (w.verdict == verdict && company_wins) names.push_back(name_of(q, w));
    }
    if (!names.empty()) parts.push_back(heads[static_cast<std::size_t>(verdict)] + enumerated_briefly(names));
  }
  std::vector<std::string> alone;
  for (const Weighing& w : q.answers)
    if (w.verdict == Verdict::pays && w.best == by_oneself) alone.push_back(name_of(q, w));
  if (!alone.empty()) parts.push_back("better alone: " + enumerated_briefly(alone));
  std::string text = fmt::format("{}", fmt::join(parts, "; "));
  text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return wrapped("", text + "." + in_front(q), 120);
}

/// How still the ends of the range stand.
std::string ends(double error_s) {
  constexpr double still_s = 20.0;
  if (!std::isfinite(error_s)) return "One day gives no range.\n";
  return fmt::format("The ends of the range are known within {:.0f} s{}.\n", std::ceil(error_s),
                     error_s > still_s ? "; more days (--runs) settle them" : "");
}

std::string meaning(const Weighed& q) {
  double error_s = 0.0;
  for (const Weighing& w : q.answers) error_s = std::max(error_s, w.in_company().gain_end_s);
  return wrapped(
             "",
             "A wheel saves: held all the way, at the speeds of the own pace alone. Saved, in a sentence: in the company "
             "that "
             "is there, with its gaps and turns, mean of the days; what `ride` tells is saved on one day. Gain: sooner than "
             "the same rider alone on the road at the same mean power, in the same wind; the mean of the days and the range "
             "that holds 8 of 10. Within reach: a wheel held for half of the time or more by a rider who sits in.",
             120) +
         ends(error_s);
}

constexpr const char* row = "{:<13} {:>25} {:>17} {:>19} {:>20} {:>10} {:>22}\n";

std::string table_of_ways(const Weighing& w) {
  std::string text = fmt::format(row, "", "riding time", "mean power, W", "alone at that power", "gain, s", "on a wheel",
                                 "later at the end, s");
  for (const WayWeighed& way : w.ways) {
    const bool alone = way.way == by_oneself;
    text +=
        fmt::format(row, way_words[way.way], span_of_times(way.time_s), span(way.power_W), clock_text(way.alone_time_s.mean),
                    alone ? "0" : signed_span(way.gain_s), fmt::format("{} %", whole(100.0 * way.behind_share)),
                    alone                   ? "-"
                    : way.way == as_planned ? "0"
                                            : signed_span(way.end_later_s));
    text.pop_back();
    if (way.days < w.days) text += fmt::format("  compared on {} of {} days", way.days, w.days);
    if (way.way > by_oneself && way.same_as_planned >= 0.5)
      text += fmt::format("  same as planned on {} % of days", whole(100.0 * way.same_as_planned));
    text += "\n";
  }
  return text;
}

std::string reason(const Weighed& q, const Weighing& w) {
  const WeighReason& r = w.reason;
  const std::string along = std::abs(r.headwind_mps) < 0.05
                                ? std::string("no wind along the road")
                                : fmt::format("{} {:.0f} {}", r.headwind_mps > 0.0 ? "headwind" : "tailwind",
                                              q.units.speed(std::abs(r.headwind_mps)), q.units.speed_name());
  const std::string rolls = r.rolls_share < 0.05
                                ? ""
                                : fmt::format(" For {:.0f} % of the time {} rolls: there a wheel saves time and no power.",
                                              100.0 * r.rolls_share, name_of(q, w));
  return wrapped(
      "Why: ",
      fmt::format(
          "alone {} rides {:.1f} {} here at {:.0f} W, {:.1f} % up, {} and {:.0f} {} across: the air asks for {:.0f} % of "
          "the work. A wheel takes {:.0f} % off that and so saves {} at those speeds.{}",
          name_of(q, w), q.units.speed(r.speed_mps), q.units.speed_name(), r.power_W, 100.0 * r.grade, along,
          q.units.speed(r.crosswind_mps), q.units.speed_name(), 100.0 * r.air_share, 100.0 * r.wheel_takes_share,
          wheel_saves(w), rolls),
      120);
}

}  // namespace

std::string table_of_riders(const Weighed& q) {
  constexpr const char* line = "{} {:>13} {:>24} {:>38} {:>18}\n";
  std::size_t wide = 0;
  for (const Weighing& w : q.answers) wide = std::max(wide, columns_of(name_of(q, w)));
  std::string text = heading(q, "Is company worth it") + in_short(q) + "\n";
  text += fmt::format(line, left_aligned("", wide), "a wheel saves", "gain at same effort, s", "costs to be there",
                      "wheel within reach");
  for (const Weighing& w : q.answers)
    text += fmt::format(line, left_aligned(name_of(q, w), wide), wheel_saves(w), signed_span(w.in_company().gain_s), cost(w),
                        within_reach(w));
  text += "\n";
  for (const Weighing& w : q.answers) text += fmt::format("{}: {}.\n", name_of(q, w), verdict(w));
  return text + "\n" + days_words(q) + meaning(q) + "\n" + planning_cautions;
}

std::string one_rider_in_words(const Weighed& q) {
  const Weighing& w = q.answers.front();
  return heading(q, "Weighed for " + name_of(q, w)) + fmt::format("Verdict: {}.\n{}\n", verdict(w), as_good(w)) +
         fmt::format("A wheel saves {}; costs to be there: {}; wheel within reach on {}.\n\n", wheel_saves(w), cost(w),
                     within_reach(w)) +
         table_of_ways(w) + "\n" + reason(q, w) + "\n" + days_words(q) + meaning(q) +
         fmt::format("No difference: less than {:.0f} s (1 % of the time, at least 3 s; assumed).\n\n", w.felt_s) +
         planning_cautions;
}

}  // namespace leewheel
