/// Wakes of other riders, by leewheel/wake.hpp.

#include <algorithm>
#include <cmath>
#include <optional>

#include "evidence/kinds.hpp"
#include "evidence/wake_setup.hpp"
#include "leewheel/units.hpp"

namespace leewheel::evidence {
namespace {

std::vector<double> percent(const std::vector<double>& shares) {
  std::vector<double> values;
  for (const double share : shares) values.push_back(100.0 * share);
  return values;
}

double mean(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double value : values) sum += value;
  return sum / static_cast<double>(values.size());
}

/// Mean drag of the riders near the middle line, row by row.
std::vector<double> middle_of_rows(const WakeSetup& setup, const std::vector<double>& drag) {
  constexpr double near_middle_m = 0.5;
  std::vector<double> rows;
  for (int row = 1; row <= setup.bunch_row.back(); ++row) {
    double sum = 0.0;
    int count = 0;
    for (std::size_t i = 0; i < setup.size(); ++i)
      if (setup.bunch_row[i] == row && std::abs(setup.across_m[i]) < near_middle_m) {
        sum += drag[i];
        ++count;
      }
    rows.push_back(count ? 100.0 * sum / count : 100.0);
  }
  return rows;
}

/// What a rider's power is made of besides the drag factor, `power: {...}`; the drag area of each comes from the setup.
struct PowerSide {
  bool given = false;
  RoadLoad load;
};

PowerSide read_power_side(YamlMap& given) {
  PowerSide side;
  YamlMap power(given["power"]);
  if (!power.given()) return side;
  side.given = true;
  side.load.mass_kg = needed(power, "mass_kg", positive);
  side.load.wheel_drag_area_m2 = optional(power, "wheel_drag_area_m2", {0.0, 1.0}, 0.0);
  side.load.rolling = optional(power, "rolling", {0.0, 1.0}, 0.0);
  side.load.efficiency = optional(power, "efficiency", {0.0, 1.0, true}, 1.0);
  side.load.density_kgpm3 = optional(power, "density_kgpm3", {0.0, 10.0}, 1.225);
  side.load.gravity_mps2 = optional(power, "gravity_mps2", {0.0, 30.0, true}, 9.80665);
  side.load.grade = optional(power, "grade_percent", {-100.0, 100.0}, 0.0) / 100.0;
  side.load.bearings = yes_no(power, "bearings", false);
  return side;
}

void add_powers(const PowerSide& side, const WakeSetup& setup, const std::vector<double>& drag, Quantities& into) {
  Quantity power{"power_W", {}}, alone{"power_alone_W", {}}, saved{"power_saved_percent", {}},
      of_first{"power_of_first_percent", {}};
  for (std::size_t i = 0; i < setup.size(); ++i) {
    RoadLoad load = side.load;
    load.drag_area_m2 = setup.drag_area_m2[i];
    load.wind_along_mps = setup.wind.along_mps;
    load.wind_cross_mps = setup.wind.cross_mps;
    alone.values.push_back(road_power(load, setup.speed_mps).crank_W);
    load.drag_factor = drag[i];
    power.values.push_back(road_power(load, setup.speed_mps).crank_W);
    saved.values.push_back(100.0 * (1.0 - power.values[i] / alone.values[i]));
    of_first.values.push_back(100.0 * power.values[i] / power.values[0]);
  }
  into.insert(into.end(), {power, alone, saved, of_first});
}

/// The gap, if the row is about one rider straight behind another in calm air.
std::optional<double> gap_of_one_wheel(const WakeSetup& setup) {
  if (setup.size() != 2 || setup.across_m[0] != setup.across_m[1]) return std::nullopt;
  if (setup.wind.along_mps != 0.0 || setup.wind.cross_mps != 0.0) return std::nullopt;
  const double gap_m = wheel_gap_m(setup.along_m[0], setup.along_m[1]);
  return gap_m >= 0.0 ? std::optional(gap_m) : std::nullopt;
}

/// A law that the row names for itself, with its defaults.
std::optional<WakeLaw> read_law(const YamlValue& named) {
  std::size_t number = 0;
  if (!named.choice(wake_law_names, number)) return std::nullopt;
  return wake_law(number);
}

Work read_wake(YamlMap& given) {
  const WakeSetup setup = read_wake_setup(given);
  const std::optional<WakeLaw> own_law = read_law(given["law"]);
  const PowerSide power = read_power_side(given);
  const std::vector<double> drag_area_drafting_m2 = number_list(given["published_drag_area_m2"], {0.0, 20.0});
  if (!drag_area_drafting_m2.empty() && drag_area_drafting_m2.size() != setup.size())
    given["published_drag_area_m2"].fault("expected one number a rider");
  return [=](const WakeLaw& law) -> Quantities {
    WakeFactors factors = factors_of(setup, own_law ? *own_law : law);
    for (std::size_t i = 0; i < drag_area_drafting_m2.size(); ++i)
      factors.drag[i] = drag_area_drafting_m2[i] / setup.drag_area_m2[i];
    Quantities all{{"drag_percent", percent(factors.drag)}, {"side_force_percent", percent(factors.side)}};
    Quantity saved{"drag_saved_percent", {}}, gap{"gap_m", {}};
    for (std::size_t i = 0; i < setup.size(); ++i) {
      saved.values.push_back(100.0 * (1.0 - factors.drag[i]));
      gap.values.push_back(i ? wheel_gap_m(setup.along_m[i - 1], setup.along_m[i]) : 0.0);
    }
    all.push_back(saved);
    all.push_back(gap);
    if (const std::optional<double> one_gap_m = gap_of_one_wheel(setup);
        one_gap_m && !own_law && drag_area_drafting_m2.empty())
      all.push_back({"one_wheel_gap_m", {*one_gap_m}});
    all.push_back({"turbulence_percent", {100.0 * setup.turbulence}});
    all.push_back({"mean_drag_percent", {100.0 * mean(factors.drag)}});
    all.push_back({"mean_side_force_percent", {100.0 * mean(factors.side)}});
    if (!setup.bunch_row.empty()) all.push_back({"row_drag_percent", middle_of_rows(setup, factors.drag)});
    if (power.given) add_powers(power, setup, factors.drag, all);
    return all;
  };
}

/// Two riders in line, then in the other order: drag of the second of them when behind, over the first's when behind.
Work read_wake_swap(YamlMap& given) {
  const double lighter_m2 = needed(given, "lighter_drag_area_m2", {0.0, 20.0, true});
  const double heavier_m2 = needed(given, "heavier_drag_area_m2", {0.0, 20.0, true});
  WakeSetup setup = line_of(2, needed(given, "gap_m", {0.0, 1000.0}), 0.23, needed(given, "speed_mps", {0.0, 60.0}),
                            optional(given, "turbulence_percent", {0.0, 100.0}, 0.0) / 100.0);
  return [=](const WakeLaw& law) mutable -> Quantities {
    setup.drag_area_m2 = {heavier_m2, lighter_m2};
    const double lighter_behind = factors_of(setup, law).drag[1];
    setup.drag_area_m2 = {lighter_m2, heavier_m2};
    return {{"drag_ratio_percent", {100.0 * lighter_behind / factors_of(setup, law).drag[1]}}};
  };
}

/// The best place behind one rider in a wind, sought across the road in millimetres.
Work read_best_place(YamlMap& given) {
  const double along_m = needed(given, "along_m", {0.1, 100.0});
  WakeSetup setup =
      line_of(2, 0.0, optional(given, "drag_area_m2", {0.0, 20.0, true}, 0.30), needed(given, "speed_mps", {0.1, 60.0}),
              optional(given, "turbulence_percent", {0.0, 100.0}, 0.0) / 100.0);
  setup.along_m[1] = -along_m;
  setup.wind = read_wind(given);
  if (given["yaw_deg"].given()) {
    if (given["wind"].given()) given.value().fault("found both wind and yaw_deg, expected one of them");
    setup.wind.cross_mps = setup.speed_mps * std::tan(rad_from_deg(needed(given, "yaw_deg", {0.0, 80.0})));
  }
  return [=](const WakeLaw& law) mutable -> Quantities {
    double best_m = 0.0, least = 2.0;
    for (int mm = -2500; mm <= 2500; ++mm) {
      setup.across_m[1] = 0.001 * mm;
      const double drag = factors_of(setup, law).drag[1];
      if (drag < least) {
        least = drag;
        best_m = setup.across_m[1];
      }
    }
    setup.across_m[1] = 0.0;
    const double straight_behind = factors_of(setup, law).drag[1];
    const double leeward = setup.wind.cross_mps >= 0.0 ? 1.0 : -1.0;  // across the road, the way the wind blows
    return {{"to_leeward_m", {leeward * best_m}},
            {"best_drag_percent", {100.0 * least}},
            {"straight_behind_drag_percent", {100.0 * straight_behind}}};
  };
}

}  // namespace

std::vector<Kind> wake_kinds() {
  return {
      {"drafting",
       "drag and side force of every rider of a group, one value a rider; with `power` also power and what drafting saves",
       {"drag_percent", "side_force_percent", "drag_saved_percent", "mean_drag_percent", "mean_side_force_percent",
        "row_drag_percent", "power_W", "power_alone_W", "power_saved_percent", "power_of_first_percent", "gap_m"},
       read_wake},
      {"drafting_swap",
       "a light rider behind a heavy one against the heavy one behind the light",
       {"drag_ratio_percent"},
       read_wake_swap},
      {"drafting_best_place",
       "the best place across the road behind one rider in a crosswind",
       {"to_leeward_m", "best_drag_percent", "straight_behind_drag_percent"},
       read_best_place}};
}

}  // namespace leewheel::evidence
