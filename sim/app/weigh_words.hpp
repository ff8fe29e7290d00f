#pragma once
/// What `leewheel weigh` prints, for people and as JSON.

#include <array>
#include <string>
#include <vector>

#include "leewheel/weigh.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

struct Weighed {
  const Scenario& scenario;
  const WeighSettings& settings;
  const std::vector<Weighing>& answers;
  ShownUnits units;
  double first_there_s, last_there_s;  ///< riders as planned, where the stretch begins
};

inline constexpr std::array<const char*, ways_to_ride> way_words{"as planned",   "alone",   "sitting in",
                                                                 "taking turns", "waiting", "letting go"};
inline const std::string& name_of(const Weighed& q, const Weighing& w) { return q.scenario.riders[w.rider].name; }
std::string verdict(const Weighing& weighing);  ///< in one sentence
/// "Wood gate", "start", "finish"; empty where there is no landmark.
std::string place_name(const Road& road, double at_m);

std::string table_of_riders(const Weighed& weighed);
std::string one_rider_in_words(const Weighed& weighed);  ///< of the first answer
std::string weighed_as_json(const Weighed& weighed, bool one_rider);

}  // namespace leewheel
