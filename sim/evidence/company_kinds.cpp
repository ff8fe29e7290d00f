/// What company gives: lines of equals, ridden together with the settings of a scenario that names none.

#include <algorithm>
#include <cmath>

#include "evidence/even_line.hpp"
#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "evidence/ride_setup.hpp"
#include "leewheel/ride.hpp"
#include "leewheel/units.hpp"

namespace leewheel::evidence {
namespace {

/// Means over the riders, away from the start and the finish.
struct Ridden {
  double speed_mps = 0.0, power_W = 0.0;
  double of_alone = 0.0;  ///< work over what the same motion would have cost alone
};

Ridden ridden(const Scenario& s) {
  const double from_m = 0.25 * s.road.length_m(), to_m = 0.95 * s.road.length_m();
  const RideResult result = ride_to_end(s, {.notes_debts = false, .timing_points_m = {from_m, to_m}});
  Ridden mean;
  const double share = 1.0 / static_cast<double>(result.riders.size());
  for (const RiderResult& rider : result.riders) {
    if (rider.timing.size() < 2) return {};
    const Passage &from = rider.timing[0], &to = rider.timing[1];
    mean.speed_mps += share * (to_m - from_m) / (to.time_s - from.time_s);
    mean.power_W += share * (to.pedal_J - from.pedal_J) / (to.time_s - from.time_s);
    mean.of_alone += share * (to.pedal_J - from.pedal_J) / (to.alone_J - from.alone_J);
  }
  return mean;
}

/// Lines of as many equals as are listed, and one alone.
Work read_line(YamlMap& given) {
  const RideSetup setup = read_ride_setup(given, 2000.0);
  const double plan_W = needed(given, "strength_W", {0.0, 1e4, true});
  const std::vector<double> sizes = number_list(given.require("riders", "numbers of riders"), {1.0, 26.0});
  return [=](const WakeLaw&) -> Quantities {
    const auto line_of = [&](double riders) {
      Scenario s = ride_of(setup, std::vector<double>(static_cast<std::size_t>(riders), plan_W));
      s.ride.start_speed_mps = steady_speed_mps(setup.load, plan_W);
      return s;
    };
    const Scenario one = line_of(1.0);
    const double alone_mps = ridden(one).speed_mps;
    const EvenLine even = even_line(one);
    Quantity speed{"speed_kmh", {}}, faster{"faster_mps", {}}, faster_percent{"faster_percent", {}},
        time{"time_saved_percent", {}}, power{"power_W", {}}, of_alone{"power_of_alone_percent", {}},
        closed{"closed_form_percent", {}}, kept{"kept_percent", {}};
    for (const double riders : sizes) {
      const Ridden line = ridden(line_of(riders));
      speed.values.push_back(kmh_from_mps(line.speed_mps));
      faster.values.push_back(line.speed_mps - alone_mps);
      faster_percent.values.push_back(100.0 * (line.speed_mps / alone_mps - 1.0));
      time.values.push_back(100.0 * (1.0 - alone_mps / line.speed_mps));
      power.values.push_back(line.power_W);
      of_alone.values.push_back(100.0 * line.of_alone);
      closed.values.push_back(100.0 * even_line_gain(even, static_cast<std::size_t>(riders)));
      kept.values.push_back(riders > 1.0 ? 100.0 * faster_percent.values.back() / closed.values.back() : 100.0);
    }
    return {speed, faster, faster_percent, time, power, of_alone, closed, kept};
  };
}

}  // namespace

std::vector<Kind> company_kinds() {
  return {{"line",
           "lines of equals ridden together: what each gains over riding alone, and what power and wake would allow",
           {"speed_kmh", "faster_mps", "faster_percent", "time_saved_percent", "power_W", "power_of_alone_percent",
            "closed_form_percent", "kept_percent"},
           read_line}};
}

}  // namespace leewheel::evidence
