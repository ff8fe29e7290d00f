#include "io/trace_file.hpp"

#include <cmath>

#include "app/support.hpp"
#include "io/fault.hpp"

using namespace leewheel;
using app_test::Folder;
namespace fs = std::filesystem;

namespace {

Scenario scenario_of(std::size_t riders) {
  RoadProfile profile;
  for (int i = 0; i <= 500; ++i) {
    profile.elevation_m.push_back(180.0 + 0.05 * i);
    profile.heading_rad.push_back(0.01 * i);
    profile.rolling.push_back(0.004);
    profile.width_m.push_back(5.5);
    profile.abreast.push_back(2);
    profile.exposure_left.push_back(Exposure::wood);
    profile.exposure_right.push_back(Exposure::open_ridge);
  }
  profile.landmarks = {{"Mühle", 100.0}, {"Top", 400.0}};
  Scenario scenario{"Ünïcode", "", "", Road(profile), {}, 0.0, 9.80665, {}, {}, {}, {}, {}, {}, {}};
  for (std::size_t i = 0; i < riders; ++i) scenario.riders.emplace_back().name = "rider " + std::to_string(i);
  scenario.riders.back().body_mass_kg = 91.5;
  scenario.ride.seed = 12345678901234567ull;
  wake_base(scenario.wake).wake_scale = 0.9;
  return scenario;
}

/// Every value differs from every other, so that a swapped row, rider or column is seen; whole, as some columns are.
float value_at(std::size_t sample, std::size_t rider, std::size_t column) {
  return static_cast<float>(sample + 10'000 * rider + 100'000 * column);
}

void append(TraceWriter& trace, std::size_t from, std::size_t to, std::size_t riders) {
  RideSample sample;
  for (std::size_t t = from; t < to; ++t) {
    sample.time_s = static_cast<double>(t);
    for (std::size_t c = 0; c < sample_columns().size(); ++c) {
      std::vector<float>& values = sample.*sample_columns()[c].values;
      values.resize(riders);
      for (std::size_t i = 0; i < riders; ++i) values[i] = value_at(t, i, c);
    }
    trace.append(sample);
  }
}

const std::vector<Event> events{
    {EventKind::dropped, 12.5, 100.0, {1, 0}, 2, {Reason::behind_wheel, 0, {7.25, 208.0, 200.5}, 1}},
    {EventKind::finished, 20.0, 200.0, {}, no_group, {Reason::at_the_finish}}};

std::string whole_trace(const Folder& folder, std::size_t samples, std::size_t riders) {
  const std::string path = (folder / "trace.h5").string();
  TraceWriter trace(path, scenario_of(riders), "title: Ünïcode\n");
  append(trace, 0, samples, riders);
  trace.finish(events, {{0, 1, 1500.0}, {1, 0, -20.0}});
  return path;
}

std::string fault_of(const std::string& path) {
  try {
    TraceReader reader(path);
  } catch (const InputFault& fault) {
    return fault.what();
  }
  return "no fault";
}

}  // namespace

TEST_CASE("what is written to a trace is read back, head, samples, series and events", "[trace]") {
  const Folder folder;
  TraceReader trace(whole_trace(folder, 1000, 3));
  const TraceHead& head = trace.head();
  CHECK(head.complete);
  CHECK(head.title == "Ünïcode");
  CHECK(head.scenario_text == "title: Ünïcode\n");
  CHECK(head.seed == 12345678901234567ull);
  CHECK(wake_base(head.wake_law).wake_scale == 0.9);
  CHECK(head.riders.size() == 3);
  CHECK(head.riders[2].body_mass_kg == 91.5);
  CHECK(head.road.landmarks[0].name == "Mühle");
  CHECK(head.road.elevation_m == scenario_of(3).road.profile().elevation_m);
  CHECK(head.road.exposure_right[7] == Exposure::open_ridge);
  REQUIRE(head.time_s.size() == 1000);
  REQUIRE(head.events.size() == 2);
  CHECK(head.events[0].kind == EventKind::dropped);
  CHECK(head.events[0].riders == std::vector<std::uint32_t>{1, 0});
  CHECK(head.events[0].because == Because{Reason::behind_wheel, 0, {7.25, 208.0, 200.5}, 1});
  CHECK(head.events[1].group == no_group);
  REQUIRE(head.debts.size() == 2);
  CHECK((head.debts[0].giver == 0 && head.debts[0].receiver == 1 && head.debts[0].saved_J == 1500.0));
  CHECK((head.debts[1].giver == 1 && head.debts[1].receiver == 0 && head.debts[1].saved_J == -20.0));

  RideSample sample;
  for (const std::size_t t : {999ul, 0ul, 255ul, 256ul, 700ul, 1ul}) {
    trace.sample(t, sample);
    CHECK(sample.time_s == static_cast<double>(t));
    for (std::size_t c = 0; c < sample_columns().size(); ++c)
      for (std::size_t i = 0; i < 3; ++i) REQUIRE((sample.*sample_columns()[c].values)[i] == value_at(t, i, c));
  }
  const std::vector<float> power_W = trace.series("power_W", 2);
  REQUIRE(power_W.size() == 1000);
  for (std::size_t t = 0; t < 1000; ++t) REQUIRE(power_W[t] == value_at(t, 2, 3));
}

TEST_CASE("the wake law and the land's change come back as they were ridden, and stay unsaid where they are the usual ones",
          "[trace]") {
  const Folder folder;
  const auto written = [&](const WakeLaw& law, double change_length_m) {
    Scenario scenario = scenario_of(2);
    scenario.wake = law;
    scenario.wind.change_length_m = change_length_m;
    const std::string path = (folder / "trace.h5").string();
    TraceWriter trace(path, scenario, "title: x\n");
    append(trace, 0, 2, 2);
    trace.finish({});
    return path;
  };
  WheelGapWake law;
  law.touching_factor = 0.5;
  const TraceHead head = TraceReader(written(law, 200.0)).head();
  REQUIRE(std::holds_alternative<WheelGapWake>(head.wake_law));
  CHECK(std::get<WheelGapWake>(head.wake_law).touching_factor == 0.5);
  CHECK(head.change_length_m == 200.0);
  const std::string usual = written(SuperposedWakes{}, WindSettings{}.change_length_m);
  CHECK(std::holds_alternative<SuperposedWakes>(TraceReader(usual).head().wake_law));
  CHECK(app_test::text_of(usual).find("change_length_m") == std::string::npos);
}

TEST_CASE("two traces of one ride are the same bytes", "[trace][determinism]") {
  const Folder one, two;
  const std::string first = app_test::text_of(whole_trace(one, 300, 4));
  sleep(1);                                                       // the clock must not stand in it
  CHECK((first == app_test::text_of(whole_trace(two, 300, 4))));  // no print of bytes
}

TEST_CASE("a ride cut off is read up to the last whole chunk and says it is not complete", "[trace]") {
  const Folder folder;
  const std::string path = (folder / "trace.h5").string();
  {
    TraceWriter trace(path, scenario_of(2), "");
    append(trace, 0, 600, 2);
  }
  CHECK_FALSE(fs::exists(path));
  TraceReader trace(path + ".part");
  CHECK_FALSE(trace.head().complete);
  CHECK(trace.head().time_s.size() == 512);
  CHECK(trace.head().events.empty());
  RideSample sample;
  trace.sample(511, sample);
  CHECK(sample.distance_m[1] == value_at(511, 1, 0));
}

TEST_CASE("a copy of the file made at any moment while riding can be read", "[trace]") {
  const Folder folder;
  const std::string path = (folder / "trace.h5").string(), copy = (folder / "copy.h5").string();
  TraceWriter trace(path, scenario_of(2), "");
  for (std::size_t t = 0; t < 1500; t += 100) {
    append(trace, t, t + 100, 2);
    if (t + 100 < 256) continue;
    fs::copy_file(path + ".part", copy, fs::copy_options::overwrite_existing);
    TraceReader reader(copy);
    CHECK(reader.head().time_s.size() == (t + 100) / 256 * 256);
  }
}

TEST_CASE("a trace cut short at any length is refused in words, never read as whole", "[trace]") {
  const Folder folder;
  const std::string whole = app_test::text_of(whole_trace(folder, 500, 2));
  for (std::size_t size = 1; size < whole.size(); size += whole.size() / 97) {
    const std::string fault = fault_of(folder.write("cut.h5", whole.substr(0, size)));
    INFO(size << ": " << fault);
    CHECK(fault != "no fault");
    CHECK(fault.find("cut.h5: ") != std::string::npos);
  }
}

TEST_CASE("a damaged trace gives a fault or values, never a crash", "[trace]") {
  const Folder folder;
  const std::string whole = app_test::text_of(whole_trace(folder, 300, 2));
  RideSample sample;
  for (std::size_t at = 0; at < whole.size(); at += 611) {
    std::string damaged = whole;
    damaged[at] = static_cast<char>(damaged[at] ^ 0x5A);
    const std::string path = folder.write("damaged.h5", damaged);
    try {
      TraceReader trace(path);
      for (std::size_t t = 0; t < trace.head().time_s.size(); t += 50) trace.sample(t, sample);
    } catch (const InputFault& fault) {
      CHECK(std::string(fault.what()).find("damaged.h5: ") != std::string::npos);
    }
  }
}

TEST_CASE("what is no trace is refused by what it is", "[trace]") {
  const Folder folder;
  CHECK(fault_of((folder / "none.h5").string()).find("no such file") != std::string::npos);
  CHECK(fault_of(folder.path().string()).find("is not a file") != std::string::npos);
  CHECK(fault_of(folder.write("empty.h5", "")).find("is empty") != std::string::npos);
  CHECK(fault_of(folder.write("words.h5", "distance,speed\n1,2\n")).find("not an HDF5 file") != std::string::npos);
}

TEST_CASE("a missing trace whose unfinished part is there is pointed to", "[trace]") {
  const Folder folder;
  const std::string path = (folder / "trace.h5").string();
  { TraceWriter trace(path, scenario_of(1), ""); }
  CHECK(fault_of(path).find("trace.h5.part") != std::string::npos);
  CHECK(fault_of(path + ".part").find("torn beyond use") != std::string::npos);
}

TEST_CASE("a column or rider that does not exist is refused by name", "[trace]") {
  const Folder folder;
  TraceReader trace(whole_trace(folder, 10, 2));
  CHECK_THROWS_AS(trace.series("banana", 0), InputFault);
  CHECK_THROWS_AS(trace.series("power_W", 2), InputFault);
}
