#pragma once
/// The summary of a ride for people: a page of plain text.

#include <string>
#include <vector>

#include "leewheel/ride.hpp"
#include "leewheel/ride_report.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

struct SummaryStyle {
  bool colour = false;  ///< with a terminal's codes
  bool more = false;    ///< also W', what was given, the energy ledger and the laws of recovery
  ShownUnits units{};
};

/// `solo`: each rider's rerun alone with the same plan, in the order of the scenario. `ranges`: of the same
/// plan on further days, if any.
std::string summary_text(const Scenario& scenario, const RideResult& result, const std::vector<RideResult>& solo,
                         const FinishRanges& ranges, const SummaryStyle& style = {});

}  // namespace leewheel
