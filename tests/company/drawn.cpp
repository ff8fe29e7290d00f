#include "company/drawn.hpp"

#include <iomanip>
#include <numbers>
#include <random>
#include <sstream>

using namespace leewheel;

namespace company {

namespace {

/// The generator's own bits only: the standard's distributions differ between libraries.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : bits_(seed) {}
  double between(double low, double high) { return low + (high - low) * (static_cast<double>(bits_() >> 11) * 0x1.0p-53); }
  std::size_t below(std::size_t count) { return static_cast<std::size_t>(bits_() % count); }

 private:
  std::mt19937_64 bits_;
};

bool stays_together(RideKind kind) { return kind == RideKind::together || kind == RideKind::steady; }

enum class Shape : std::uint8_t { waves, stairs, climb, descent, mixed };
constexpr const char* shape_names[] = {"waves", "stairs", "climb", "descent", "mixed"};

Road road_of(Dice& dice, Shape shape, std::ostringstream& text) {
  const double length_m = 5000.0, each_m = shape == Shape::waves ? dice.between(80.0, 1200.0) : dice.between(150.0, 900.0);
  const double steepness = dice.between(0.01, 0.08);
  const auto exposure = static_cast<Exposure>(dice.below(exposure_names.size()));
  const double width_m = dice.between(4.0, 8.0);
  const bool bends = dice.below(2) == 0;
  std::vector<Stretch> stretches;
  for (double at_m = 0.0; at_m < length_m; at_m += each_m) {
    Stretch s;
    const bool even = stretches.size() % 2 == 0;
    s.length_m = each_m;
    switch (shape) {
      case Shape::waves: s.grade = even ? steepness : -steepness; break;
      case Shape::stairs: s.grade = even ? steepness : 0.0; break;
      case Shape::climb: s.grade = steepness; break;
      case Shape::descent: s.grade = -steepness; break;
      case Shape::mixed: s.grade = dice.between(-0.06, 0.08); break;
    }
    s.exposure_left = s.exposure_right =
        shape == Shape::mixed ? static_cast<Exposure>(dice.below(exposure_names.size())) : exposure;
    s.width_m = width_m;
    if (bends && dice.below(3) == 0) s.bend_radius_m = dice.between(40.0, 300.0) * (dice.below(2) ? 1.0 : -1.0);
    stretches.push_back(s);
  }
  text << shape_names[static_cast<std::size_t>(shape)] << " " << std::setprecision(2) << 100.0 * steepness << " % x "
       << std::setprecision(4) << each_m << " m, " << exposure_names[static_cast<std::size_t>(exposure)] << ", "
       << std::setprecision(2) << width_m << " m wide" << (bends ? ", bends" : "");
  return Road(profile_from_stretches(stretches, 200.0));
}

std::vector<RiderSettings> riders_drawn(Dice& dice, bool equals) {
  std::vector<double> critical_power_W(2 + dice.below(11), dice.between(150.0, 350.0));
  if (!equals)
    for (double& cp_W : critical_power_W) cp_W = dice.between(90.0, 400.0);
  std::vector<RiderSettings> riders = riders_of(critical_power_W);
  const double skill = dice.between(0.0, 1.0);
  for (RiderSettings& r : riders) r.wheel_skill = equals ? skill : dice.between(0.0, 1.0);
  return riders;
}

}  // namespace

Drawn draw(std::uint64_t seed) {
  Dice dice(seed);
  std::ostringstream text;
  const bool equals = dice.below(2) == 0;
  const auto kind = static_cast<RideKind>(dice.below(ride_kind_names.size()));
  text << ride_kind_names[static_cast<std::size_t>(kind)] << ", ";
  const Road road = road_of(dice, static_cast<Shape>(dice.below(std::size(shape_names))), text);
  Scenario s = as_shipped(road, riders_drawn(dice, equals), kind);
  const double wind_mps = dice.between(0.0, 9.0), from_rad = dice.between(0.0, 2.0 * std::numbers::pi);
  s.wind.forecast = {{0.0, wind_mps, from_rad}};
  constexpr double start_speeds_mps[] = {0.5, 3.0, 9.0};
  s.ride.start_speed_mps = start_speeds_mps[dice.below(3)];
  s.ride.time_limit_s = 3 * 3600.0;
  s.ride.seed = seed;
  const bool regroups = dice.below(4) == 0 && stays_together(kind);
  if (regroups) s.ride.regroup_at_m = {0.5 * road.length_m()};
  text << "; wind " << wind_mps << " m/s at " << std::setprecision(3) << from_rad * 180.0 / std::numbers::pi << " deg; "
       << s.riders.size() << (equals ? " equals of" : " of");
  for (const RiderSettings& r : s.riders) {
    text << " " << r.critical_power_W;
    if (equals) break;
  }
  text << " W; start " << s.ride.start_speed_mps << " m/s" << (regroups ? "; regroups" : "");
  return {s, equals, text.str()};
}

std::vector<std::string> faults(const Drawn& drawn, const Company& ridden) {
  std::vector<std::string> found;
  const auto fault = [&](const std::string& what, double value, std::size_t rider) {
    std::ostringstream text;
    text << what << ": " << std::fixed << std::setprecision(3) << value << ", " << drawn.scenario.riders[rider].name;
    found.push_back(text.str());
  };
  if (ridden.end != RideEnd::all_finished)
    found.push_back(std::string("the ride ends: ") + ride_end_names[static_cast<std::size_t>(ridden.end)]);
  const bool together = drawn.scenario.ride.kind == RideKind::together;
  std::size_t slowest = 0, last = 0, emptiest = 0;
  for (std::size_t i = 0; i < ridden.riders.size(); ++i) {
    if (ridden.riders[i].over_alone > ridden.riders[slowest].over_alone) slowest = i;
    if (ridden.riders[i].home_s > ridden.riders[last].home_s) last = i;
    if (ridden.riders[i].least_wbal_share < ridden.riders[emptiest].least_wbal_share) emptiest = i;
  }
  const double worst = ridden.riders[slowest].over_alone;
  const bool spends = drawn.scenario.ride.kind == RideKind::race;
  if (drawn.equals && !spends && ridden.mean_power_over_plan() > 1.02)
    fault("equals at more power than the plan", ridden.mean_power_over_plan(), slowest);
  if (drawn.equals && worst > 1.01) fault("equals later than alone", worst, slowest);
  if (drawn.equals && stays_together(drawn.scenario.ride.kind) && ridden.over_equal_power > 1.005)
    fault("equals later than alone at the same power", ridden.over_equal_power, slowest);
  if (!drawn.equals && together && ridden.last_over_weakest() > 1.02)
    fault("last home over the weakest alone", ridden.last_over_weakest(), last);
  if (!together && worst > 1.1) fault("held up", worst, slowest);
  if (ridden.riders[emptiest].least_wbal_share < 0.0)
    fault("W' below zero", ridden.riders[emptiest].least_wbal_share, emptiest);
  return found;
}

}  // namespace company
