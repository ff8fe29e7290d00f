#include "app/lineup_now.hpp"

#include <fmt/format.h>

#include "words/day_clock.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

std::string rest_words(const FromHere& rest, const ShownUnits& units) {
  const std::string now = DayClock(rest.scenario.start).at(0.0);
  return wrapped("",
                 fmt::format("From here on: times count from now{}, {} from the start of the road. The first rider is at {} "
                             "{:.1f}, where the road is told from, the last at {:.1f}.",
                             now.empty() ? "" : ", " + now, units.imperial ? "miles" : "kilometres", units.way_name(),
                             units.way(rest.first_m), units.way(rest.cut_m)),
                 120);
}

std::string rest_by_the_clock(const Lineup& lineup, const FromHere& rest) {
  const DayClock clock(rest.scenario.start);
  if (!clock.known() || !lineup.found) return "";
  std::vector<std::string> parts;
  const std::vector<double>& finish_s = lineup.best().expected.finish_s;
  for (std::size_t i = 0; i < rest.scenario.riders.size(); ++i)
    parts.push_back(fmt::format("{} {}", rest.scenario.riders[i].name, clock.at(finish_s[i])));
  return "\n" + wrapped("At the finish by the clock: ", fmt::format("{}.", fmt::join(parts, ", ")), 120);
}

}  // namespace leewheel
