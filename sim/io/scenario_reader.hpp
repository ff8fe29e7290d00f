#pragma once
/// A scenario from YAML; the form is told in docs/scenario.md. Unknown and doubled keys, missing fields and impossible
/// values are refused with file, line, field and the nearest known name.

#include <string>
#include <vector>

#include "io/fault.hpp"
#include "leewheel/ride.hpp"

namespace leewheel {

/// Files named inside are looked for beside the scenario. Throws InputFault with every fault found.
/// @param remarks  not null: receives what is accepted for now but should be changed, as keys with an old name
Scenario read_scenario(const std::string& path, std::vector<Fault>* remarks = nullptr);

/// The file's text as it stands, for the trace.
std::string read_text(const std::string& path);

}  // namespace leewheel
