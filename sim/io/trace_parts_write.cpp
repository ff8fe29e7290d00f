#include <algorithm>

#include "io/trace_parts.hpp"
#include "io/unit_names.hpp"
#include "words/phrases.hpp"

namespace leewheel {

void write_road(const Hdf5Writer& to, hid_t file, const RoadProfile& road) {
  const Handle group = to.group(file, "road");
  to.attribute(group, "spacing_m", road.spacing_m);
  to.attribute(group, "has_position", std::uint8_t{road.has_position});
  to.attribute(group, "latitude_rad", road.latitude_rad);
  to.attribute(group, "longitude_rad", road.longitude_rad);

  std::vector<double> at_m(road.elevation_m.size());
  for (std::size_t k = 0; k < at_m.size(); ++k) at_m[k] = static_cast<double>(k) * road.spacing_m;
  const Handle along = to.vector(group, "distance_m", at_m, "m", "distance of every grid point from the start");
  to.make_scale(along, "distance_m");
  const auto table = [&](const char* name, const auto& values, const char* unit, const std::string& meaning) {
    Handle set = to.vector(group, name, values, unit, meaning);
    to.lay_along(set, 0, along, "distance_m");
    return set;
  };
  table("elevation_m", road.elevation_m, "m", "elevation of every grid point, spacing_m apart");
  table("heading_rad", road.heading_rad, "rad", "direction of travel, clockwise from north");
  table("rolling", road.rolling, "1", "rolling coefficient Crr");
  table("width_m", road.width_m, "m", "width of the whole road");
  table("abreast", road.abreast, "1", "riders allowed side by side");
  const auto exposure = [&](const char* name, const std::vector<Exposure>& classes, const char* side) {
    std::vector<std::uint8_t> numbers;
    for (const Exposure value : classes) numbers.push_back(static_cast<std::uint8_t>(value));
    const Handle set = table(name, numbers, "1", std::string("exposure of the land on the ") + side);
    to.attribute(set, "names", joined(exposure_names, ","));
  };
  exposure("exposure_left", road.exposure_left, "left");
  exposure("exposure_right", road.exposure_right, "right");

  std::vector<std::string> names;
  std::vector<double> distance_m;
  for (const Landmark& landmark : road.landmarks) {
    names.push_back(landmark.name);
    distance_m.push_back(landmark.distance_m);
  }
  to.texts(group, "landmark_names", names, "names of the landmarks");
  to.vector(group, "landmark_distance_m", distance_m, "m", "distance of the landmarks from the start");
}

namespace {
/// The unit in a name; "1" for a mere number.
std::string unit_or_one(std::string_view name) {
  const std::string_view unit = plain_unit_of(name);
  return unit.empty() ? "1" : std::string(unit);
}
}  // namespace

Handle write_riders(const Hdf5Writer& to, hid_t group, const std::vector<RiderSettings>& riders) {
  std::vector<std::string> names;
  for (const RiderSettings& rider : riders) names.push_back(rider.name);
  Handle each = to.texts(group, "names", names, "names of the riders, in the order of every table");
  to.make_scale(each, "rider");
  const Handle settings = to.group(group, "settings");
  for (const auto& field : rider_fields()) {
    std::vector<double> values;
    for (const RiderSettings& rider : riders) values.push_back(rider.*field.member);
    to.lay_along(to.vector(settings, field.name, values, unit_or_one(field.name), field.meaning), 0, each, "rider");
  }
  return each;
}

void write_plan(const Hdf5Writer& to, hid_t file, const Scenario& scenario) {
  std::vector<std::int32_t> rider;
  std::vector<double> from_m, effort;
  for (std::size_t i = 0; i < std::min(scenario.plans.size(), scenario.riders.size()); ++i)
    for (const PlanStep& step : scenario.plans[i]) {
      rider.push_back(static_cast<std::int32_t>(i));
      from_m.push_back(step.from_m);
      effort.push_back(step.effort);
    }
  std::vector<double> waits_at_m;
  for (const PlannedStop& place : waiting_places(scenario.ride)) waits_at_m.push_back(place.at_m);
  if (rider.empty() && waits_at_m.empty()) return;
  const Handle group = to.group(file, "plan");
  to.vector(group, "regroup_at_m", waits_at_m, "m", "where the first wait for the last, stops included");
  to.vector(group, "rider", rider, "1", "index of the rider a step of a plan is for");
  to.vector(group, "from_m", from_m, "m", "where the step begins");
  to.vector(group, "effort", effort, "1", "share of critical power from there on");
}

/// The law is named unless it is the first, so that traces written before there was a second one are read as they were meant.
void write_wake(const Hdf5Writer& to, hid_t file, const WakeLaw& wake_law) {
  const Handle group = to.group(file, "wake");
  if (wake_law.index() != 0) to.attribute(group, "law", std::string(wake_law_names[wake_law.index()]));
  std::visit(
      [&](const auto& law) {
        for (const auto& field : law.fields()) to.attribute(group, field.name, law.*field.member);
      },
      wake_law);
}

void write_debts(const Hdf5Writer& to, hid_t file, const std::vector<TowDebt>& debts) {
  if (debts.empty()) return;
  std::vector<std::int32_t> giver, receiver;
  std::vector<double> saved_J;
  for (const TowDebt& debt : debts) {
    giver.push_back(static_cast<std::int32_t>(debt.giver));
    receiver.push_back(static_cast<std::int32_t>(debt.receiver));
    saved_J.push_back(debt.saved_J);
  }
  const Handle place = to.group(file, "debts");
  to.vector(place, "giver", giver, "1", "index of the rider who sheltered");
  to.vector(place, "receiver", receiver, "1", "index of the rider who was sheltered");
  to.vector(place, "saved_J", saved_J, "J", "work saved over the whole ride");
}

void write_events(const Hdf5Writer& to, hid_t file, const std::vector<Event>& events,
                  const std::vector<RiderSettings>& riders) {
  std::vector<std::uint8_t> kind;
  std::vector<double> time_s, distance_m;
  std::vector<std::int32_t> group, first, index;
  std::vector<std::string> names, causes, reasons;
  std::vector<std::uint8_t> reason;
  std::vector<std::int32_t> other, from_group;
  std::array<std::vector<double>, 3> values;
  const NameOf name = [&riders](std::uint32_t rider) -> const std::string& { return riders.at(rider).name; };
  for (const ReasonRow& row : reason_rows()) reasons.emplace_back(row.name);
  for (const Event& event : events) {
    kind.push_back(static_cast<std::uint8_t>(event.kind));
    time_s.push_back(event.time_s);
    distance_m.push_back(event.distance_m);
    group.push_back(event.group);
    first.push_back(static_cast<std::int32_t>(index.size()));
    std::vector<std::string> who;
    for (const std::uint32_t rider : event.riders) {
      index.push_back(static_cast<std::int32_t>(rider));
      who.push_back(riders.at(rider).name);
    }
    names.push_back(joined(who, ", "));
    causes.push_back(because_text(event.because, event.group, name));
    reason.push_back(static_cast<std::uint8_t>(event.because.reason));
    other.push_back(event.because.other == no_rider ? -1 : static_cast<std::int32_t>(event.because.other));
    from_group.push_back(event.because.from_group);
    for (std::size_t k = 0; k < values.size(); ++k) values[k].push_back(event.because.values[k]);
  }
  const Handle place = to.group(file, "events");
  const Handle when = to.vector(place, "time_s", time_s, "s", "since the start of the ride");
  to.make_scale(when, "time_s");
  const auto table = [&](const char* called, const auto& list, const char* unit, const char* meaning) {
    Handle set = to.vector(place, called, list, unit, meaning);
    to.lay_along(set, 0, when, "time_s");
    return set;
  };
  const auto numbered = [&](const char* called, const std::vector<std::uint8_t>& list, const char* meaning,
                            const auto& words) {
    to.attribute(table(called, list, "1", meaning), "names", joined(words, ","));
  };
  numbered("kind", kind, "what happened; the attribute names tells the numbers", event_names);
  table("distance_m", distance_m, "m", "where, along the road");
  table("group", group, "1", "group it is about, -1 for none");
  table("rider_first", first, "1", "where the event's riders begin in rider_index");
  to.vector(place, "rider_index", index, "1", "riders of all events one after another, the subject of an event first");
  to.lay_along(to.texts(place, "riders", names, "names of the riders, joined by commas"), 0, when, "time_s");
  to.lay_along(to.texts(place, "cause", causes, "why, in words"), 0, when, "time_s");
  numbered("reason", reason, "why; the attribute names tells the numbers", reasons);
  table("about", other, "1", "index of the rider the reason is about, -1 for none");
  table("from_group", from_group, "1", "of a split or merger: the group before, -1 for none");
  for (std::size_t k = 0; k < values.size(); ++k)
    table(("value_" + std::to_string(k)).c_str(), values[k], "SI", "a value of the reason (docs/trace.md)");
}

}  // namespace leewheel
