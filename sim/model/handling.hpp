#pragma once
/// The numbers of how a rider handles the bicycle, which the model itself reads.

#include <span>

#include "leewheel/tactics.hpp"

namespace leewheel {

std::span<const NumberField<TacticsSettings>> handling_fields();

}  // namespace leewheel
