/// The viewer's tallies at the end of a ride are the numbers of its results.

#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>

#include "io/scenario_reader.hpp"
#include "ride/watch.hpp"
#include "viz/view/view.hpp"

using namespace leewheel;

TEST_CASE("the tallies at the end of each shipped ride are the numbers of its results", "[consistency]") {
  const std::string path =
      (std::filesystem::temp_directory_path() / ("leewheel_tallies_" + std::to_string(getpid()) + ".h5")).string();
  for (const std::string story : {"classroom", "clubhill", "galecombe", "headwind", "larkmoor", "longmountain"}) {
    INFO(story);
    Scenario scenario = read_scenario(std::string(LEEWHEEL_SCENARIOS) + "/" + story + "/scenario.yaml");
    TraceWriter trace(path, scenario, "");
    Ride ride(scenario);
    const RideResult result =
        watch(ride, {scenario.ride.record_interval_s}, [&](const RideView& now) { trace.append(now.now); });
    trace.finish(result.events, result.debts);
    view::Replay replay(view::open_trace(path), path);
    const view::View end = view::view_at(replay, replay.end_s());
    for (std::size_t i = 0; i < result.riders.size(); ++i) {
      const RiderResult& rider = result.riders[i];
      const view::RiderView& shown = end.riders[i];
      INFO(rider.name);
      CHECK(shown.pedal_J == Approx(rider.ledger.pedal_J).epsilon(1e-6));
      CHECK(shown.saved_J == Approx(rider.ledger.saved_J).epsilon(1e-6).margin(0.1));
      CHECK(shown.wbal_J == Approx(rider.wbal_end_J).epsilon(1e-6));
      CHECK(shown.waited_s == Approx(rider.waited_s).epsilon(1e-6));
      CHECK(shown.sheltered_share == Approx(rider.sheltered_share).margin(0.005));  // looked at once a second
    }
  }
  std::filesystem::remove(path);
}
