#pragma once
/// Regroup points: the first wait for the last, then all go on.

#include "riding/line.hpp"

namespace leewheel::riding {

/// The first stop at a regroup point until the last is there, or patience ends. `stop_at_m`: where each comes to rest;
/// `since_s`: someone has been waiting since then, < 0 for nobody.
void settle_regroup(Settling& settling, std::vector<double>& stop_at_m, double& since_s);

std::span<const NumberField<TacticsSettings>> regroup_fields();

}  // namespace leewheel::riding
