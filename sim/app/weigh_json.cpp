#include <array>
#include <nlohmann/json.hpp>

#include "app/weigh_words.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "words/cautions.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::array<const char*, 4> verdict_words{"no_difference", "uncertain", "pays", "nobody_there"};

Json json_of(const DayRange& r) { return {{"low", r.low}, {"mean", r.mean}, {"high", r.high}}; }

Json json_of(const WayWeighed& way) {
  return {{"way", way_words[way.way]},
          {"days", way.days},
          {"time_s", json_of(way.time_s)},
          {"power_W", json_of(way.power_W)},
          {"alone_time_s", json_of(way.alone_time_s)},
          {"alone_power_W", json_of(way.alone_power_W)},
          {"gain_s", json_of(way.gain_s)},
          {"gain_end_error_s", way.gain_end_s},
          {"saved_W", json_of(way.saved_W)},
          {"behind_share", way.behind_share},
          {"chase_s", way.chase_s},
          {"chase_W", way.chase_W},
          {"wheel_days", way.reach_days},
          {"spent_days", way.spent_days},
          {"same_as_planned_share", way.same_as_planned}};
}

Json json_of(const WeighReason& r) {
  return {{"speed_mps", r.speed_mps},
          {"grade", r.grade},
          {"headwind_mps", r.headwind_mps},
          {"crosswind_mps", r.crosswind_mps},
          {"power_W", r.power_W},
          {"air_share", r.air_share},
          {"wheel_takes_share", r.wheel_takes_share},
          {"rolls_share", r.rolls_share}};
}

Json json_of(const Weighed& q, const Weighing& w) {
  Json out{{"rider", name_of(q, w)},
           {"verdict", verdict_words[static_cast<std::size_t>(w.verdict)]},
           {"verdict_in_words", verdict(w)},
           {"best", way_words[w.best]},
           {"in_company", way_words[w.company]},
           {"felt_s", w.felt_s},
           {"as_good", Json::array()},
           {"own_power_W", w.own_power_W()},
           {"wheel_saves_W", w.reason.wheel_saves_W},
           {"wheel_saves_percent", w.wheel_saves_percent()},
           {"gain_s", json_of(w.in_company().gain_s)},
           {"saved_W", json_of(w.in_company().saved_W)},
           {"above_own_W", w.above_own_W()},
           {"wheel_within_reach_days", w.reach_days},
           {"reason", json_of(w.reason)}};
  for (const std::size_t way : w.as_good) out["as_good"].push_back(way_words[way]);
  for (const WayWeighed& way : w.ways) out["ways"].push_back(json_of(way));
  return out;
}

}  // namespace

std::string weighed_as_json(const Weighed& q, bool one_rider) {
  Json out{{"layout_version", json_layout::weigh},
           {"from", place_name(q.scenario.road, q.settings.from_m)},
           {"to", place_name(q.scenario.road, q.settings.to_m)},
           {"from_m", q.settings.from_m},
           {"to_m", q.settings.to_m},
           {"first_there_s", json_number(q.first_there_s, 1)},
           {"last_there_s", json_number(q.last_there_s, 1)},
           {"days", q.answers.front().days},
           {"seed", q.settings.seed}};
  if (one_rider) {
    const Weighing& w = q.answers.front();
    out.update(json_of(q, w));
    for (const WayWeighed& way : w.ways) out["ways"][way.way]["end_later_s"] = json_of(way.end_later_s);
  }
  if (!one_rider)
    for (const Weighing& w : q.answers) out["riders"].push_back(json_of(q, w));
  out["range"] = "10th to 90th percentile of the days";
  out["cautions"] = planning_cautions;
  return json_text(out) + "\n";
}

}  // namespace leewheel
