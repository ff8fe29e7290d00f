#include "io/trace_parts.hpp"

#include <algorithm>

namespace leewheel {

RoadProfile read_road_of(const Hdf5Reader& from) {
  RoadProfile road;
  road.spacing_m = from.number<double>("road", "spacing_m");
  road.has_position = from.number<std::uint8_t>("road", "has_position") != 0;
  road.latitude_rad = from.number<double>("road", "latitude_rad");
  road.longitude_rad = from.number<double>("road", "longitude_rad");
  road.elevation_m = from.vector<double>("road/elevation_m");
  road.heading_rad = from.vector<double>("road/heading_rad");
  road.rolling = from.vector<double>("road/rolling");
  road.width_m = from.vector<double>("road/width_m");
  road.abreast = from.vector<std::uint8_t>("road/abreast");
  const auto exposure = [&](const std::string& name) {
    std::vector<Exposure> classes;
    for (const std::uint8_t number : from.vector<std::uint8_t>(name)) {
      if (number >= exposure_names.size()) from.fail(name, "found class " + std::to_string(number) + ", unknown here");
      classes.push_back(static_cast<Exposure>(number));
    }
    return classes;
  };
  road.exposure_left = exposure("road/exposure_left");
  road.exposure_right = exposure("road/exposure_right");

  const std::size_t points = road.elevation_m.size();
  const bool equal = road.heading_rad.size() == points && road.rolling.size() == points && road.width_m.size() == points &&
                     road.abreast.size() == points && road.exposure_left.size() == points &&
                     road.exposure_right.size() == points;
  if (points < 2 || !equal || !(road.spacing_m > 0.0)) from.fail("road", "expected tables of one length, at least 2");

  const std::vector<std::string> names = from.texts("road/landmark_names");
  const std::vector<double> distance_m = from.vector<double>("road/landmark_distance_m");
  if (names.size() != distance_m.size()) from.fail("road/landmark_names", "expected one distance a name");
  for (std::size_t i = 0; i < names.size(); ++i) road.landmarks.push_back({names[i], distance_m[i]});
  return road;
}

std::vector<RiderSettings> read_riders(const Hdf5Reader& from) {
  std::vector<RiderSettings> riders;
  for (std::string& name : from.texts("riders/names")) riders.emplace_back().name = std::move(name);
  if (riders.empty()) from.fail("riders/names", "expected at least one rider");
  for (const auto& field : rider_fields()) {
    const std::string name = std::string("riders/settings/") + field.name;
    if (!from.has(name.c_str()) && field.lowest <= 0.0 && RiderSettings{}.*field.member == 0.0) continue;  // a later number
    const std::vector<double> values = from.vector<double>(name);
    if (values.size() != riders.size()) from.fail(name, "expected one number a rider");
    for (std::size_t i = 0; i < riders.size(); ++i) riders[i].*field.member = values[i];
  }
  return riders;
}

void read_plan(const Hdf5Reader& from, TraceHead& head) {
  head.plans.resize(head.riders.size());
  if (!from.has("plan")) return;  // nothing was planned, or an older program wrote the trace
  head.regroup_at_m = from.vector<double>("plan/regroup_at_m");
  const auto rider = from.vector<std::int32_t>("plan/rider");
  const auto from_m = from.vector<double>("plan/from_m"), effort = from.vector<double>("plan/effort");
  if (from_m.size() != rider.size() || effort.size() != rider.size()) from.fail("plan", "expected tables of one length");
  for (std::size_t k = 0; k < rider.size(); ++k) {
    if (rider[k] < 0 || static_cast<std::size_t>(rider[k]) >= head.riders.size())
      from.fail("plan/rider", "step " + std::to_string(k) + " is for a rider who is not in the ride");
    head.plans[static_cast<std::size_t>(rider[k])].push_back({from_m[k], effort[k]});
  }
}

WakeLaw read_wake(const Hdf5Reader& from) {
  WakeLaw law;
  if (from.has("wake", "law")) {
    const std::string name = from.text("wake", "law");
    const auto found = std::find(wake_law_names.begin(), wake_law_names.end(), name);
    if (found == wake_law_names.end()) from.fail("wake/law", "found '" + name + "', which is no wake law of this program");
    law = wake_law(static_cast<std::size_t>(found - wake_law_names.begin()));
  }
  std::visit(
      [&](auto& own) {
        for (const auto& field : own.fields()) own.*field.member = from.number<double>("wake", field.name);
      },
      law);
  return law;
}

std::vector<TowDebt> read_debts(const Hdf5Reader& from, std::size_t riders) {
  if (!from.has("debts")) return {};  // nobody gave anything
  const auto giver = from.vector<std::int32_t>("debts/giver"), receiver = from.vector<std::int32_t>("debts/receiver");
  const auto saved_J = from.vector<double>("debts/saved_J");
  if (receiver.size() != giver.size() || saved_J.size() != giver.size()) from.fail("debts", "expected tables of one length");
  std::vector<TowDebt> debts;
  const auto known = [&](std::int32_t rider) { return rider >= 0 && static_cast<std::size_t>(rider) < riders; };
  for (std::size_t k = 0; k < giver.size(); ++k) {
    if (!known(giver[k]) || !known(receiver[k]))
      from.fail("debts", "debt " + std::to_string(k) + " names a rider who is not in the ride");
    debts.push_back({static_cast<std::uint32_t>(giver[k]), static_cast<std::uint32_t>(receiver[k]), saved_J[k]});
  }
  return debts;
}

std::vector<Event> read_events(const Hdf5Reader& from, std::size_t riders) {
  const auto kind = from.vector<std::uint8_t>("events/kind");
  const auto time_s = from.vector<double>("events/time_s"), distance_m = from.vector<double>("events/distance_m");
  const auto group = from.vector<std::int32_t>("events/group"), first = from.vector<std::int32_t>("events/rider_first");
  const auto index = from.vector<std::int32_t>("events/rider_index");
  const auto reason = from.vector<std::uint8_t>("events/reason");
  const auto about = from.vector<std::int32_t>("events/about"), from_group = from.vector<std::int32_t>("events/from_group");
  const std::array<std::vector<double>, 3> values{
      from.vector<double>("events/value_0"), from.vector<double>("events/value_1"), from.vector<double>("events/value_2")};
  const std::size_t count = kind.size();
  if (time_s.size() != count || distance_m.size() != count || group.size() != count || first.size() != count ||
      reason.size() != count || about.size() != count || from_group.size() != count ||
      std::any_of(values.begin(), values.end(), [count](const auto& value) { return value.size() != count; }))
    from.fail("events", "expected tables of one length");

  std::vector<Event> events;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t end = i + 1 < count ? static_cast<std::size_t>(first[i + 1]) : index.size();
    if (kind[i] >= std::size(event_names) || first[i] < 0 || static_cast<std::size_t>(first[i]) > end ||
        end > index.size() || reason[i] >= reason_count || about[i] < -1 || about[i] >= static_cast<std::int32_t>(riders))
      from.fail("events", "event " + std::to_string(i) + " makes no sense");
    const Because because{static_cast<Reason>(reason[i]),
                          about[i] < 0 ? no_rider : static_cast<std::uint32_t>(about[i]),
                          {values[0][i], values[1][i], values[2][i]},
                          from_group[i]};
    Event& event =
        events.emplace_back(Event{static_cast<EventKind>(kind[i]), time_s[i], distance_m[i], {}, group[i], because});
    for (std::size_t k = first[i]; k < end; ++k) {
      if (index[k] < 0 || static_cast<std::size_t>(index[k]) >= riders)
        from.fail("events", "event " + std::to_string(i) + " names a rider who is not in the ride");
      event.riders.push_back(static_cast<std::uint32_t>(index[k]));
    }
  }
  return events;
}

}  // namespace leewheel
