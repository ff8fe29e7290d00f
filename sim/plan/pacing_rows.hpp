#pragma once
/// A plan as rows: instruction by instruction, and where W' comes back.

#include "plan/pacing_search.hpp"

namespace leewheel {

/// Fills sections, recoveries and easiest stretches of `pacing`. Neighbours told alike become one row, unless a landmark is
/// between them.
void tell_rows(Pacing& pacing, const Course& course, const RiddenPlan& plan);

}  // namespace leewheel
