#pragma once
/// What riders' devices recorded, from GPX or CSV.

#include <string>
#include <vector>

#include "io/fault.hpp"
#include "leewheel/recording.hpp"

namespace leewheel {

/// Reads the recording of one rider. Throws InputFault: another kind of file, no times, no zone, times that go back or stand,
/// the same power throughout (a plan). @param remarks  receives what was left out, a line each
Recording read_recording(const std::string& path, const std::string& rider, std::vector<std::string>& remarks);

/// The table of a recording; the columns are told in docs/debrief.md. Throws InputFault.
Recording read_recording_csv(const std::string& path, std::vector<std::string>& remarks);

/// Faults that any recording may have, with the point and what to do. Throws InputFault.
void check_recording(Recording& recording, const char* point_name, std::vector<std::string>& remarks);

}  // namespace leewheel
