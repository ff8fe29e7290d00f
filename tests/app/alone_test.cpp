/// Each rider alone as a second trace.

#include <nlohmann/json.hpp>

#include "app/support.hpp"
#include "io/trace_file.hpp"

TEST_CASE("--alone also writes each rider alone, whose times are those of the summary; without it an old one goes",
          "[app]") {
  using namespace app_test;
  const Folder folder;
  folder.write("road.yaml", "start_elevation_m: 100\nstretches: [{length_m: 1500, grade_percent: 4, heading_deg: 270}]\n");
  const std::string ride = "ride " +
                           quoted(folder.write("short.yaml",
                                               "title: Short\n"

                                               "road: {file: road.yaml}\n"
                                               "riders:\n"
                                               "  - {name: Una, critical_power_W: 280}\n"
                                               "  - {name: Odo, critical_power_W: 220}\n")) +
                           " -o results --one --quiet";
  REQUIRE(app_test::leewheel(folder, ride + " --alone").code == 0);
  const ::leewheel::TraceReader trace((folder / "results/alone.h5").string());
  CHECK(trace.head().title == "Short, each rider alone");
  CHECK(trace.head().riders.size() == 2);
  const auto summary = nlohmann::json::parse(text_of(folder / "results/summary.json"));
  REQUIRE(trace.head().events.size() == 2);
  for (const ::leewheel::Event& event : trace.head().events) {
    CHECK(event.kind == ::leewheel::EventKind::finished);
    const double alone_s = summary["riders"][event.riders.front()]["solo_time_s"];
    CHECK(event.time_s == Approx(alone_s).margin(0.051));
  }
  REQUIRE(app_test::leewheel(folder, ride).code == 0);
  CHECK_FALSE(fs::exists(folder / "results/alone.h5"));
}
