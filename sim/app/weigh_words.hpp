#pragma once
/// What `leewheel weigh` prints, for people and as JSON.

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
};

std::string table_of_riders(const Weighed& weighed);
std::string one_rider_in_words(const Weighed& weighed);  ///< of the first answer
std::string weighed_as_json(const Weighed& weighed, bool one_rider);

}  // namespace leewheel
