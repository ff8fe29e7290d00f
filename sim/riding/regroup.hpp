#pragma once
/// Regroup points: the first wait for the last, then all go on. At a stop the last has the stop too.

#include "riding/line.hpp"

namespace leewheel::riding {

/// The first stop at a place until the last is there and has had the stop, or patience ends. `stop_at_m`: where each comes
/// to rest.
void settle_regroup(Settling& settling, std::vector<double>& stop_at_m);

std::span<const NumberField<TacticsSettings>> regroup_fields();

}  // namespace leewheel::riding
