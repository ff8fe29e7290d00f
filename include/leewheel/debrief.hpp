#pragma once
/// After the ride: what was ridden beside what was planned, where the time went, and what the ride tells of its numbers.

#include <Eigen/Core>
#include <array>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "leewheel/recording.hpp"
#include "leewheel/scenario.hpp"
#include "leewheel/trace.hpp"

namespace leewheel {

/// An effort that the rider says was all-out, between two places or two times of the ride.
struct AllOut {
  std::size_t rider;
  bool by_time;  ///< seconds after the start of the ride, else metres along the road
  double from, to;
};

struct DebriefInput {
  Scenario scenario;                  ///< as planned
  bool planned = true;                ///< false: the scenario is made of the recording, so there is no plan to lay it beside
  std::vector<Recording> recordings;  ///< each of one rider of the scenario, none twice
  std::vector<std::size_t> recorded;  ///< by recording: the rider
  std::vector<bool> alone;            ///< by recording: ridden without any company, recorded or not
  std::vector<AllOut> all_out;
};

/// Why a recording cannot be laid on the road.
enum class RoadFault { none, off_road, other_way };

/// What is told of a recording beside its numbers.
struct RecordingNotes {
  RecordingFacts facts;
  double on_road_share = 0.0;   ///< of its points
  std::size_t off_points = 0;   ///< off the road, between its first point on it and its last
  std::size_t first_off = 0;    ///< index of the first of these
  double lost_s = 0.0;          ///< without a place, on the way
  double clock_shift_s = 0.0;   ///< late by so much, taken off; 0: agrees
  bool clock_compared = false;  ///< near someone else for long enough
  double start_delay_s = 0.0;   ///< set off so much later than the first
  double fastest_mps = 0.0;     ///< by places, over half a minute
  bool own_zero = false;        ///< too much later for one ride: times count from the own start
  double elevation_offset_m = 0.0, elevation_drift_mph = 0.0;
  double elevation_worst_m = 0.0, elevation_worst_at_m = 0.0;  ///< largest difference over a minute, both taken off
  bool teaches = true;                                         ///< its power counts in the fit
};
inline constexpr double walking_mps = 2.0;       ///< who is never faster walks (assumed)
inline constexpr double told_elevation_m = 8.0;  ///< a larger difference is told

// ---- where the time went ----

enum class Factor : std::uint8_t { waits, effort, wind, company, numbers, rest };
inline constexpr std::array<std::string_view, 6> factor_names{"waits_and_stops", "effort",         "wind",
                                                              "company",         "rider_and_road", "rest"};
inline constexpr std::size_t factors = factor_names.size();
using TimeParts = std::array<double, factors>;  ///< seconds later than planned by factor, < 0 sooner

struct DebriefStretch {
  std::string from, to;
  double from_m = 0.0, to_m = 0.0;
  double planned_s = 0.0, ridden_s = 0.0;  ///< from its beginning to its end, standing included
  double planned_stood_s = 0.0, stood_s = 0.0;
  double planned_power_W = 0.0, power_W = 0.0;  ///< while moving; NaN without power
  double alone_share = 1.0;                     ///< of the time ridden: near no other recorded rider
  TimeParts part_s{};
};

/// Along the road, for pictures: edges of cells.
struct AlongRoad {
  std::vector<double> distance_m, planned_s, ridden_s;  ///< since the beginning of the comparison
  std::vector<double> planned_power_W, power_W;         ///< NaN where unknown
  std::vector<TimeParts> part_s;                        ///< summed from the beginning
};

// ---- numbers ----

enum class Number : std::uint8_t { drag_area, power_scale, mass, company, rolling, wind_speed, wind_from };
enum class HowSure : std::uint8_t { learned, hint, not_learned, only_together, contradiction };
inline constexpr std::array<std::string_view, 5> how_sure_names{"learned", "a hint", "not learned", "only together",
                                                                "contradiction"};
/// Why a number has no value worth keeping: what it wants, or that its value, or another's in the same fit, cannot be.
enum class Missing : std::uint8_t { nothing, time_alone, short_ride, impossible, beside_impossible };

struct LearnedNumber {
  Number what;
  std::size_t of;            ///< rider of the scenario, surface, or hour of the ride
  double before, before_sd;  ///< m2 (hoods), 1, kg, 1, Crr, m/s, rad
  double after, after_sd;    ///< the same; after_sd one standard deviation
  HowSure sure = HowSure::not_learned;
  Missing wants = Missing::nothing;
  std::optional<std::size_t> with{};  ///< only together: the other number, by its index
  double alone_value = 0.0;           ///< what this number would have to be were the other as believed before
  double other_value = 0.0;           ///< and the other way round
};

/// Why an effort said to be all-out cannot be one.
enum class EffortFault : std::uint8_t { none, not_ridden, too_short, stood, no_power };

struct StrengthTold {
  enum class Kind : std::uint8_t { none, at_least, all_out };
  Kind kind = Kind::none;
  HowSure sure = HowSure::learned;            ///< of all_out: learned or a contradiction to what was believed
  double critical_power_W = 0.0, sd_W = 0.0;  ///< sd only for all_out
  double before_sd_W = 0.0;                   ///< of the critical power believed before: rider's own and the day's
  EffortFault fault = EffortFault::none;      ///< of the effort said to be all-out
  double stood_s = 0.0;                       ///< left out at its ends; where `stood`, within it
  double over_s = 0.0;                        ///< length of the effort it rests on
  double from_m = 0.0, to_m = 0.0;
  bool power_scale_used = false;  ///< the recorded power was corrected by the scale, which was learned
};

/// Why a recording tells nothing of the heart rate's rise.
enum class HeartQuiet : std::uint8_t { told, none_recorded, short_ride, no_power, effort_changed, no_rise };

/// How the heart rate rose after the first set-off beside the rise that the ride assumes: time to 63 % of the way.
struct HeartTold {
  HeartQuiet quiet = HeartQuiet::none_recorded;
  double rise_s = 0.0, assumed_s = 0.0;
};

// ---- who with whom ----

struct CompanySpan {
  std::size_t a, b;  ///< riders of the scenario
  double from_s, to_s, from_m, to_m;
};
struct DebriefStand {
  double at_m, from_s, stood_s, planned_s;  ///< planned_s: at that place, 0: none
  std::vector<std::size_t> until;           ///< riders whose coming to that place ended it
};
struct DebriefCameOff {
  std::size_t rider;
  std::vector<std::size_t> from;
  double at_m, time_s, grade, head_mps, power_minute_W, back_s;  ///< head_mps at 1.2 m, > 0 against; back_s NaN: never
  std::size_t back_with = 0;                                     ///< with whom again, after `back_s`
};

struct RiderDebrief {
  std::size_t rider;  ///< of the scenario
  std::size_t recording;
  RecordingNotes notes;
  double from_m = 0.0, to_m = 0.0;         ///< compared
  double planned_s = 0.0, ridden_s = 0.0;  ///< between these, standing included
  double planned_stood_s = 0.0, stood_s = 0.0;
  double power_W = not_recorded, planned_power_W = not_recorded;
  TimeParts part_s{}, part_sd_s{};   ///< of the whole; the spread of rest is 0
  double power_share = 1.0;          ///< of the way compared, with power; elsewhere the effort is taken as planned
  std::array<bool, factors> told{};  ///< large and sure enough to be told by itself
  std::vector<DebriefStretch> stretches;
  AlongRoad along;
  std::vector<DebriefStand> stands;
  StrengthTold strength;
  HeartTold heart;
  double alone_s = 0.0, used_s = 0.0;  ///< ridden alone, and in all, in the blocks that the fit rests on
  bool has_part(Factor factor) const { return factor != Factor::effort || power_share > 0.0; }
};

struct Debrief {
  bool planned = true;
  double begin_s = 0.0;              ///< time zero of the ride, since 1970; 0 where no recording is dated
  std::vector<RiderDebrief> riders;  ///< by recording
  std::vector<CompanySpan> company;
  std::vector<DebriefCameOff> came_off;
  std::vector<LearnedNumber> numbers;
  std::vector<std::size_t> unrecorded;  ///< riders of the scenario without a recording
  double misfit = 0.0;                  ///< of the balance over what noise explains; 0: no fit
  std::size_t blocks = 0;
  std::vector<RideSample> ridden;  ///< the recorded ride for the replay, riders in the order of the recordings
};

/// The first recording that does not belong to the road; nothing when all do.
struct NotOnRoad {
  std::size_t recording;
  RoadFault fault;
  double on_road_share;
};
std::optional<NotOnRoad> not_on_road(const DebriefInput& input);

/// Asserts that every recording lies on the road. The same for any number of threads.
Debrief debrief(const DebriefInput& input);

}  // namespace leewheel
