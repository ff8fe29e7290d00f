#pragma once
/// What rides of one scenario share whatever the day: road, air and land, surveyed once.

#include <memory>

#include "leewheel/scenario.hpp"
#include "model/track.hpp"
#include "model/wind_land.hpp"

namespace leewheel {

/// All that a survey depends on. The forecasts' values are left out, and whether there are gusts.
struct SurveyInputs {
  Road road;
  WindSettings land;
  bool closed_road, keep_right;
  AirState air;
  double air_station_altitude_m, swing_off_m;
  HandlingSettings handling;
  explicit SurveyInputs(const Scenario& scenario);
  bool operator==(const SurveyInputs&) const = default;
};

struct Survey {
  explicit Survey(const Scenario& scenario);
  bool fits(const Scenario& scenario) const;
  const SurveyInputs inputs;
  const bool gusty;  ///< serves calm days, too
  const WindLand wind;
  const TrackCells track;
  const std::uint64_t gust_seed;
  const std::shared_ptr<const GustField> gusts;  ///< of that seed; none where there are no gusts
};

/// The scenario's own survey, if it is that of the scenario as it stands, else a fresh one.
std::shared_ptr<const Survey> survey_of(const Scenario& scenario);

}  // namespace leewheel
