#pragma once
/// One step along the road: forces, power, speed, and the energy ledger.
///
/// A step of length dt integrates the energy equation of a rider, in which pedal work P dt and the rise of the road are
/// exact and the resistances are averaged over the step (second order, as Heun's method):
///   v1^2 = v0^2 + 2/m_eff [ eta P dt - (R(x0, v0) + R(x1*, v1*))/2 dx - m g (z(x0 + dx) - z(x0)) ],  dx = (v0 + v1*) dt/2
/// with v1* from the same equation with all forces as at the start. The ledger gets what was integrated, so it closes.

#include <span>

#include "model/riders.hpp"
#include "model/track.hpp"

namespace leewheel {

inline constexpr double least_gap_m = 0.03;                              ///< wheels never come closer (assumed)
inline constexpr double body_length_m = bicycle_length_m + least_gap_m;  ///< road that a rider takes up

/// Time as the phases of a step see it.
struct StepTime {
  double step_s;
  std::uint64_t tick;
  std::uint64_t reaction_steps;  ///< a wheel's speed is seen so many steps late
};

/// Everyone one step along the road. Reads all of `riders`, writes motion and ledgers.
void advance(const Riders& riders, Motion& motion, Ledgers& ledgers, const Track& track, const TacticsSettings& settings,
             std::span<const RiderIndex> order, const StepTime& time);

/// What the rider wants of the next moment (m/s2): the wheel's gap, the pace, and no faster than bend, stop and the one in
/// the way allow.
double wished_acceleration_mps2(const Riders& riders, const Track& track, const TacticsSettings& settings, RiderIndex i,
                                const StepTime& time);

/// Riders too close sideways to ride side by side keep the order and the gap they had at the start of the step. With
/// `steer`, which lets nobody come that close to a rider alongside, no wheel is ever driven through, whatever the step.
void keep_apart(const Riders& riders, Motion& motion, Ledgers& ledgers, const Track& track,
                std::span<const RiderIndex> order);

}  // namespace leewheel
