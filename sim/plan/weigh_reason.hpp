#pragma once
/// The stretch as one rider meets it alone.

#include "leewheel/weigh.hpp"

namespace leewheel {

/// @param solo  a scenario of one rider
WeighReason reason_of(const Scenario& solo, const TimedStretch& stretch);

}  // namespace leewheel
