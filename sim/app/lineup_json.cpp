#include <cmath>

#include "app/lineup_tables.hpp"
#include "app/lineup_words.hpp"
#include "io/json_layouts.hpp"
#include "leewheel/ride_facts.hpp"
#include "words/day_clock.hpp"
#include "words/effort_words.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

Json json_of(const GroupPlan& p) {
  return {{"kind", ride_kind_names[static_cast<std::size_t>(p.kind)]},
          {"formation", formation_names[static_cast<std::size_t>(p.formation)]},
          {"order", p.order},
          {"regroup_at_m", p.regroup_at_m},
          {"turn_s", p.turn_s},
          {"circulate_s", p.circulate_s},
          {"pace_share", p.pace_share},
          {"hold_margin", p.hold_margin},
          {"front_effort", p.front_effort},
          {"free_climb_fraction", p.free_climb_fraction},
          {"wprime_reserve", p.wprime_reserve},
          {"lean", p.lean},
          {"weakest_effort", p.weakest_effort}};
}

Json json_of(const PlanDuel& duel) {
  return {{"gain", duel.gain},
          {"days_better", duel.days_better},
          {"days_worse", duel.days_worse},
          {"wins", duel.wins},
          {"loses", duel.loses}};
}

/// A row of the table: its columns, then what drawn days say, then the plan.
Json json_of(const PlanResult& r, const Lineup& lineup, const Scenario& scenario) {
  Json row{{"name", r.plan.name},
           {"label", plan_label(r.plan)},
           {"unfit", unfit_names[static_cast<std::size_t>(r.unfit)]},
           {"last_s", r.expected.last_s},
           {"weakest_effort_share", r.expected.weakest_effort},
           {"longest_wait_s", r.expected.longest_wait_s},
           {"unfairness", r.expected.unfairness},
           {"harder_share", r.expected.harder_share},
           {"held_back_s", r.expected.held_back_s},
           {"wbal_least_share", r.expected.wbal_least_share}};
  for (const std::uint32_t i : lineup.strong) row["later_s"][scenario.riders[i].name] = r.expected.later_s[i];
  row["parts"] = Json::array();
  for (const LineupStretch& s : r.stretches) row["parts"].push_back(s.groups.size());
  row["days"] = r.days.size();
  if (!r.days.empty())
    row.update({{"value", r.value},
                {"last_low_s", r.last_low_s},
                {"last_high_s", r.last_high_s},
                {"last_ends_s", r.last_ends_s},
                {"margin_days_share", r.margin_days}});
  row["plan"] = json_of(r.plan);
  return row;
}

Json json_of(const LineupStretch& s, const Scenario& scenario) {
  Json groups = Json::array();
  for (const GroupTurns& g : s.groups)
    groups.push_back({{"line", names_of(scenario, g.line)}, {"turn_s", g.turn_s}, {"own_pace", g.own_pace}});
  return {{"from", s.where.from},
          {"to", s.where.to},
          {"from_m", s.where.from_m},
          {"to_m", s.where.to_m},
          {"grade", s.grade},
          {"headwind_mps", s.headwind_mps},
          {"crosswind_mps", s.crosswind_mps},
          {"front_speed_mps", s.front_speed_mps},
          {"front_power_W", s.front_power_W},
          {"in_a_line", s.in_a_line},
          {"saved_W", s.saved_W},
          {"first_arrives_s", s.first_arrives_s},
          {"last_arrives_s", s.last_arrives_s},
          {"form", form_names[static_cast<std::size_t>(s.form)]},
          {"front_s", s.front_s},
          {"groups", groups}};
}

Json riders_json(const Lineup& lineup, const Scenario& scenario) {
  Json riders = Json::array();
  const PlanScore& expected = lineup.best().expected;
  const DayClock clock(scenario.start);
  const Scenario planned = with_plan(scenario, lineup.best().plan, lineup.weakest);
  for (std::size_t i = 0; i < scenario.riders.size(); ++i) {
    double in_front_s = 0.0;
    for (const LineupStretch& s : lineup.best().stretches) in_front_s += s.front_s[i];
    riders.push_back({{"name", scenario.riders[i].name},
                      {"finish_time_s", expected.finish_s[i]},
                      {"finish_at", clock.known() ? Json(clock.iso(expected.finish_s[i])) : Json(nullptr)},
                      {"later_s", expected.later_s[i]},
                      {"door_to_door_saved_s", lineup.door_to_door_saved_s[i]},
                      {"effort_changes", effort_changes_text(planned, i, {})},
                      {"effort", expected.effort[i]},
                      {"usual_effort", lineup.usual_effort[i]},
                      {"wbal_least_share", expected.wbal_share[i]},
                      {"front_s", in_front_s}});
  }
  return riders;
}

}  // namespace

Json lineup_json(const Lineup& lineup, const Scenario& scenario) {
  Json out{{"layout_version", json_layout::lineup},
           {"found", lineup.found},
           {"aim", lineup_aim_names[static_cast<std::size_t>(lineup.aim)]},
           {"weakest", scenario.riders[lineup.weakest].name},
           {"strong", names_of(scenario, lineup.strong)},
           {"rides", lineup.rides},
           {"time_limit_s", lineup.time_limit_s},
           {"held_back_limit_s", lineup.held_back_limit_s},
           {"within_limits", lineup.within_limits}};
  if (lineup.found) out["plan"] = json_of(lineup.best(), lineup, scenario);
  out["table"] = Json::array();
  for (std::size_t k = 0; k < lineup.table.size(); ++k) {
    Json row = json_of(lineup.table[k], lineup, scenario);
    row["chosen"] = k == lineup.chosen;
    row["against"] = json_of(lineup.against[k]);
    out["table"].push_back(row);
  }
  out["clubs"] = json_of(lineup.clubs, lineup, scenario);
  out["left_out"] = Json::array();
  for (const PlanResult& r : lineup.left_out) out["left_out"].push_back(json_of(r, lineup, scenario));
  if (!lineup.found) return out;
  out["against_clubs"] = json_of(lineup.against_clubs);
  out["in_words"] = plan_in_words(lineup.best(), scenario);
  out["reason"] = why_chosen(lineup, scenario);
  for (const LineupStretch& s : lineup.best().stretches) out["stretches"].push_back(json_of(s, scenario));
  out["waits"] = Json::array();
  for (const RegroupWait& w : lineup.best().waits)
    out["waits"].push_back({{"at_m", w.at_m},
                            {"name", w.name},
                            {"first", scenario.riders[w.first_rider].name},
                            {"last", scenario.riders[w.last_rider].name},
                            {"arrive_s", w.first_arrives_s},
                            {"go_on_s", w.first_goes_on_s},
                            {"first_waits_s", w.first_waits_s}});
  out["riders"] = riders_json(lineup, scenario);
  for (const auto& group : lineup.groups) out["groups"].push_back(names_of(scenario, group));
  out["cautions"] = lineup_cautions;
  return out;
}

}  // namespace leewheel
