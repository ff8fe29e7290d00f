#include "synthetic_ride.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/tactics.hpp"
#include "leewheel/units.hpp"
#include "leewheel/wake.hpp"

namespace leewheel::synthetic {
namespace {

constexpr const char* names[] = {"Anouk", "Bram",  "Cato", "Dirk",  "Elin",  "Fenn",
                                 "Gijs",  "Hanne", "Imke", "Joris", "Katja", "Lotte"};

RoadProfile road(double length_m) {
  const double scale = length_m / 12000.0;
  std::vector<Stretch> stretches;
  const auto add = [&](double length, double grade, Exposure left, Exposure right, double bend_m = 0) {
    Stretch s;
    s.length_m = length * scale, s.grade = grade, s.exposure_left = left, s.exposure_right = right, s.bend_radius_m = bend_m;
    stretches.push_back(s);
  };
  add(800, 0.005, Exposure::houses, Exposure::houses);
  add(3200, 0.015, Exposure::open_slope, Exposure::open_slope);
  add(3000, 0.075, Exposure::wood, Exposure::wood);
  add(1500, -0.01, Exposure::scattered_trees, Exposure::open_slope);
  add(2700, 0.04, Exposure::open_ridge, Exposure::open_ridge);
  add(800, 0.09, Exposure::open_ridge, Exposure::open_slope);
  RoadProfile profile = profile_from_stretches(stretches, 150.0);
  profile.landmarks = {{"Mill bridge", 800 * scale},
                       {"Wood gate", 4000 * scale},
                       {"Shepherds' flat", 7000 * scale},
                       {"Ridge gate", 8500 * scale}};
  return profile;
}

std::size_t group_of(const RideShape& shape, std::size_t rider) { return rider * shape.groups / shape.riders; }

double front_m(const RideShape& shape, double time_s, std::size_t group) {
  const double speed = shape.road_length_m / (0.95 * shape.duration_s);
  const double dropped_s = std::max(0.0, time_s - shape.duration_s / 4);
  return speed * time_s - 9.0 * static_cast<double>(group) - 0.04 * speed * static_cast<double>(group) * dropped_s;
}

}  // namespace

/// Coefficients of its own, so that the golden pictures stay as they are when the model's are fitted anew.
SuperposedWakes law() {
  SuperposedWakes law;
  law.obstruction = 1.6, law.length_m = 34.0, law.half_width_m = 0.9, law.line_depth = 0.31, law.crowd_depth = 0.6;
  law.closing = 0.32, law.closing_ahead_m = 10.0, law.closing_behind_m = 6.0, law.closing_half_width_m = 3.0;
  law.push = 0.017, law.push_reach_m = 3.4, law.crowd_push = 0.6, law.abreast_cost = 0.13, law.abreast_half_width_m = 2.0;
  law.halving_turbulence = 0.05, law.least_factor = 0.03, law.calm_turbulence = 0.03, law.wake_scale = 1.0;
  return law;
}

TraceHead head(const RideShape& shape) {
  TraceHead h;
  h.wake_law = law();
  h.title = "An invented ride";
  h.program_version = "test";
  h.road = road(shape.road_length_m);
  for (std::size_t i = 0; i < shape.riders; ++i) {
    RiderSettings r;
    r.name = i < std::size(names) ? names[i] : "Rider " + std::to_string(i + 1);
    h.riders.push_back(r);
  }
  for (double t = 0; t <= shape.duration_s; t += 1.0) h.time_s.push_back(t);
  const double scale = shape.road_length_m / 12000.0;
  h.regroup_at_m = {7000 * scale};
  h.plans.resize(shape.riders);
  h.plans[shape.riders / 2] = {{0.0, 0.8}, {4000 * scale, 0.95}, {8500 * scale, 0.75}};
  const auto last = static_cast<std::uint32_t>(shape.riders - 1);
  const double d = shape.duration_s;
  std::vector<std::uint32_t> everyone;
  for (std::uint32_t i = 0; i <= last; ++i) everyone.push_back(i);
  h.events = {
      {EventKind::formed, 3, front_m(shape, 3, 0), everyone, 1, {Reason::within_reach}},
      {EventKind::takes_turn, d * 0.1, front_m(shape, d * 0.1, 0), {0}, 1, {Reason::turn_begins, no_rider, {45.0}}},
      {EventKind::lets_go, d * 0.25, front_m(shape, d * 0.25, 0), {last}, 1, {Reason::wheel_too_costly, 0, {262.0, 234.0}}},
      {EventKind::dropped, d * 0.25 + 5, front_m(shape, d * 0.25, 0), {last}, 1, {Reason::let_wheel_go, 0}},
      {EventKind::caution, d * 0.6, front_m(shape, d * 0.6, 0), {0}, 1, {Reason::gust_across, no_rider, {38.0}}},
      {EventKind::finished, d * 0.95, shape.road_length_m, {0}, no_group, {Reason::at_the_finish}}};
  for (std::uint32_t i = 1; i <= last; ++i) {  // every wheel gives to the next and gets a little back
    h.debts.push_back({i - 1, i, 20000.0});
    if (i + 1 <= last) h.debts.push_back({i, i - 1, 4000.0});
  }
  return h;
}

RideSample sample(const RideShape& shape, const TraceHead& h, const Road& road, std::size_t index) {
  RideSample s;
  s.time_s = h.time_s[index];
  for (const SampleColumn& column : sample_columns()) (s.*column.values).assign(shape.riders, 0.0f);
  for (std::size_t i = 0; i < shape.riders; ++i) {
    const std::size_t group = group_of(shape, i);
    const std::size_t first = static_cast<std::size_t>(
        std::ranges::find_if(h.riders,
                             [&](const RiderSettings& r) {
                               return group_of(shape, static_cast<std::size_t>(&r - h.riders.data())) == group;
                             }) -
        h.riders.begin());
    const std::size_t row = (i - first) / (shape.riders > 20 ? 2 : 1);  // two abreast in big groups
    const double t = s.time_s, sway = std::sin(0.05 * t + static_cast<double>(i));
    const double wheel_gap_m = 0.5 + 0.2 * sway;
    const double x = front_m(shape, t, group) - static_cast<double>(row) * (bicycle_length_m + 0.5) + (row ? 0.2 * sway : 0);
    const bool home = x >= shape.road_length_m;
    const double place = std::clamp(x, -100.0, shape.road_length_m), grade = road.grade(place);
    const bool on_wheel = row > 0;
    const double factor = on_wheel ? 0.62 : 0.99, speed = 6.6;
    s.distance_m[i] = static_cast<float>(place);
    s.lateral_m[i] = static_cast<float>(-1.2 + (shape.riders > 20 ? 0.9 * static_cast<double>(i % 2) : 0.0) + 0.05 * sway);
    s.speed_mps[i] = static_cast<float>(home ? 0 : speed);
    s.gravity_W[i] = static_cast<float>(home ? 0 : 83 * standard_gravity_mps2 * grade * speed);
    s.air_W[i] = static_cast<float>(home ? 0 : 0.5 * 1.2 * 0.34 * 110 * speed * factor);
    s.rolling_W[i] = home ? 0 : 24;
    s.kinetic_W[i] = static_cast<float>(home ? 0 : 10 * sway);
    s.power_W[i] = home ? 0 : std::max(0.0f, (s.gravity_W[i] + s.air_W[i] + s.rolling_W[i] + s.kinetic_W[i]) / 0.976f);
    s.alone_power_W[i] =
        home ? 0 : s.power_W[i] + s.air_W[i] / static_cast<float>(factor) * static_cast<float>(1 - factor) / 0.976f;
    s.drag_factor[i] = home ? 1 : static_cast<float>(factor);
    s.wbal_J[i] = static_cast<float>(
        20000 * (1 - 0.9 * t / shape.duration_s * (0.5 + 0.5 * static_cast<double>(i) / static_cast<double>(shape.riders))));
    s.group_id[i] = home || shape.riders == 1 ? -1 : t < shape.duration_s / 4 ? 1 : static_cast<float>(1 + group);
    s.role[i] = static_cast<float>(home                ? Role::finished
                                   : shape.riders == 1 ? Role::alone
                                   : on_wheel          ? Role::following
                                                       : Role::front);
    s.wheel_of[i] = on_wheel && !home ? static_cast<float>(i - (shape.riders > 20 ? 2 : 1)) : -1;
    s.gap_m[i] = static_cast<float>(wheel_gap_m);
    s.wind_along_mps[i] = static_cast<float>(-3.0 - std::sin(place / 1500.0));
    s.wind_cross_mps[i] = static_cast<float>(1.5 * std::cos(place / 2000.0));
    s.drag_area_m2[i] = 0.34f;
    s.saved_J[i] = static_cast<float>(t * (on_wheel ? 42 : 1));
    s.pedal_J[i] = static_cast<float>(t * 180);
  }
  return s;
}

namespace {

class MemorySource : public view::RideSource {
 public:
  MemorySource(const RideShape& shape, const std::string& title) : head_(synthetic::head(shape)) {
    head_.title = title;
    const Road road(head_.road);
    for (std::size_t t = 0; t < head_.time_s.size(); ++t) samples_.push_back(synthetic::sample(shape, head_, road, t));
  }
  const TraceHead& head() const override { return head_; }
  void sample(std::size_t index, RideSample& into) override { into = samples_[index]; }

 private:
  TraceHead head_;
  std::vector<RideSample> samples_;
};

}  // namespace

std::unique_ptr<view::RideSource> source(const RideShape& shape, const std::string& title) {
  return std::make_unique<MemorySource>(shape, title);
}

void write_trace(const std::string& path, const RideShape& shape) {
  const TraceHead h = head(shape);
  Scenario scenario{h.title, "", "", Road(h.road), {}, 0.0, standard_gravity_mps2, {}, h.riders, h.plans, {}, {}, {}, {}};
  scenario.ride.regroup_at_m = h.regroup_at_m, scenario.wake = h.wake_law;
  TraceWriter writer(path, scenario, "title: An invented ride\n");
  for (std::size_t t = 0; t < h.time_s.size(); ++t) writer.append(sample(shape, h, scenario.road, t));
  writer.finish(h.events, h.debts);
}

view::Replay six_riders() { return view::Replay(source(six), "invented"); }

}  // namespace leewheel::synthetic
