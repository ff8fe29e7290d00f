#include "model/survey.hpp"

namespace leewheel {

SurveyInputs::SurveyInputs(const Scenario& scenario)
    : road(scenario.road),
      land(scenario.wind),
      closed_road(scenario.ride.closed_road),
      keep_right(scenario.ride.keep_right),
      air(scenario.air),
      air_station_altitude_m(scenario.air_station_altitude_m),
      swing_off_m(scenario.tactics.swing_off_m),
      handling(scenario.tactics) {
  land.forecast.clear();
  land.gusts = Gusts::off;
  for (WindStation& station : land.stations) station.forecast.clear();
}

Survey::Survey(const Scenario& scenario)
    : inputs(scenario),
      gusty(scenario.wind.gusty()),
      wind(scenario.wind, scenario.road),
      track(scenario),
      gust_seed(scenario.ride.seed),
      gusts(gusty ? std::make_shared<const GustField>(scenario.wind.gust_length_m, gust_seed) : nullptr) {}

bool Survey::fits(const Scenario& scenario) const {
  return inputs == SurveyInputs(scenario) && (gusty || !scenario.wind.gusty());
}

std::shared_ptr<const Survey> survey_of(const Scenario& scenario) {
  if (scenario.survey && scenario.survey->fits(scenario)) return scenario.survey;
  return std::make_shared<const Survey>(scenario);
}

Scenario surveyed(Scenario scenario) {
  scenario.survey = survey_of(scenario);
  return scenario;
}

}  // namespace leewheel
