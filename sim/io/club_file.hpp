#pragma once
/// A club file: the riders of a club, kept from week to week, in the form of a scenario's `riders`.

#include <optional>
#include <string>
#include <vector>

#include "io/strength_section.hpp"

namespace leewheel {

/// Nothing when the file could not be read; its faults go to `faults`.
std::optional<std::vector<ReadRider>> read_club(const std::string& path, Faults& faults);

/// Throws InputFault.
std::vector<ReadRider> read_club(const std::string& path);

}  // namespace leewheel
