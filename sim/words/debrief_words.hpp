#pragma once
/// What the debrief says, in sentences that text and page share.

#include <string>
#include <vector>

#include "leewheel/debrief.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// All that is told of.
struct Debriefed {
  const DebriefInput& input;
  const Debrief& told;
  ShownUnits units;
  bool heart_rate = false;  ///< asked for
  const std::string& name(std::size_t rider) const { return input.scenario.riders[rider].name; }
};

inline constexpr const char* debrief_cautions[] = {
    "What was ridden together by places is known to a few metres: who led, who blocked whom and who could have held a wheel "
    "is "
    "not, and no one should be judged by it.",
    "The numbers are those of one ride, with the spreads told; they are no test of health or form. Ask a doctor about "
    "effort and "
    "heart.",
    "A recording tells where someone was and how their heart beat: hand it on only with their consent."};

/// "2:10 later", "0:35 sooner", "the same".
std::string later_text(double s);

/// What a factor is called in a sentence and in the head of a column.
const char* factor_text(Factor factor);

/// Why this rider's ride took longer or shorter, in one sentence; what is too small to tell is joined.
std::string where_time_went(const Debriefed& d, const RiderDebrief& rider);
/// Sum of the parts that are too small or too unsure to be told one by one.
double too_small_s(const RiderDebrief& rider);

/// Name, value with spread, verdict and what follows from it.
struct NumberRow {
  std::string what, before, after, sure, says;
};
NumberRow number_row(const Debriefed& d, const LearnedNumber& number);
std::vector<NumberRow> strength_rows(const Debriefed& d);

/// Remarks on the recordings: clocks, receiver lost, elevation, power; with what to do.
std::vector<std::string> recording_remarks(const Debriefed& d, const RiderDebrief& rider);
/// Remarks on the whole: riders without recording, a balance that does not fit.
std::vector<std::string> whole_remarks(const Debriefed& d);

/// Stands and waits, who came off where, who came back.
std::vector<std::string> waits_told(const Debriefed& d);
std::vector<std::string> came_off_told(const Debriefed& d);

/// The whole on the terminal.
std::string debrief_text(const Debriefed& d);

}  // namespace leewheel
