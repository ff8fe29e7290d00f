#pragma once
/// Taking a wheel, holding it, losing it, letting it go, chasing.

#include "riding/rules.hpp"

namespace leewheel::riding {

/// The nearest rider ahead whose wheel can be taken, or nobody.
RiderIndex wheel_ahead(const Snapshot& now, RiderIndex i, std::span<const Ahead> ahead);

/// A second of a rider who holds or chases a wheel.
void hold_wheel(const View& view, Proposal& proposal);

/// Questions; each alone, so that a test can ask it.
Answer cannot_hold(const View& view);         ///< the wheel asks too much, or is out of reach
Answer wheel_lost_its_own(const View& view);  ///< the wheel has let a gap open that the rider could close
Answer wheel_pays(const View& view);          ///< a wheel within reach asks less than the rider will give
Answer can_reach(const View& view);           ///< a wheel further ahead is worth a chase

void take_wheel(const View& view, const Answer& answer, Proposal& proposal);
void chase(const View& view, const Answer& answer, Proposal& proposal);

std::span<const NumberField<TacticsSettings>> follow_fields();

}  // namespace leewheel::riding
