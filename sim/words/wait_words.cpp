#include "words/wait_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "words/plain_text.hpp"

namespace leewheel {

namespace {
std::string name_of(const Scenario& scenario, const PlannedStop& place) {
  const auto mark = landmark_near(scenario.road, place.at_m);
  return mark ? scenario.road.landmarks()[*mark].name : fmt::format("km {:.1f}", place.at_m / 1000.0);
}
}  // namespace

std::string given_up_text(const Scenario& scenario, const WaitOfRide& wait, const WaitOfRide::GivenUp& given_up) {
  const auto names_in = [&](const std::vector<std::uint32_t>& riders) {
    return enumerated_briefly(names_of(scenario, riders));
  };
  std::vector<std::uint32_t> never;
  std::vector<std::string> others;
  for (const auto& late : given_up.late) {
    if (std::isfinite(late.later_s))
      others.push_back(fmt::format("{} came {} later", scenario.riders.at(late.rider).name, clock_text(late.later_s)));
    else
      never.push_back(late.rider);
  }
  if (!never.empty()) others.push_back(names_in(never) + " did not come");
  const std::string left =
      fmt::format("{} left {} after the longest wait of {}", names_in(given_up.left), name_of(scenario, wait.place),
                  minutes_text(scenario.tactics.regroup_wait_s + wait.place.stop_s));
  return others.empty() ? left : left + "; " + enumerated_briefly(others);
}

std::string place_text(const Scenario& scenario, const PlannedStop& place) {
  const std::string name = name_of(scenario, place);
  if (place.stop_s <= 0.0) return name;
  return fmt::format("{} ({}{})", name, minutes_text(place.stop_s), place.what.empty() ? "" : " for " + place.what);
}

}  // namespace leewheel
