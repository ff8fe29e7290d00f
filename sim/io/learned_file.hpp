#pragma once
/// learned.yaml: what one ride told of its riders, to be laid over a scenario or collected over weeks.

#include <string>
#include <vector>

#include "io/yaml_reader.hpp"
#include "leewheel/debrief.hpp"

namespace leewheel {

/// One number as it stands in the file.
struct LearnedEntry {
  std::string rider;   ///< empty for what belongs to the road or the day
  std::string number;  ///< drag_area_hoods_m2, total_mass_kg, critical_power_W ...
  double value = 0.0, sd = 0.0, before = 0.0, before_sd = 0.0;
  std::string how_sure, recording;
  std::string rests_on{};  ///< the rides, where they are several put together; else empty
};

struct LearnedFile {
  std::string title, date;  ///< 2027-05-16; empty when the recordings had none
  std::vector<LearnedEntry> numbers;
};

std::vector<LearnedEntry> learned_entries(const DebriefInput& input, const Debrief& told);

/// Under `riders` stand only numbers that were learned, by the keys of a scenario; under `numbers` all, with spread and origin.
std::string learned_yaml(const DebriefInput& input, const Debrief& told);

/// Faults go to `faults`.
LearnedFile read_learned(const std::string& path, Faults& faults);

/// The same numbers over several rides, by rider and number; `sd` is that of all together. Only learned numbers and hints are taken.
struct LearnedWeeks {
  std::string date;  ///< up to which they have faded; empty where no ride has a date
  std::vector<LearnedEntry> numbers;
};
/// @param on  the day for which they are wanted, as 2027-05-16; a later ride makes it later
/// Throws InputFault: no date where several files are given, the same ride twice.
LearnedWeeks learned_over_weeks(const std::vector<std::string>& paths, const std::string& on);

/// A learned.yaml of such entries, to be laid over a scenario with riders as in the club file.
std::string kept_yaml(const LearnedWeeks& kept, const std::vector<RiderSettings>& riders);

/// `learned: {file: learned.yaml}` of a scenario: the numbers under `riders` replace those of riders with the same name.
void lay_learned(const YamlValue& value, std::vector<RiderSettings>& riders);

}  // namespace leewheel
