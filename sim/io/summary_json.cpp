/// summary.json.

#include <nlohmann/json.hpp>
#include <span>

#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "io/results.hpp"
#include "io/summary_parts.hpp"
#include "leewheel/compass.hpp"
#include "leewheel/give_and_take.hpp"
#include "words/cautions.hpp"
#include "words/day_clock.hpp"
#include "words/phrases.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

// ---- the road, the day, the ride ----

Json road_json(const Road& road) {
  const RoadFacts facts = road.facts();
  Json landmarks = Json::array();
  for (const Landmark& landmark : road.landmarks())
    landmarks.push_back({{"name", landmark.name}, {"distance_m", json_number(landmark.distance_m, 1)}});
  return {{"length_m", json_number(facts.length_m, 1)},
          {"ascent_m", json_number(facts.ascent_m, 1)},
          {"descent_m", json_number(facts.descent_m, 1)},
          {"mean_grade", json_number(facts.mean_grade, 5)},
          {"steepest_100m_grade", json_number(facts.steepest_100m_grade, 5)},
          {"steepest_at_m", json_number(facts.steepest_at_m, 1)},
          {"landmarks", landmarks}};
}

Json day_json(const Scenario& scenario) {
  Json forecast = Json::array();
  for (const ForecastPoint& point : scenario.wind.forecast)
    forecast.push_back({{"time_s", json_number(point.time_s, 1)},
                        {"speed_mps", json_number(point.speed_mps, 2)},
                        {"from_deg", json_number(compass_deg(point.from_rad, 1), 1)}});
  return {{"air_density_at_start_kgpm3", json_number(start_density_kgpm3(scenario), 4)},
          {"temperature_C", json_number(scenario.air.temperature_C, 1)},
          {"wind_at_10m", forecast}};
}

Json ride_json(const Scenario& scenario, const RideResult& result) {
  Json regroup = Json::array();
  for (const double at_m : scenario.ride.regroup_at_m) regroup.push_back(json_number(at_m, 1));
  Json stops = Json::array();
  for (const PlannedStop& stop : scenario.ride.stops)
    stops.push_back({{"at_m", json_number(stop.at_m, 1)}, {"stop_s", json_number(stop.stop_s, 1)}, {"for", stop.what}});
  return {{"kind", ride_kind_names[static_cast<std::size_t>(scenario.ride.kind)]},
          {"end", ride_end_names[static_cast<std::size_t>(result.end)]},
          {"time_s", json_number(result.time_s, 1)},
          {"seed", scenario.ride.seed},
          {"step_s", json_number(scenario.ride.step_s, 4)},
          {"recovery_law", recovery_law_names[static_cast<std::size_t>(scenario.ride.recovery_law)]},
          {"wake_scale", json_number(wake_base(scenario.wake).wake_scale, 4)},
          {"regroup_at_m", regroup},
          {"stops", stops},
          {"start", clock_json(DayClock(scenario.start), 0.0)}};
}

// ---- stretches, groups, events ----

Json stretches_json(const RideFacts& facts, const RideResult& result) {
  Json list = Json::array();
  for (const StretchOfRide& s : facts.stretches)
    list.push_back({{"from", s.from},
                    {"to", s.to},
                    {"from_m", json_number(s.from_m, 1)},
                    {"to_m", json_number(s.to_m, 1)},
                    {"mean_grade", json_number(s.grade, 5)},
                    {"saved_W", json_number(s.saved_W, 1)},
                    {"saved_most_by", result.riders[s.most].name},
                    {"saved_most_W", json_number(s.most_W, 1)},
                    {"line_share", json_number(s.line_share, 4)}});
  return list;
}

Json groups_json(const Scenario& scenario, const RideResult& result) {
  Json list = Json::array();
  for (const GroupSpan& group : result.groups)
    list.push_back({{"id", group.id},
                    {"from_s", json_number(group.from_s, 1)},
                    {"to_s", json_number(group.to_s, 1)},
                    {"largest", group.largest},
                    {"riders", names_of(scenario, group.riders)}});
  return list;
}

Json finish_groups_json(const Scenario& scenario, const RideResult& result) {
  Json list = Json::array();
  for (const std::vector<std::uint32_t>& group : finish_groups(result))
    list.push_back(
        {{"first_s", json_number(result.riders[group.front()].finish_time_s, 1)}, {"riders", names_of(scenario, group)}});
  return list;
}

/// The values of a reason under their names, in SI.
Json values_json(const Because& because) {
  Json values = Json::object();
  const ReasonRow& row = reason_rows()[static_cast<std::size_t>(because.reason)];
  for (std::size_t k = 0; k < row.values.size() && !row.values[k].name.empty(); ++k)
    values[std::string(row.values[k].name)] = json_number(because.values[k], 3);
  return values;
}

Json events_json(const Scenario& scenario, const RideResult& result) {
  const DayClock clock(scenario.start);
  Json list = Json::array();
  for (const Event& event : result.events)
    list.push_back(
        {{"kind", event_names[static_cast<std::size_t>(event.kind)]},
         {"time_s", json_number(event.time_s, 1)},
         {"at", clock_json(clock, event.time_s)},
         {"distance_m", json_number(event.distance_m, 1)},
         {"group", event.group == no_group ? Json(nullptr) : Json(event.group)},
         {"riders", names_of(scenario, event.riders)},
         {"cause", because_text(event.because, event.group, rider_names(scenario))},
         {"reason", reason_rows()[static_cast<std::size_t>(event.because.reason)].name},
         {"about", event.because.other == no_rider ? Json(nullptr) : Json(rider_names(scenario)(event.because.other))},
         {"from_group", event.because.from_group == no_group ? Json(nullptr) : Json(event.because.from_group)},
         {"values", values_json(event.because)}});
  return list;
}

Json debts_json(const Scenario& scenario, const RideResult& result) {
  Json list = Json::array();
  for (const TowDebt& debt : result.debts)
    list.push_back({{"giver", scenario.riders.at(debt.giver).name},
                    {"receiver", scenario.riders.at(debt.receiver).name},
                    {"saved_kJ", json_number(debt.saved_J / 1000.0, 3)}});
  return list;
}

Json give_and_take_json(const Scenario& scenario, const RideResult& result) {
  const GiveAndTake shared = give_and_take(result.riders.size(), result.debts);
  Json net = Json::array(), circles = Json::array();
  for (std::size_t i = 0; i < shared.net_J.size(); ++i)
    net.push_back({{"rider", scenario.riders.at(i).name}, {"net_kJ", json_number(shared.net_J[i] / 1000.0, 3)}});
  for (const std::vector<std::uint32_t>& circle : shared.circles) circles.push_back(names_of(scenario, circle));
  return {{"net", net},
          {"circles", circles},
          {"chain", {{"riders", names_of(scenario, shared.chain)}, {"net_kJ", json_number(shared.chain_J / 1000.0, 3)}}}};
}

Json range_json(const Scenario& scenario, const FinishRanges& ranges) {
  Json riders = Json::array();
  for (std::size_t i = 0; i < ranges.finish_s.size(); ++i) {
    const std::optional<Middle80>& range = ranges.finish_s[i];
    riders.push_back({{"name", scenario.riders[i].name},
                      {"finish_low_s", range ? json_number(range->low, 1) : Json()},
                      {"finish_high_s", range ? json_number(range->high, 1) : Json()},
                      {"finish_middle_s", range ? json_number(range->middle, 1) : Json()},
                      {"finish_ends_s", range ? json_number(range->ends_error, 1) : Json()}});
  }
  return {{"days", ranges.days}, {"riders", riders}};
}

}  // namespace

std::string summary_json(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo,
                         const FinishRanges& ranges) {
  const RideFacts facts = facts_of(scenario, result, solo);
  const DayClock clock(scenario.start);
  Json riders = Json::array();
  for (std::size_t i = 0; i < result.riders.size(); ++i)
    riders.push_back(rider_json(result.riders[i], facts.riders[i], solo_of(solo, i), clock));
  const double largest_error = result.riders.empty() ? no_value : result.riders[worst_ledger(result)].ledger.error();
  const Json summary = {{"layout_version", json_layout::summary},
                        {"program_version", LEEWHEEL_VERSION},
                        {"title", scenario.title},
                        {"question", scenario.question},
                        {"finding_expected", scenario.finding},
                        {"road", road_json(scenario.road)},
                        {"day", day_json(scenario)},
                        {"ride", ride_json(scenario, result)},
                        {"range", range_json(scenario, ranges)},
                        {"ledger_error_largest", json_number(largest_error, 15)},
                        {"riders", riders},
                        {"stretches", stretches_json(facts, result)},
                        {"waits", waits_json(scenario, result)},
                        {"groups", groups_json(scenario, result)},
                        {"finish_groups", finish_groups_json(scenario, result)},
                        {"events", events_json(scenario, result)},
                        {"debts", debts_json(scenario, result)},
                        {"give_and_take", give_and_take_json(scenario, result)},
                        {"cautions", ride_cautions}};
  return json_text(summary) + "\n";
}

}  // namespace leewheel
