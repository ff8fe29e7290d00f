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

  to.vector(group, "elevation_m", road.elevation_m, "m", "elevation of every grid point, spacing_m apart");
  to.vector(group, "heading_rad", road.heading_rad, "rad", "direction of travel, clockwise from north");
  to.vector(group, "rolling", road.rolling, "1", "rolling coefficient Crr");
  to.vector(group, "width_m", road.width_m, "m", "width of the whole road");
  to.vector(group, "abreast", road.abreast, "1", "riders allowed side by side");
  const auto exposure = [&](const char* name, const std::vector<Exposure>& classes, const char* side) {
    std::vector<std::uint8_t> numbers;
    for (const Exposure value : classes) numbers.push_back(static_cast<std::uint8_t>(value));
    const Handle set = to.vector(group, name, numbers, "1", std::string("exposure of the land on the ") + side);
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

void write_riders(const Hdf5Writer& to, hid_t group, const std::vector<RiderSettings>& riders) {
  std::vector<std::string> names;
  for (const RiderSettings& rider : riders) names.push_back(rider.name);
  to.texts(group, "names", names, "names of the riders, in the order of every table");
  const Handle settings = to.group(group, "settings");
  for (const auto& field : rider_fields()) {
    std::vector<double> values;
    for (const RiderSettings& rider : riders) values.push_back(rider.*field.member);
    to.vector(settings, field.name, values, unit_or_one(field.name), field.meaning);
  }
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
  const Handle kinds = to.vector(place, "kind", kind, "1", "what happened; the attribute names tells the numbers");
  to.attribute(kinds, "names", joined(event_names, ","));
  to.vector(place, "time_s", time_s, "s", "since the start of the ride");
  to.vector(place, "distance_m", distance_m, "m", "where, along the road");
  to.vector(place, "group", group, "1", "group it is about, -1 for none");
  to.vector(place, "rider_first", first, "1", "where the event's riders begin in rider_index");
  to.vector(place, "rider_index", index, "1", "riders of all events one after another, the subject of an event first");
  to.texts(place, "riders", names, "names of the riders, joined by commas");
  to.texts(place, "cause", causes, "why, in words");
  const Handle numbers = to.vector(place, "reason", reason, "1", "why; the attribute names tells the numbers");
  to.attribute(numbers, "names", joined(reasons, ","));
  to.vector(place, "about", other, "1", "index of the rider the reason is about, -1 for none");
  to.vector(place, "from_group", from_group, "1", "of a split or merger: the group before, -1 for none");
  for (std::size_t k = 0; k < values.size(); ++k)
    to.vector(place, ("value_" + std::to_string(k)).c_str(), values[k], "SI", "a value of the reason (docs/trace.md)");
}

}  // namespace leewheel
