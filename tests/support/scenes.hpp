#pragma once
/// Roads, riders and rides that tests and benchmarks share. All invented.

#include <cstdint>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"

namespace leewheel::scenes {

// Roads. Straight and northwards unless said otherwise, smooth asphalt (Crr 0.004), open slope on both sides.
Road flat_road(double length_m);
Road constant_grade(double length_m, double grade, Exposure exposure = Exposure::open_slope);
Road grades(const std::vector<double>& grades, double each_m);  ///< sharp breaks between stretches of one length
Road smooth_hills(double length_m);                             ///< sines in height and heading, trees half-way
Road with_landmarks(const Road& road, const std::vector<double>& at_m);

/// 83 kg in all, CdA 0.32 m2 in any posture, 0.976 to the wheel, no wheel drag or inertia: the rider of the closed forms.
RiderSettings plain_rider(const std::string& name, double critical_power_W = 250.0);
/// `count` riders of different strength, mass and skill; names sort in the order given.
std::vector<RiderSettings> club(std::size_t count);

/// Air of that density at sea level, 15 C, dry.
AirState air_of_density(double density_kgpm3);

/// Still air of 1.225 kg/m3 at the start, constant efforts, and no limit of speed that a rider here would meet.
Scenario scene(const Road& road, const std::vector<RiderSettings>& riders);
void set_wind(Scenario& scenario, double speed_mps, double from_deg);
void set_effort(Scenario& scenario, double share_of_critical);

/// Roads with climbs, descents, bends and exposures, changing winds, 1 to 12 riders, all kinds of ride, regroup points and
/// steps; the same for the same seed.
Scenario random_scenario(std::uint64_t seed);
/// The scenario in a mirror: left is right, east is west.
Scenario mirrored(const Scenario& scenario);

/// FNV-1a over the bits of a sample's columns.
std::uint64_t hash_of(const RideSample& sample);
std::uint64_t hash_of(const RideResult& result);

}  // namespace leewheel::scenes
