/// The riders of summary.json, and where they waited.

#include <cmath>

#include "io/json_number.hpp"
#include "io/result_columns.hpp"
#include "io/summary_parts.hpp"

namespace leewheel {

using Json = nlohmann::ordered_json;

namespace {

Json landmark_json(const Passage& at, const DayClock& clock) {
  return {{"name", at.name},
          {"distance_m", json_number(at.distance_m, 1)},
          {"arrive_s", json_number(at.time_s, 1)},
          {"go_on_s", json_number(at.go_on_s(), 1)},
          {"waited_s", json_number(at.waited_s, 1)},
          {"arrive_at", clock_json(clock, at.time_s)},
          {"go_on_at", clock_json(clock, at.go_on_s())},
          {"arrive_power_W", json_number(at.power_W, 1)},
          {"wbal_J", json_number(at.wbal_J, 0)},
          {"wbal_go_on_J", json_number(at.wbal_go_on_J(), 0)},
          {"work_kJ", json_number(at.pedal_J / 1000.0, 2)},
          {"saved_kJ", json_number(at.saved_J / 1000.0, 2)}};
}

Json ledger_json(const EnergyLedger& ledger) {
  return {{"pedal_kJ", json_number(ledger.pedal_J / 1000.0, 3)},
          {"drivetrain_kJ", json_number(ledger.drivetrain_J / 1000.0, 3)},
          {"air_kJ", json_number(ledger.air_J / 1000.0, 3)},
          {"rolling_kJ", json_number(ledger.rolling_J / 1000.0, 3)},
          {"bearings_kJ", json_number(ledger.bearings_J / 1000.0, 3)},
          {"braking_kJ", json_number(ledger.braking_J / 1000.0, 3)},
          {"potential_kJ", json_number(ledger.potential_J / 1000.0, 3)},
          {"kinetic_kJ", json_number(ledger.kinetic_J / 1000.0, 3)}};
}

Json wbal_end_by_law_json(const RiderResult& rider) {
  Json by_law = Json::object();
  for (std::size_t law = 0; law < recovery_law_names.size(); ++law)
    by_law[std::string(recovery_law_names[law])] = json_number(rider.wbal_end_by_law_J[law], 0);
  return by_law;
}

}  // namespace

Json clock_json(const DayClock& clock, double time_s) {
  return clock.known() && std::isfinite(time_s) ? Json(clock.iso(time_s)) : Json(nullptr);
}

Json stretch_json(const StretchRidden& s) {
  Json stretch{{"from", s.from}, {"to", s.to}};
  for (const auto& column : stretch_columns())
    if (column.found_in != FoundIn::csv) stretch[column.name] = json_number(column.value(s), column.decimals);
  return stretch;
}

Json rider_json(const RiderResult& rider, const RiderFacts& facts, const RiderResult* alone_again, const DayClock& clock) {
  Json json{{"name", rider.name}, {"finished", rider.finished}};
  for (const auto& column : rider_columns()) {
    if (column.found_in == FoundIn::csv) continue;
    json[column.name] = json_number(column.value({rider, facts, alone_again}), column.decimals);
    if (column.name == std::string_view("finish_time_s"))
      json["finish_at"] = rider.finished ? clock_json(clock, rider.finish_time_s) : Json(nullptr);
    if (column.name == std::string_view("wbal_least_J")) json["wbal_end_by_law_J"] = wbal_end_by_law_json(rider);
  }
  json["ledger"] = ledger_json(rider.ledger);
  json["landmarks"] = Json::array();
  for (const Passage& at : rider.landmarks) json["landmarks"].push_back(landmark_json(at, clock));
  json["stretches"] = Json::array();
  for (const StretchRidden& s : facts.stretches) json["stretches"].push_back(stretch_json(s));
  return json;
}

Json waits_json(const Scenario& scenario, const RideResult& result) {
  const DayClock clock(scenario.start);
  Json list = Json::array();
  for (const WaitOfRide& wait : waits_of(scenario, result)) {
    Json riders = Json::array(), given_up = Json::array();
    for (const auto& w : wait.waited) {
      const double go_on_s = w.go_on_s < 0.0 ? no_value : w.go_on_s;
      riders.push_back({{"rider", scenario.riders.at(w.rider).name},
                        {"arrive_s", json_number(w.arrive_s, 1)},
                        {"go_on_s", json_number(go_on_s, 1)},
                        {"waited_s", json_number(w.waited_s(result.time_s), 1)},
                        {"arrive_at", clock_json(clock, w.arrive_s)},
                        {"go_on_at", clock_json(clock, go_on_s)}});
    }
    for (const auto& one : wait.given_up) {
      Json late = Json::array();
      for (const auto& l : one.late)
        late.push_back({{"rider", scenario.riders.at(l.rider).name}, {"later_s", json_number(l.later_s, 1)}});
      given_up.push_back({{"left_s", json_number(one.left_s, 1)}, {"left", names_of(scenario, one.left)}, {"late", late}});
    }
    list.push_back({{"name", wait.name},
                    {"at_m", json_number(wait.place.at_m, 1)},
                    {"stop_s", json_number(wait.place.stop_s, 1)},
                    {"for", wait.place.what},
                    {"riders", riders},
                    {"given_up", given_up}});
  }
  return list;
}

}  // namespace leewheel
