#pragma once
/// Easing for a group behind.

#include "riding/rules.hpp"

namespace leewheel::riding {

/// The first of the next group behind, if it is near enough to ease for and no slower than the rider alone; else nobody.
RiderIndex group_behind(const View& view);

Answer group_comes(const View& view);    ///< a rider alone just ahead of a group, who does not yet ease for it
Answer group_is_gone(const View& view);  ///< a rider who eases, with nobody left to ease for
void ease_for_group(const View& view, const Answer& answer, Proposal& proposal);
void ride_on(const View& view, const Answer& answer, Proposal& proposal);

std::span<const NumberField<TacticsSettings>> wait_fields();

}  // namespace leewheel::riding
