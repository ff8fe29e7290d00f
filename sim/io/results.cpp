#include "io/results.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <pugixml.hpp>
#include <set>
#include <sstream>

#include "leewheel/units.hpp"
#include "words/give_and_take_words.hpp"
#include "words/phrases.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

constexpr int summary_layout_version = 1;
constexpr double none = std::numeric_limits<double>::quiet_NaN();  // "has no value"; printed as null, empty or a dash

// ---- what the results are made of ----

/// The way from one landmark to the next, for one rider.
struct StretchRidden {
  std::string from, to;
  double from_m, to_m;
  double arrives_s, arrives_power_W;  ///< clock and power at its end
  double time_s, pedal_J, saved_J, alone_J, sheltered_s;
  double wbal_J;       ///< at its end
  double solo_time_s;  ///< alone with the same plan
  double saved_W() const { return saved_J / time_s; }
};

/// The same stretch, over all who rode it.
struct StretchOfRide {
  std::string from, to;
  double from_m, to_m, grade;
  double saved_W;    ///< mean over riders and time
  std::size_t most;  ///< rider who saved most
  double most_W;
};

const RiderResult* solo_of(const std::vector<RideResult>& solo, std::size_t rider) {
  return rider < solo.size() && solo[rider].riders.size() == 1 ? &solo[rider].riders.front() : nullptr;
}

double percent(double part, double whole) { return whole > 0.0 ? 100.0 * part / whole : none; }

/// Riding time against riding time: standing at a regroup point is no riding.
double time_saved_s(const RiderResult& rider, const RiderResult* alone_again) {
  if (!rider.finished || !alone_again || !alone_again->finished) return none;
  return alone_again->finish_time_s - (rider.finish_time_s - rider.waited_s);
}

std::vector<StretchRidden> stretches_of(const RiderResult& rider, const RiderResult* alone_again) {
  std::vector<StretchRidden> stretches;
  Passage last{"start", 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0};
  double solo_last_s = 0.0;
  for (std::size_t i = 0; i < rider.landmarks.size(); ++i) {
    const Passage& at = rider.landmarks[i];
    const double solo_s = alone_again && i < alone_again->landmarks.size() ? alone_again->landmarks[i].time_s : none;
    if (at.distance_m > last.distance_m && at.time_s > last.time_s)
      stretches.push_back({last.name, at.name, last.distance_m, at.distance_m, at.time_s, at.power_W,
                           at.time_s - last.time_s, at.pedal_J - last.pedal_J, at.saved_J - last.saved_J,
                           at.alone_J - last.alone_J, at.sheltered_s - last.sheltered_s, at.wbal_J, solo_s - solo_last_s});
    last = at;
    solo_last_s = solo_s;
  }
  return stretches;
}

std::vector<StretchOfRide> stretches_of_ride(const Scenario& scenario, const RideResult& result) {
  std::vector<StretchOfRide> stretches;
  std::vector<double> time_s, saved_J;
  for (std::size_t r = 0; r < result.riders.size(); ++r) {
    const std::vector<StretchRidden> ridden = stretches_of(result.riders[r], nullptr);
    for (std::size_t k = 0; k < ridden.size(); ++k) {
      const StretchRidden& s = ridden[k];
      if (k == stretches.size()) {
        const double rise_m = scenario.road.elevation_m(s.to_m) - scenario.road.elevation_m(s.from_m);
        stretches.push_back({s.from, s.to, s.from_m, s.to_m, rise_m / (s.to_m - s.from_m), 0.0, r, s.saved_W()});
        time_s.push_back(0.0);
        saved_J.push_back(0.0);
      }
      time_s[k] += s.time_s;
      saved_J[k] += s.saved_J;
      if (s.saved_W() > stretches[k].most_W) stretches[k].most = r, stretches[k].most_W = s.saved_W();
    }
  }
  for (std::size_t k = 0; k < stretches.size(); ++k) stretches[k].saved_W = saved_J[k] / time_s[k];
  return stretches;
}

std::size_t worst_ledger(const RideResult& result) {
  const auto worse = [](const RiderResult& a, const RiderResult& b) { return a.ledger.error() < b.ledger.error(); };
  return static_cast<std::size_t>(std::max_element(result.riders.begin(), result.riders.end(), worse) -
                                  result.riders.begin());
}

NameOf name_in(const Scenario& scenario) {
  return [&scenario](std::uint32_t rider) -> const std::string& { return scenario.riders.at(rider).name; };
}

std::vector<std::string> names_of(const Scenario& scenario, const std::vector<std::uint32_t>& riders) {
  std::vector<std::string> names;
  for (const std::uint32_t rider : riders) names.push_back(scenario.riders.at(rider).name);
  return names;
}

constexpr const char* cautions[] = {
    "A model's answer, no instruction: it knows nothing of traffic, weather on the day, or your health.",
    "Riding close can bring riders down, more so in gusts and crosswinds; leave room when in doubt.",
    "Traffic law and the local code for riding in groups come first; on effort and health, ask a doctor."};

// ---- numbers as JSON and CSV: rounded to what means something, never NaN ----

Json number(double value, int decimals) {
  if (!std::isfinite(value)) return nullptr;
  const double scale = std::pow(10.0, decimals);
  const double rounded = std::round(value * scale) / scale;
  return rounded == 0.0 ? 0.0 : rounded;  // no -0
}

std::string cell(double value, int decimals) {
  return std::isfinite(value) ? fmt::format("{:.{}f}", number(value, decimals).get<double>(), decimals) : "";
}

/// RFC 4180: quoted when it must be, quotes doubled.
std::string cell(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + '"';
}

std::string row(const std::vector<std::string>& cells) { return fmt::format("{}\n", fmt::join(cells, ",")); }

Json road_json(const Road& road) {
  const RoadFacts facts = road.facts();
  Json landmarks = Json::array();
  for (const Landmark& landmark : road.landmarks())
    landmarks.push_back({{"name", landmark.name}, {"distance_m", number(landmark.distance_m, 1)}});
  return {{"length_m", number(facts.length_m, 1)},
          {"ascent_m", number(facts.ascent_m, 1)},
          {"descent_m", number(facts.descent_m, 1)},
          {"mean_grade", number(facts.mean_grade, 5)},
          {"steepest_100m_grade", number(facts.steepest_100m_grade, 5)},
          {"steepest_at_m", number(facts.steepest_at_m, 1)},
          {"landmarks", landmarks}};
}

double start_density_kgpm3(const Scenario& scenario) {
  return air_density_kgpm3(air_at_altitude(scenario.air, scenario.air_station_altitude_m, scenario.road.elevation_m(0.0)));
}

double from_deg(const ForecastPoint& point) {
  const double deg = std::fmod(std::round(deg_from_rad(point.from_rad) * 10.0) / 10.0, 360.0);
  return deg < 0.0 ? deg + 360.0 : deg;
}

Json day_json(const Scenario& scenario) {
  Json forecast = Json::array();
  for (const ForecastPoint& point : scenario.wind.forecast)
    forecast.push_back({{"time_s", number(point.time_s, 1)},
                        {"speed_mps", number(point.speed_mps, 2)},
                        {"from_deg", number(from_deg(point), 1)}});
  return {{"air_density_at_start_kgpm3", number(start_density_kgpm3(scenario), 4)},
          {"temperature_C", number(scenario.air.temperature_C, 1)},
          {"wind_at_10m", forecast}};
}

Json ride_json(const Scenario& scenario, const RideResult& result) {
  Json regroup = Json::array();
  for (const double at_m : scenario.ride.regroup_at_m) regroup.push_back(number(at_m, 1));
  return {{"kind", ride_kind_names[static_cast<std::size_t>(scenario.ride.kind)]},
          {"end", ride_end_names[static_cast<std::size_t>(result.end)]},
          {"time_s", number(result.time_s, 1)},
          {"seed", scenario.ride.seed},
          {"step_s", number(scenario.ride.step_s, 4)},
          {"recovery_law", recovery_law_names[static_cast<std::size_t>(scenario.ride.recovery_law)]},
          {"lee_scale", number(wake_base(scenario.lee).lee_scale, 4)},
          {"regroup_at_m", regroup}};
}

Json landmark_json(const Passage& at) {
  return {{"name", at.name},
          {"distance_m", number(at.distance_m, 1)},
          {"time_s", number(at.time_s, 1)},
          {"power_W", number(at.power_W, 1)},
          {"wbal_J", number(at.wbal_J, 0)},
          {"work_kJ", number(at.pedal_J / 1000.0, 2)},
          {"saved_kJ", number(at.saved_J / 1000.0, 2)}};
}

Json stretch_json(const StretchRidden& s) {
  return {{"from", s.from},
          {"to", s.to},
          {"from_m", number(s.from_m, 1)},
          {"to_m", number(s.to_m, 1)},
          {"time_s", number(s.time_s, 1)},
          {"solo_time_s", number(s.solo_time_s, 1)},
          {"mean_power_W", number(s.pedal_J / s.time_s, 1)},
          {"work_kJ", number(s.pedal_J / 1000.0, 2)},
          {"saved_J", number(s.saved_J, 0)},
          {"saved_W", number(s.saved_W(), 1)},
          {"saved_percent", number(percent(s.saved_J, s.alone_J), 2)},
          {"sheltered_share", number(s.sheltered_s / s.time_s, 4)},
          {"wbal_J", number(s.wbal_J, 0)}};
}

Json ledger_json(const EnergyLedger& ledger) {
  return {{"pedal_kJ", number(ledger.pedal_J / 1000.0, 3)},
          {"drivetrain_kJ", number(ledger.drivetrain_J / 1000.0, 3)},
          {"air_kJ", number(ledger.air_J / 1000.0, 3)},
          {"rolling_kJ", number(ledger.rolling_J / 1000.0, 3)},
          {"bearings_kJ", number(ledger.bearings_J / 1000.0, 3)},
          {"braking_kJ", number(ledger.braking_J / 1000.0, 3)},
          {"potential_kJ", number(ledger.potential_J / 1000.0, 3)},
          {"kinetic_kJ", number(ledger.kinetic_J / 1000.0, 3)}};
}

Json rider_json(const RiderResult& rider, const RiderResult* alone_again) {
  Json landmarks = Json::array(), stretches = Json::array();
  Json by_law = Json::object();
  for (std::size_t law = 0; law < recovery_law_names.size(); ++law)
    by_law[std::string(recovery_law_names[law])] = number(rider.wbal_end_by_law_J[law], 0);
  for (const Passage& at : rider.landmarks) landmarks.push_back(landmark_json(at));
  for (const StretchRidden& s : stretches_of(rider, alone_again)) stretches.push_back(stretch_json(s));
  return {{"name", rider.name},
          {"finished", rider.finished},
          {"finish_time_s", number(rider.finished ? rider.finish_time_s : none, 1)},
          {"waited_s", number(rider.waited_s, 1)},
          {"in_group_s", number(rider.in_group_s, 1)},
          {"distance_m", number(rider.distance_m, 1)},
          {"mean_power_W", number(rider.mean_power_W, 1)},
          {"work_kJ", number(rider.ledger.pedal_J / 1000.0, 2)},
          {"saved_kJ", number(rider.ledger.saved_J / 1000.0, 2)},
          {"saved_percent", number(percent(rider.ledger.saved_J, rider.ledger.alone_J), 2)},
          {"given_kJ", number(rider.given_J / 1000.0, 2)},
          {"sheltered_share", number(rider.sheltered_share, 4)},
          {"wbal_end_J", number(rider.wbal_end_J, 0)},
          {"wbal_least_J", number(rider.wbal_least_J, 0)},
          {"wbal_end_by_law_J", by_law},
          {"solo_time_s", number(alone_again && alone_again->finished ? alone_again->finish_time_s : none, 1)},
          {"time_saved_s", number(time_saved_s(rider, alone_again), 1)},
          {"overlap_s", number(rider.overlap_s, 1)},
          {"largest_side_force_N", number(rider.largest_side_force_N, 1)},
          {"ledger_error", number(rider.ledger.error(), 15)},
          {"ledger", ledger_json(rider.ledger)},
          {"landmarks", landmarks},
          {"stretches", stretches}};
}

Json stretches_json(const Scenario& scenario, const RideResult& result) {
  Json list = Json::array();
  for (const StretchOfRide& s : stretches_of_ride(scenario, result))
    list.push_back({{"from", s.from},
                    {"to", s.to},
                    {"from_m", number(s.from_m, 1)},
                    {"to_m", number(s.to_m, 1)},
                    {"mean_grade", number(s.grade, 5)},
                    {"saved_W", number(s.saved_W, 1)},
                    {"saved_most_by", result.riders[s.most].name},
                    {"saved_most_W", number(s.most_W, 1)}});
  return list;
}

Json groups_json(const Scenario& scenario, const RideResult& result) {
  Json list = Json::array();
  for (const GroupSpan& group : result.groups)
    list.push_back({{"id", group.id},
                    {"from_s", number(group.from_s, 1)},
                    {"to_s", number(group.to_s, 1)},
                    {"largest", group.largest},
                    {"riders", names_of(scenario, group.riders)}});
  return list;
}

/// Who came in together: a new group begins where the time to the rider ahead is a second or more, as racing shows it.
std::vector<std::vector<std::uint32_t>> finish_groups(const RideResult& result) {
  constexpr double new_group_s = 1.0;  // wheel to wheel (rules of racing, second-hand)
  std::vector<std::uint32_t> order;
  for (std::uint32_t i = 0; i < result.riders.size(); ++i)
    if (result.riders[i].finished) order.push_back(i);
  std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    return std::tie(result.riders[a].finish_time_s, result.riders[a].name) <
           std::tie(result.riders[b].finish_time_s, result.riders[b].name);
  });
  std::vector<std::vector<std::uint32_t>> groups;
  double ahead_s = -1e9;
  for (const std::uint32_t i : order) {
    if (result.riders[i].finish_time_s - ahead_s >= new_group_s) groups.emplace_back();
    groups.back().push_back(i);
    ahead_s = result.riders[i].finish_time_s;
  }
  return groups;
}

Json finish_groups_json(const Scenario& scenario, const RideResult& result) {
  Json list = Json::array();
  for (const std::vector<std::uint32_t>& group : finish_groups(result))
    list.push_back(
        {{"first_s", number(result.riders[group.front()].finish_time_s, 1)}, {"riders", names_of(scenario, group)}});
  return list;
}

/// The values of a reason under their names, in SI.
Json values_json(const Because& because) {
  Json values = Json::object();
  const ReasonRow& row = reason_rows()[static_cast<std::size_t>(because.reason)];
  for (std::size_t k = 0; k < row.values.size() && !row.values[k].name.empty(); ++k)
    values[std::string(row.values[k].name)] = number(because.values[k], 3);
  return values;
}

Json events_json(const Scenario& scenario, const RideResult& result) {
  Json list = Json::array();
  for (const Event& event : result.events)
    list.push_back(
        {{"kind", event_names[static_cast<std::size_t>(event.kind)]},
         {"time_s", number(event.time_s, 1)},
         {"distance_m", number(event.distance_m, 1)},
         {"group", event.group == no_group ? Json(nullptr) : Json(event.group)},
         {"riders", names_of(scenario, event.riders)},
         {"cause", because_text(event.because, event.group, name_in(scenario))},
         {"reason", reason_rows()[static_cast<std::size_t>(event.because.reason)].name},
         {"about", event.because.other == no_rider ? Json(nullptr) : Json(name_in(scenario)(event.because.other))},
         {"from_group", event.because.from_group == no_group ? Json(nullptr) : Json(event.because.from_group)},
         {"values", values_json(event.because)}});
  return list;
}

Json debts_json(const Scenario& scenario, const RideResult& result) {
  Json list = Json::array();
  for (const LeeDebt& debt : result.debts)
    list.push_back({{"giver", scenario.riders.at(debt.giver).name},
                    {"receiver", scenario.riders.at(debt.receiver).name},
                    {"saved_kJ", number(debt.saved_J / 1000.0, 3)}});
  return list;
}

Json give_and_take_json(const Scenario& scenario, const RideResult& result) {
  const GiveAndTake book = give_and_take(result.riders.size(), result.debts);
  Json net = Json::array(), circles = Json::array();
  for (std::size_t i = 0; i < book.net_J.size(); ++i)
    net.push_back({{"rider", scenario.riders.at(i).name}, {"net_kJ", number(book.net_J[i] / 1000.0, 3)}});
  for (const std::vector<std::uint32_t>& circle : book.circles) circles.push_back(names_of(scenario, circle));
  return {{"net", net},
          {"circles", circles},
          {"chain", {{"riders", names_of(scenario, book.chain)}, {"net_kJ", number(book.chain_J / 1000.0, 3)}}}};
}

}  // namespace

std::string summary_json(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo) {
  Json riders = Json::array();
  for (std::size_t i = 0; i < result.riders.size(); ++i) riders.push_back(rider_json(result.riders[i], solo_of(solo, i)));
  const double largest_error = result.riders.empty() ? none : result.riders[worst_ledger(result)].ledger.error();
  const Json summary = {{"layout_version", summary_layout_version},
                        {"program_version", LEEWHEEL_VERSION},
                        {"title", scenario.title},
                        {"question", scenario.question},
                        {"finding_expected", scenario.finding},
                        {"road", road_json(scenario.road)},
                        {"day", day_json(scenario)},
                        {"ride", ride_json(scenario, result)},
                        {"range", "none: one ride with one set of inputs"},
                        {"ledger_error_largest", number(largest_error, 15)},
                        {"riders", riders},
                        {"stretches", stretches_json(scenario, result)},
                        {"groups", groups_json(scenario, result)},
                        {"finish_groups", finish_groups_json(scenario, result)},
                        {"events", events_json(scenario, result)},
                        {"debts", debts_json(scenario, result)},
                        {"give_and_take", give_and_take_json(scenario, result)},
                        {"cautions", cautions}};
  return summary.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string riders_csv(const Scenario&, const RideResult& result, const std::vector<RideResult>& solo) {
  std::string csv =
      "name,finished,finish_time_s,waited_s,distance_m,mean_power_W,work_kJ,saved_kJ,saved_percent,given_kJ,sheltered_share,"
      "wbal_end_J,wbal_least_J,solo_time_s,time_saved_s,overlap_s,largest_side_force_N,ledger_error\n";
  for (std::size_t i = 0; i < result.riders.size(); ++i) {
    const RiderResult& r = result.riders[i];
    const RiderResult* const alone_again = solo_of(solo, i);
    csv += row({cell(r.name), r.finished ? "yes" : "no", cell(r.finished ? r.finish_time_s : none, 1), cell(r.waited_s, 1),
                cell(r.distance_m, 1), cell(r.mean_power_W, 1), cell(r.ledger.pedal_J / 1000.0, 2),
                cell(r.ledger.saved_J / 1000.0, 2), cell(percent(r.ledger.saved_J, r.ledger.alone_J), 2),
                cell(r.given_J / 1000.0, 2), cell(r.sheltered_share, 4), cell(r.wbal_end_J, 0), cell(r.wbal_least_J, 0),
                cell(alone_again && alone_again->finished ? alone_again->finish_time_s : none, 1),
                cell(time_saved_s(r, alone_again), 1), cell(r.overlap_s, 1), cell(r.largest_side_force_N, 1),
                cell(r.ledger.error(), 15)});
  }
  return csv;
}

std::string stretches_csv(const Scenario&, const RideResult& result, const std::vector<RideResult>& solo) {
  std::string csv =
      "rider,from,to,from_m,to_m,arrives_s,arrives_power_W,time_s,solo_time_s,mean_power_W,work_kJ,saved_J,saved_W,saved_"
      "percent,sheltered_share,"
      "wbal_J\n";
  for (std::size_t i = 0; i < result.riders.size(); ++i)
    for (const StretchRidden& s : stretches_of(result.riders[i], solo_of(solo, i)))
      csv += row({cell(result.riders[i].name), cell(s.from), cell(s.to), cell(s.from_m, 1), cell(s.to_m, 1),
                  cell(s.arrives_s, 1), cell(s.arrives_power_W, 1), cell(s.time_s, 1), cell(s.solo_time_s, 1),
                  cell(s.pedal_J / s.time_s, 1), cell(s.pedal_J / 1000.0, 2), cell(s.saved_J, 0), cell(s.saved_W(), 1),
                  cell(percent(s.saved_J, s.alone_J), 2), cell(s.sheltered_s / s.time_s, 4), cell(s.wbal_J, 0)});
  return csv;
}

namespace {
std::string group_cell(std::int32_t group) { return group == no_group ? "" : std::to_string(group); }

/// "asked_W=208.417; will_give_W=200"
std::string values_cell(const Because& because) {
  std::vector<std::string> parts;
  const ReasonRow& row = reason_rows()[static_cast<std::size_t>(because.reason)];
  for (std::size_t k = 0; k < row.values.size() && !row.values[k].name.empty(); ++k)
    parts.push_back(fmt::format("{}={}", row.values[k].name, cell(because.values[k], 3)));
  return fmt::format("{}", fmt::join(parts, "; "));
}
}  // namespace

std::string events_csv(const Scenario& scenario, const RideResult& result) {
  std::string csv = "time_s,distance_m,kind,group,riders,cause,reason,about,from_group,values\n";
  for (const Event& event : result.events)
    csv += row({cell(event.time_s, 1), cell(event.distance_m, 1),
                std::string(event_names[static_cast<std::size_t>(event.kind)]), group_cell(event.group),
                cell(fmt::format("{}", fmt::join(names_of(scenario, event.riders), "; "))),
                cell(because_text(event.because, event.group, name_in(scenario))),
                std::string(reason_rows()[static_cast<std::size_t>(event.because.reason)].name),
                event.because.other == no_rider ? "" : cell(name_in(scenario)(event.because.other)),
                group_cell(event.because.from_group), values_cell(event.because)});
  return csv;
}

std::string lee_graphml(const Scenario& scenario, const RideResult& result) {
  pugi::xml_document document;
  pugi::xml_node declaration = document.append_child(pugi::node_declaration);
  declaration.append_attribute("version") = "1.0";
  declaration.append_attribute("encoding") = "UTF-8";
  pugi::xml_node root = document.append_child("graphml");
  root.append_attribute("xmlns") = "http://graphml.graphdrawing.org/xmlns";

  const auto key = [&](const char* id, const char* of, const char* name, const char* type) {
    pugi::xml_node node = root.append_child("key");
    node.append_attribute("id") = id;
    node.append_attribute("for") = of;
    node.append_attribute("attr.name") = name;
    node.append_attribute("attr.type") = type;
  };
  key("name", "node", "name", "string");
  key("saved_J", "edge", "saved_J", "double");

  pugi::xml_node graph = root.append_child("graph");
  graph.append_attribute("id") = "lee";
  graph.append_attribute("edgedefault") = "directed";
  const auto data = [](pugi::xml_node of, const char* id, const std::string& value) {
    pugi::xml_node node = of.append_child("data");
    node.append_attribute("key") = id;
    node.text().set(value.c_str());
  };
  for (std::size_t i = 0; i < scenario.riders.size(); ++i) {
    pugi::xml_node node = graph.append_child("node");
    node.append_attribute("id") = fmt::format("r{}", i).c_str();
    data(node, "name", scenario.riders[i].name);
  }
  for (const LeeDebt& debt : result.debts) {
    pugi::xml_node edge = graph.append_child("edge");
    edge.append_attribute("source") = fmt::format("r{}", debt.giver).c_str();
    edge.append_attribute("target") = fmt::format("r{}", debt.receiver).c_str();
    data(edge, "saved_J", cell(debt.saved_J, 1));
  }
  std::ostringstream text;
  document.save(text, "  ");
  return text.str();
}

// ---- the summary for people ----

namespace {

constexpr std::size_t page_columns = 100;
constexpr std::size_t riders_shown = 40, events_shown = 20, debts_shown = 5;

struct Glyph {
  std::size_t bytes, columns;
  bool control;
};

/// The character at the start of `text` and the room it takes on a terminal; marks that combine take none, and the
/// wide ranges of Unicode's East Asian Width (UAX 11, in rough blocks) take two.
Glyph first_glyph(std::string_view text) {
  const auto byte = static_cast<unsigned char>(text[0]);
  std::size_t bytes = byte < 0x80 ? 1 : byte >= 0xF0 ? 4 : byte >= 0xE0 ? 3 : 2;
  bytes = std::min(bytes, text.size());
  char32_t code = bytes == 1 ? byte : byte & (0x7F >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) code = code << 6 | (static_cast<unsigned char>(text[i]) & 0x3F);
  const auto in = [code](char32_t low, char32_t high) { return code >= low && code <= high; };
  if (code < 0x20 || in(0x7F, 0x9F)) return {bytes, 1, true};
  if (in(0x300, 0x36F) || in(0x200B, 0x200F) || in(0xFE00, 0xFE0F) || in(0x20D0, 0x20FF)) return {bytes, 0, false};
  const bool wide = in(0x1100, 0x115F) || in(0x2E80, 0xA4CF) || in(0xAC00, 0xD7A3) || in(0xF900, 0xFAFF) ||
                    in(0xFE30, 0xFE6F) || in(0xFF00, 0xFF60) || in(0x1F300, 0x1FAFF) || in(0x20000, 0x3FFFD);
  return {bytes, wide ? 2u : 1u, false};
}

std::size_t columns_of(std::string_view text) {
  std::size_t columns = 0;
  while (!text.empty()) {
    const Glyph glyph = first_glyph(text);
    columns += glyph.columns;
    text.remove_prefix(glyph.bytes);
  }
  return columns;
}

/// Cut to `columns` with an ellipsis; control characters, which could play tricks on a terminal, become '?'.
std::string shortened(std::string_view text, std::size_t columns) {
  const bool fits = columns_of(text) <= columns;
  std::string kept;
  for (std::size_t used = 0; !text.empty();) {
    const Glyph glyph = first_glyph(text);
    if (!fits && used + glyph.columns + 1 > columns) return kept + "…";
    kept += glyph.control ? std::string("?") : std::string(text.substr(0, glyph.bytes));
    used += glyph.columns;
    text.remove_prefix(glyph.bytes);
  }
  return kept;
}

std::string left(std::string_view text, std::size_t columns) {
  const std::string kept = shortened(text, columns);
  return kept + std::string(columns - columns_of(kept), ' ');
}

std::string right(std::string_view text, std::size_t columns) {
  const std::string kept = shortened(text, columns);
  return std::string(columns - columns_of(kept), ' ') + kept;
}

/// `lead`, then the words of `text` broken into lines that fit the page and hang below the first word.
std::string wrapped(const std::string& lead, const std::string& text) {
  const std::size_t indent = columns_of(lead);
  std::string page = lead;
  std::size_t used = indent;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    word = shortened(word, page_columns - indent);
    const std::size_t columns = columns_of(word);
    const bool first_of_line = used == indent;
    if (!first_of_line && used + 1 + columns > page_columns) {
      page += "\n" + std::string(indent, ' ');
      used = indent;
    } else if (!first_of_line) {
      page += ' ';
      ++used;
    }
    page += word;
    used += columns;
  }
  return page + "\n";
}

std::string clock(double time_s) {
  if (!std::isfinite(time_s)) return "–";
  const long s = std::lround(time_s);
  return s < 3600 ? fmt::format("{}:{:02}", s / 60, s % 60) : fmt::format("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
}

std::string shown(double value, int decimals) {
  return std::isfinite(value) ? fmt::format("{:.{}f}", number(value, decimals).get<double>(), decimals) : "–";
}

std::string against_alone(double saved_s) {
  if (!std::isfinite(saved_s)) return "–";
  if (std::lround(saved_s) == 0) return "even";
  return clock(std::abs(saved_s)) + (saved_s > 0.0 ? " sooner" : " later");
}

/// Terminal colours, or none.
struct Ink {
  bool on;
  std::string title(const std::string& text) const { return on ? "\x1b[1m" + text + "\x1b[0m" : text; }
  std::string heading(const std::string& text) const { return on ? "\x1b[1;36m" + text + "\x1b[0m" : text; }
  std::string quiet(const std::string& text) const { return on ? "\x1b[2m" + text + "\x1b[0m" : text; }
  std::string saving(const std::string& text) const { return on ? "\x1b[32m" + text + "\x1b[0m" : text; }
};

std::string the_road(const Scenario& scenario, const ShownUnits& units) {
  const RoadFacts f = scenario.road.facts();
  return fmt::format(
      "{:.1f} {km}, {:.0f} {m} up, {:.0f} {m} down, {:.1f} % on average; steepest 100 m {:.1f} % from {km} {:.1f}",
      units.way(f.length_m), units.height(f.ascent_m), units.height(f.descent_m), f.mean_grade * 100.0,
      f.steepest_100m_grade * 100.0, units.way(f.steepest_at_m), fmt::arg("km", units.way_name()),
      fmt::arg("m", units.height_name()));
}

std::string the_day(const Scenario& scenario, const ShownUnits& units) {
  const std::vector<ForecastPoint>& forecast = scenario.wind.forecast;
  std::string text = fmt::format("wind {:.1f} {} from {:.0f}°", units.wind(forecast.front().speed_mps), units.wind_name(),
                                 from_deg(forecast.front()));
  if (forecast.size() > 1)
    text += fmt::format(", at {} {:.1f} from {:.0f}°", clock(forecast.back().time_s), units.wind(forecast.back().speed_mps),
                        from_deg(forecast.back()));
  return text + fmt::format(" (10 m up); {:.0f} {}, air {:.2f} kg/m³", units.warmth(scenario.air.temperature_C),
                            units.warmth_name(), start_density_kgpm3(scenario));
}

std::string the_ride(const Scenario& scenario, const RideResult& result) {
  const auto finished = std::count_if(result.riders.begin(), result.riders.end(), [](const auto& r) { return r.finished; });
  const std::size_t all = result.riders.size();
  std::string end;
  if (static_cast<std::size_t>(finished) == all)
    end = "all at the finish after " + clock(result.time_s);
  else if (result.end == RideEnd::time_limit)
    end = fmt::format("{} of {} at the finish within the time limit of {}", finished, all, clock(result.time_s));
  else if (result.end == RideEnd::rider_stalled)
    end = fmt::format("{} of {} at the finish; a rider came to a stop, ended after {}", finished, all, clock(result.time_s));
  else
    end = fmt::format("{} of {} at the finish, cut off after {}", finished, all, clock(result.time_s));
  return fmt::format("{}, {} rider{}, {}; seed {}, step {} s", ride_kind_names[static_cast<std::size_t>(scenario.ride.kind)],
                     all, all == 1 ? "" : "s", end, scenario.ride.seed, scenario.ride.step_s);
}

std::string riders_table(const RideResult& result, const std::vector<RideResult>& solo, const Ink& ink,
                         const ShownUnits& units) {
  std::size_t name_columns = columns_of("Riders");
  for (const RiderResult& rider : result.riders) name_columns = std::max(name_columns, columns_of(rider.name));
  name_columns = std::min<std::size_t>(name_columns, 16);

  std::string text = ink.heading(left("Riders", name_columns) + right("finish", 9) + right("against alone", 16) +
                                 right("mean", 7) + right("work", 7) + right("saved", 8) + right("", 8) + right("gave", 8) +
                                 right("in the lee", 12) + right("W′ left", 9)) +
                     "\n";
  text += ink.quiet(left("", name_columns) + right("", 9) + right("", 16) + right("W", 7) + right("kJ", 7) + right("kJ", 8) +
                    right("%", 8) + right("kJ", 8) + right("% of time", 12) + right("kJ", 9)) +
          "\n";
  for (std::size_t i = 0; i < std::min(result.riders.size(), riders_shown); ++i) {
    const RiderResult& r = result.riders[i];
    text +=
        left(r.name, name_columns) +
        right(r.finished ? clock(r.finish_time_s) : fmt::format("{} {:.1f}", units.way_name(), units.way(r.distance_m)), 9) +
        right(against_alone(time_saved_s(r, solo_of(solo, i))), 16) + right(shown(r.mean_power_W, 0), 7) +
        right(shown(r.ledger.pedal_J / 1000.0, 0), 7) +
        ink.saving(right(shown(r.ledger.saved_J / 1000.0, 1), 8) +
                   right(shown(percent(r.ledger.saved_J, r.ledger.alone_J), 1), 8)) +
        right(shown(r.given_J / 1000.0, 1), 8) + right(shown(100.0 * r.sheltered_share, 0), 12) +
        right(shown(r.wbal_end_J / 1000.0, 1), 9) + "\n";
  }
  if (result.riders.size() > riders_shown)
    text += ink.quiet(fmt::format("and {} more in riders.csv", result.riders.size() - riders_shown)) + "\n";
  return text;
}

/// Each rider's clock, power and W' at each landmark, a few landmarks side by side.
std::string at_landmarks(const RideResult& result, const Ink& ink) {
  std::size_t landmarks = 0, name_columns = columns_of("At the landmarks");
  for (const RiderResult& rider : result.riders) landmarks = std::max(landmarks, rider.landmarks.size());
  if (landmarks == 0) return "";
  constexpr std::size_t side_by_side = 3, cell_columns = 27;
  std::string text;
  for (std::size_t first = 0; first < landmarks; first += side_by_side) {
    const std::size_t end = std::min(landmarks, first + side_by_side);
    std::string names = left(first == 0 ? "At the landmarks" : "", name_columns);
    for (std::size_t k = first; k < end; ++k)
      for (const RiderResult& rider : result.riders)
        if (k < rider.landmarks.size()) {
          names += right(shortened(rider.landmarks[k].name, cell_columns - 2), cell_columns);
          break;
        }
    text += ink.heading(names) + "\n";
    for (std::size_t i = 0; i < std::min(result.riders.size(), riders_shown); ++i) {
      const RiderResult& rider = result.riders[i];
      text += left(rider.name, name_columns);
      for (std::size_t k = first; k < end; ++k) {
        const bool there = k < rider.landmarks.size();
        text += right(there ? fmt::format("{}  {:>3.0f} W  W\u2032 {:>4.1f} kJ", clock(rider.landmarks[k].time_s),
                                          rider.landmarks[k].power_W, rider.landmarks[k].wbal_J / 1000.0)
                            : "–",
                      cell_columns);
      }
      text += "\n";
    }
  }
  if (result.riders.size() > riders_shown) text += ink.quiet("the others in stretches.csv") + "\n";
  return text;
}

std::string where_it_saved(const Scenario& scenario, const RideResult& result, const Ink& ink, const ShownUnits& units) {
  const std::vector<StretchOfRide> stretches = stretches_of_ride(scenario, result);
  if (stretches.empty()) return "";
  double largest_W = 0.1;
  for (const StretchOfRide& s : stretches) largest_W = std::max(largest_W, s.saved_W);

  std::string text = ink.heading(left("Where the wheel saved", 40) + right(units.way_name(), 6) + right("grade", 9) +
                                 right("on average", 12) + "   " + "most") +
                     "\n";
  for (const StretchOfRide& s : stretches) {
    const auto bar = static_cast<std::size_t>(std::lround(std::clamp(s.saved_W / largest_W, 0.0, 1.0) * 10.0));
    std::string bars;
    for (std::size_t k = 0; k < bar; ++k) bars += "▪";
    text += left(s.from + " to " + s.to, 40) + right(shown(units.way(s.to_m - s.from_m), 1), 6) +
            right(shown(s.grade * 100.0, 1) + " %", 9) + ink.saving(right(shown(s.saved_W, 0) + " W", 12)) + "   " +
            left(fmt::format("{} {}", result.riders[s.most].name, shown(s.most_W, 0) + " W"), 18) + " " + ink.saving(bars);
    text.erase(text.find_last_not_of(' ') + 1);
    text += "\n";
  }
  return text;
}

std::string enumeration(const std::vector<std::string>& names) {
  if (names.size() > 5) return fmt::format("{}, {}, {} and {} more", names[0], names[1], names[2], names.size() - 3);
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) text += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
  return text;
}

/// In a race: the groups at the top, a second or more apart.
std::string at_the_top(const Scenario& scenario, const RideResult& result, const Ink& ink) {
  const auto groups = finish_groups(result);
  if (scenario.ride.kind != RideKind::race || groups.size() < 2) return "";
  constexpr std::size_t shown_groups = 12;
  std::string text = ink.heading("At the top, groups a second or more apart") + "\n";
  const double first_s = result.riders[groups.front().front()].finish_time_s;
  for (std::size_t k = 0; k < std::min(groups.size(), shown_groups); ++k) {
    const double behind_s = result.riders[groups[k].front()].finish_time_s - first_s;
    const std::vector<std::string> names = names_of(scenario, groups[k]);
    text += fmt::format("  {:>9}  {:>4} {}  {}\n", k == 0 ? clock(first_s) : "+" + clock(behind_s), groups[k].size(),
                        groups[k].size() == 1 ? "rider " : "riders", shortened(enumeration(names), 60));
  }
  if (groups.size() > shown_groups)
    text += ink.quiet(fmt::format("and {} groups more in summary.json", groups.size() - shown_groups)) + "\n";
  return text;
}

std::string who_gave(const Scenario& scenario, const RideResult& result, const Ink& ink) {
  std::vector<LeeDebt> debts = result.debts;
  std::stable_sort(debts.begin(), debts.end(), [](const LeeDebt& a, const LeeDebt& b) { return a.saved_J > b.saved_J; });
  std::vector<std::string> parts;
  for (std::size_t i = 0; i < std::min(debts.size(), debts_shown) && debts[i].saved_J >= 50.0; ++i)
    parts.push_back(fmt::format("{} to {} {:.1f} kJ", scenario.riders.at(debts[i].giver).name,
                                scenario.riders.at(debts[i].receiver).name, debts[i].saved_J / 1000.0));
  if (parts.empty()) return "";
  std::string text = ink.heading("Who gave the most lee") + "\n" + wrapped("  ", fmt::format("{}", fmt::join(parts, ", ")));
  const auto list = [&](std::span<const std::uint32_t> riders) {
    return enumeration(names_of(scenario, {riders.begin(), riders.end()}));
  };
  for (const std::string& line :
       give_and_take_lines(give_and_take(result.riders.size(), result.debts), name_in(scenario), list))
    text += wrapped("  ", line);
  return text;
}

/// How much an event matters to someone told of the ride afterwards: 0 always told, 2 only counted.
int told_at(EventKind kind) {
  switch (kind) {
    case EventKind::dropped:
    case EventKind::split:
    case EventKind::merged:
    case EventKind::regrouped:
    case EventKind::caution: return 0;
    case EventKind::formed:
    case EventKind::joined:
    case EventKind::lets_go:
    case EventKind::chases:
    case EventKind::goes_alone:
    case EventKind::waits: return 1;
    default: return 2;
  }
}

/// The events worth a line, at most `events_shown`, in order of time: the weightier kinds first have their place.
std::set<std::size_t> told_events(const RideResult& result) {
  std::set<std::size_t> told;
  for (const int rank : {0, 1})
    for (std::size_t i = 0; i < result.events.size() && told.size() < events_shown; ++i)
      if (told_at(result.events[i].kind) == rank) told.insert(i);
  return told;
}

std::string groups_story(const Scenario& scenario, const RideResult& result, const Ink& ink, const ShownUnits& units) {
  const std::set<std::size_t> told = told_events(result);
  std::string text = ink.heading("The groups") + "\n";
  for (const std::size_t i : told) {
    const Event& event = result.events[i];
    const std::string when =
        fmt::format("  {:>7}  {} {:>4.1f}  ", clock(event.time_s), units.way_name(), units.way(event.distance_m));
    text += wrapped(when, event_story(event, enumeration(names_of(scenario, event.riders)), name_in(scenario)) + ": " +
                              because_text(event.because, event.group, name_in(scenario), units));
  }
  std::map<std::size_t, int> others;
  for (std::size_t i = 0; i < result.events.size(); ++i)
    if (!told.contains(i)) ++others[static_cast<std::size_t>(result.events[i].kind)];
  std::vector<std::string> counts;
  for (const auto& [kind, count] : others) counts.push_back(fmt::format("{}\u00a0×\u00a0{}", event_names[kind], count));
  if (told.empty()) text += "  nobody joined and nobody left\n";
  if (!counts.empty()) text += wrapped("  and in events.csv: ", fmt::format("{}", fmt::join(counts, ", ")));
  return text;
}

/// The published laws of recovery disagree: the rider for whom that matters most.
std::string recovery_band(const RideResult& result) {
  const auto band_J = [](const RiderResult& rider) {
    const auto [least, most] = std::minmax_element(rider.wbal_end_by_law_J.begin(), rider.wbal_end_by_law_J.end());
    return std::pair(*least, *most);
  };
  const auto width_J = [&](const RiderResult& rider) { return band_J(rider).second - band_J(rider).first; };
  const auto widest = std::max_element(result.riders.begin(), result.riders.end(),
                                       [&](const RiderResult& a, const RiderResult& b) { return width_J(a) < width_J(b); });
  const auto [least_J, most_J] = band_J(*widest);
  return fmt::format("W\u2032 laws    disagree by up to {:.1f} kJ at the end: {} ends with {:.1f} to {:.1f} kJ\n",
                     width_J(*widest) / 1000.0, shortened(widest->name, 16), least_J / 1000.0, most_J / 1000.0);
}

std::string books_and_hazards(const Scenario& scenario, const RideResult& result) {
  if (result.riders.empty()) return "";
  const RiderResult& worst = result.riders[worst_ledger(result)];
  double overlap_s = 0.0;
  const RiderResult* pushed = &result.riders.front();
  for (const RiderResult& rider : result.riders) {
    overlap_s += rider.overlap_s;
    if (rider.largest_side_force_N > pushed->largest_side_force_N) pushed = &rider;
  }
  std::string text = fmt::format("The books  energy closes to {:.0e} of the work (largest error, {})\n",
                                 worst.ledger.error(), shortened(worst.name, 16));
  text += "The range  none: one ride with one set of inputs; leewheel spread rides it on many days\n";
  text += recovery_band(result);
  if (!scenario.ride.regroup_at_m.empty())
    text += "The times  hold the waits at regroup points; \"against alone\" compares riding time only\n";
  return text + fmt::format("Hazards    wheels overlapped for {:.0f} rider-seconds; largest side force {:.0f} N ({})\n",
                            overlap_s, pushed->largest_side_force_N, shortened(pushed->name, 16));
}

}  // namespace

std::string summary_text(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo,
                         bool colour, const ShownUnits& units) {
  const Ink ink{colour};
  std::string text = ink.title(shortened(scenario.title, page_columns)) + "\n";
  if (!scenario.question.empty()) text += wrapped("", scenario.question);
  text += "\n" + wrapped("The road  ", the_road(scenario, units)) + wrapped("The day   ", the_day(scenario, units)) +
          wrapped("The ride  ", the_ride(scenario, result));
  text += "\n" + riders_table(result, solo, ink, units);
  for (const std::string& part :
       {at_landmarks(result, ink), at_the_top(scenario, result, ink), where_it_saved(scenario, result, ink, units),
        who_gave(scenario, result, ink), groups_story(scenario, result, ink, units)})
    if (!part.empty()) text += "\n" + part;
  text += "\n" + books_and_hazards(scenario, result) + "\n";
  for (const char* caution : cautions) text += ink.quiet(caution) + "\n";
  return text;
}

}  // namespace leewheel
