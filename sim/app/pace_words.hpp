#pragma once
/// What `leewheel pace` prints for people.

#include <string>

#include "leewheel/pacing.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

extern const std::string pace_cautions;

void print_pacing(const Pacing& pacing, const Scenario& scenario, const RiderSettings& rider, const PacingSettings& settings,
                  const ShownUnits& units);

}  // namespace leewheel
