#pragma once
/// What a rider is doing while a group changes, as the reason that events give; decides nothing.

#include "riding/snapshot.hpp"

namespace leewheel::riding {

/// What a rider is doing, which may have begun long before the group changes.
Because doing(const Riders& riders, const TacticsSettings& settings, const Memory& memory, const Outlook& outlook,
              RiderIndex i);

std::span<const NumberField<TacticsSettings>> doing_fields();

}  // namespace leewheel::riding
