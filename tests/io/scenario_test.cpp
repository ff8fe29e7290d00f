#include "io/scenario_reader.hpp"

#include <fmt/format.h>

#include <random>

#include "leewheel/units.hpp"
#include "support.hpp"

using namespace leewheel;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const std::string larkmoor = LEEWHEEL_SCENARIOS "/larkmoor/scenario.yaml";

/// A scenario of one flat kilometre, a place half way, and whatever `rest` adds.
std::string flat(const std::string& rest) {
  return "title: Flat\n"
         "road:\n"
         "  start_elevation_m: 100\n"
         "  stretches:\n"
         "    - {name: Out, length_m: 500, grade_percent: 0, heading_deg: 90}\n"
         "    - {name: Half way, length_m: 500, grade_percent: 0}\n" +
         rest;
}
const std::string two_riders = "riders:\n  - {name: Ada}\n  - {name: Ben}\n";

Scenario read(const std::string& text) {
  io_test::Folder folder;
  return read_scenario(folder.write("scenario.yaml", text));
}

/// Every number of a table, written under `head` at a value inside its range, arrives in its member.
template <class Settings, class Read>
void each_number_arrives(std::span<const NumberField<Settings>> fields, const std::string& head, const Read& read_back) {
  for (const NumberField<Settings>& field : fields) {
    const double value = field.highest < no_limit ? 0.25 * field.lowest + 0.75 * field.highest : field.lowest + 1.5;
    INFO(field.name);
    const std::string text = fmt::format("{}{}: {:.15g}}}\n", head, field.name, value);
    CHECK_THAT(read_back(text).*field.member, WithinRel(value, 1e-12));
  }
}

}  // namespace

TEST_CASE("the Larkmoor scenario arrives as it is written", "[scenario]") {
  const Scenario s = read_scenario(larkmoor);
  CHECK(s.title == "Larkmoor in a west-south-westerly");
  CHECK_THAT(s.road.length_m(), WithinAbs(13470.0, 1e-9));
  CHECK(s.air.temperature_C == 14.0);
  CHECK_THAT(s.air.pressure_Pa, WithinRel(99200.0, 1e-12));
  CHECK_THAT(s.air.humidity_fraction, WithinRel(0.6, 1e-12));
  CHECK(s.air_station_altitude_m == 180.0);
  CHECK(s.gravity_mps2 == standard_gravity_mps2);
  REQUIRE(s.wind.forecast.size() == 2);
  CHECK(s.wind.forecast[1].time_s == 3600.0);
  CHECK(s.wind.forecast[1].speed_mps == 7.0);
  CHECK_THAT(s.wind.forecast[1].from_rad, WithinRel(rad_from_deg(265.0), 1e-12));
  REQUIRE(s.riders.size() == 6);
  CHECK(s.riders[3].name == "Dirk");
  CHECK(s.riders[3].body_mass_kg == 79.0);     // his own
  CHECK(s.riders[3].w_prime_J == 18000.0);     // of his archetype
  CHECK(s.riders[3].wheel_radius_m == 0.311);  // of the program
  CHECK(s.ride.start_order.front() == "Bram");
  REQUIRE(s.ride.regroup_at_m.size() == 1);
  CHECK(s.ride.regroup_at_m[0] == 7770.0);
  CHECK(s.plans.size() == 6);
}

TEST_CASE("every number of every table is read under its own name", "[scenario]") {
  each_number_arrives(tactics_fields(), flat(two_riders) + "behaviour: {",
                      [](const std::string& t) { return read(t).tactics; });
  each_number_arrives(group_fields(), flat(two_riders) + "groups: {", [](const std::string& t) { return read(t).groups; });
  for (std::size_t n = 0; n < wake_law_names.size(); ++n)
    std::visit(
        [&]<class Law>(const Law& law) {
          each_number_arrives(law.fields(), flat(two_riders) + fmt::format("wake: {{law: {}, ", law.name),
                              [](const std::string& t) { return std::get<Law>(read(t).wake); });
        },
        wake_law(n));
  each_number_arrives(ride_fields(), flat(two_riders) + "ride: {", [](const std::string& t) { return read(t).ride; });
  each_number_arrives(wind_fields(), flat(two_riders) + "wind: {forecast: [{time_s: 0, speed_mps: 1, from_deg: 0}], ",
                      [](const std::string& t) { return read(t).wind; });
  for (const NumberField<RiderSettings>& field : rider_fields()) {
    if (std::string(field.name) == "critical_power_W" || std::string(field.name) == "peak_power_W")
      continue;  // bound to each other
    const double value = 0.5 * (field.lowest + field.highest);
    INFO(field.name);
    CHECK_THAT(read(flat(fmt::format("riders: [{{name: Ada, {}: {:.15g}}}]\n", field.name, value))).riders[0].*field.member,
               WithinRel(value, 1e-12));
  }
}

TEST_CASE("a value just outside a table's range is refused and its ends are accepted", "[scenario]") {
  for (const NumberField<RiderSettings>& field : rider_fields()) {
    const auto rider = [&](double value) {
      return flat(fmt::format("riders: [{{name: Ada, peak_power_W: 2500, {}: {:.17g}}}]\n", field.name, value));
    };
    if (std::string(field.name) == "critical_power_W" || std::string(field.name) == "peak_power_W") continue;
    INFO(field.name);
    CHECK(io_test::said([&] { read(rider(field.highest)); }) == "accepted");
    CHECK(io_test::said([&] { read(rider(field.highest * (1.0 + 1e-9))); }) != "accepted");
    CHECK((io_test::said([&] { read(rider(field.lowest)); }) == "accepted") == !field.lowest_excluded);
    CHECK(io_test::said([&] { read(rider(field.lowest - 1e-6)); }) != "accepted");
  }
}

TEST_CASE("what a scenario leaves out takes the program's defaults: calm, standard air, steady", "[scenario]") {
  const Scenario s = read(flat("riders: [{name: Ada}]\n"));
  CHECK(s.wind.forecast.size() == 1);
  CHECK(s.wind.forecast[0].speed_mps == 0.0);
  CHECK(s.air_station_altitude_m == 100.0);  // the start of the road
  CHECK_THAT(s.air.pressure_Pa, WithinRel(standard_pressure_Pa(100.0), 1e-12));
  CHECK(s.ride.kind == RideKind::steady);
  CHECK(s.ride.keep_right);
  CHECK(s.plans[0].empty());
}

TEST_CASE("a plan may speak of places, metres, effort and watts", "[scenario]") {
  const Scenario s =
      read(flat("riders:\n  - name: Ada\n    critical_power_W: 200\n    target_effort: 0.7\n    plan:\n"
                "      - {from_m: 100, effort: 0.9}\n      - {from: Half way, power_W: 250}\n"
                "      - {from_m: 600, power_W: 0}\n      - {from_m: 700, effort: 0}\n"));
  REQUIRE(s.plans[0].size() == 5);
  CHECK(s.plans[0][0].from_m == 0.0);
  CHECK(s.plans[0][0].effort == 0.7);  // the target until the plan begins
  CHECK(s.plans[0][1].from_m == 100.0);
  CHECK(s.plans[0][2].from_m == 500.0);
  CHECK(s.plans[0][2].effort == 1.25);
  CHECK(s.plans[0][3].effort == 0.0);  // to roll
  CHECK(s.plans[0][4].effort == 0.0);
}

TEST_CASE("the ride's own words are understood", "[scenario]") {
  const Scenario s = read(
      flat(two_riders + "ride: {kind: race, keep: left, recovery_law: steeper, seed: 77, start_abreast: 2, abreast: 1,\n"
                        "  start_order: [Ben], regroup_at: [finish, Half way, 250, Half way]}\n"));
  CHECK(s.ride.kind == RideKind::race);
  CHECK_FALSE(s.ride.keep_right);
  CHECK(s.ride.recovery_law == RecoveryLaw::steeper);
  CHECK(s.ride.seed == 77);
  CHECK(s.ride.start_abreast == 2);
  CHECK(s.road.abreast(300.0) == 1);
  CHECK(s.ride.start_order == std::vector<std::string>{"Ben"});
  CHECK(s.ride.regroup_at_m == std::vector<double>{250.0, 500.0, 1000.0});
}

TEST_CASE("stops have a place, a length and a purpose, and those beside no landmark get one", "[scenario]") {
  const Scenario s =
      read(flat(two_riders + "ride: {stops: [{at: 800, stop_min: 2.5}, {at: 400, stop_min: 10, for: water}]}\n"));
  REQUIRE(s.ride.stops.size() == 2);
  CHECK(std::tuple(s.ride.stops[0].at_m, s.ride.stops[0].stop_s, s.ride.stops[0].what) ==
        std::tuple(400.0, 600.0, std::string("water")));
  CHECK(std::tuple(s.ride.stops[1].at_m, s.ride.stops[1].stop_s, s.ride.stops[1].what) ==
        std::tuple(800.0, 150.0, std::string()));
  CHECK(landmark_near(s.road, 400.0));
  CHECK(landmark_near(s.road, 800.0));
}

TEST_CASE("forecasts by the clock count from the start, over midnight too, and may begin before it", "[scenario]") {
  using namespace std::chrono;
  const auto times_s = [](const std::string& times) {
    const Scenario s = read(flat("start: 2027-05-16 23:30\nwind: {forecast: [" + times + "]}\n" + two_riders));
    CHECK(s.start == local_days(year(2027) / 5 / 16) + 23h + 30min);
    std::vector<double> found;
    for (const ForecastPoint& point : s.wind.forecast) found.push_back(point.time_s);
    return found;
  };
  CHECK(times_s("{time: \"23:00\", from: W, speed_kmh: 9}, {time: \"00:30\", from: W, speed_kmh: 9}, "
                "{time: 2027-05-17T02:00:30, from: W, speed_kmh: 9}, {time_min: 200, from: W, speed_kmh: 9}") ==
        std::vector<double>{-1800.0, 3600.0, 9030.0, 12000.0});
  CHECK(times_s("{time: \"01:00\", from: W, speed_kmh: 9}") == std::vector<double>{5400.0});
  CHECK_FALSE(read(flat(two_riders)).start);
}

TEST_CASE("a scenario names its wake law and sets the numbers of that law; without a name it is the first", "[scenario]") {
  CHECK(std::holds_alternative<SuperposedWakes>(read(flat(two_riders)).wake));
  CHECK(std::get<SuperposedWakes>(read(flat(two_riders) + "wake: {push: 0.02}\n").wake).push == 0.02);
  const WakeLaw law = read(flat(two_riders) + "wake: {law: wheel_gap, touching_factor: 0.7, wake_scale: 0.9}\n").wake;
  REQUIRE(std::holds_alternative<WheelGapWake>(law));
  CHECK(std::get<WheelGapWake>(law).touching_factor == 0.7);
  CHECK(wake_base(law).wake_scale == 0.9);
}

TEST_CASE("wind in km/h and minutes is the wind in m/s and seconds", "[scenario]") {
  const WindSettings a = read(flat("wind: {forecast: [{time_min: 10, speed_kmh: 18, from_deg: 270}]}\n" + two_riders)).wind;
  CHECK(a.forecast[0].time_s == 600.0);
  CHECK_THAT(a.forecast[0].speed_mps, WithinRel(5.0, 1e-12));
}

TEST_CASE("marks and landmarks lie on top of the road, the later ones uppermost", "[scenario]") {
  const Scenario s =
      read(flat("  exposure:\n    - {is: houses}\n    - {from_m: 100, to_m: 200, left: wood}\n"
                "  surface: [{from_m: 900, is: gravel}]\n  width_m: [{to_m: 50, is: 3}]\n"
                "  landmarks: [{name: Gate, at_m: 700}, {name: Mill, at_m: 30}]\n" +
                two_riders));
  CHECK(s.road.exposure_left(150.0) == Exposure::wood);
  CHECK(s.road.exposure_right(150.0) == Exposure::houses);
  CHECK(s.road.exposure_left(250.0) == Exposure::houses);
  CHECK(s.road.rolling(950.0) == rolling_coefficient(Surface::gravel));
  CHECK(s.road.rolling(850.0) == rolling_coefficient(Surface::worn_asphalt));
  CHECK(s.road.width_m(20.0) == 3.0);
  REQUIRE(s.road.landmarks().size() == 2);
  CHECK(s.road.landmarks()[0].name == "Mill");
}

TEST_CASE("riders side by side and a road closed to traffic are set by stretch and by mark", "[scenario]") {
  std::string text =
      flat("  closed: [{from_m: 800, to_m: 900, is: no}]\n  abreast: [{from_m: 100, to_m: 200, is: 3}]\n" + two_riders);
  text.replace(text.find("grade_percent: 0}"), 17, "grade_percent: 0, closed: yes, abreast: 4}");
  text.replace(text.find("grade_percent: 0,"), 17, "grade_percent: 0, abreast: 1,");
  const Road road = read(text).road;
  CHECK_FALSE(road.closed(50.0));
  CHECK(road.closed(650.0));
  CHECK_FALSE(road.closed(850.0));
  CHECK(road.closed(950.0));
  CHECK(road.abreast(50.0) == 1);
  CHECK(road.abreast(150.0) == 3);
  CHECK(road.abreast(650.0) == 4);
}

TEST_CASE("gravity follows the latitude of the road unless the scenario says otherwise", "[scenario]") {
  const std::string position = "  position: {latitude_deg: 46, longitude_deg: 8}\n";
  CHECK_THAT(read(flat(position + two_riders)).gravity_mps2, WithinRel(normal_gravity_mps2(rad_from_deg(46.0)), 1e-12));
  CHECK(read(flat(position + two_riders + "gravity_mps2: 9.81\n")).gravity_mps2 == 9.81);
}

TEST_CASE("a byte order mark, CRLF line ends and names in any script change nothing", "[scenario]") {
  const std::string text = flat("riders:\n  - {name: Žofie Ångström}\n  - {name: 小林}\nride: {order: [小林]}\n");
  std::string crlf = "\xEF\xBB\xBF";
  for (const char c : text) crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
  for (const std::string& form : {text, crlf}) {
    const Scenario s = read(form);
    CHECK(s.title == "Flat");
    CHECK(s.riders[0].name == "Žofie Ångström");
    CHECK(s.ride.start_order[0] == "小林");
  }
}

TEST_CASE("a recorded track serves as a road with marks on top", "[scenario]") {
  io_test::Folder folder;
  std::string gpx = "<gpx version='1.1' xmlns='http://www.topografix.com/GPX/1/1'><trk><trkseg>\n";
  for (int i = 0; i < 60; ++i)
    gpx += fmt::format("<trkpt lat='{:.6f}' lon='8.0'><ele>{:.1f}</ele></trkpt>\n", 46.0 + 0.0002 * i, 400.0 + 1.1 * i);
  folder.write("hill.gpx", gpx + "</trkseg></trk></gpx>\n");
  const std::string path =
      folder.write("scenario.yaml",
                   "title: Track\nroad:\n  track: hill.gpx\n  smoothing_m: 40\n  exposure: [{from_m: 600, is: wood}]\n"
                   "  landmarks: [{name: Wood, at_m: 600}]\nriders: [{name: Ada}]\nride: {regroup_at: [Wood]}\n");
  const Scenario s = read_scenario(path);
  CHECK(s.road.exposure_left(700.0) == Exposure::wood);
  CHECK(s.ride.regroup_at_m[0] == 600.0);
  CHECK_THAT(s.road.grade(650.0), WithinAbs(1.1 / 22.23, 0.001));
  CHECK_THAT(s.gravity_mps2, WithinRel(normal_gravity_mps2(rad_from_deg(46.0)), 1e-9));
}

TEST_CASE("no damage to a scenario's text is answered by anything but a scenario or a fault", "[scenario][fuzz]") {
  const std::string good = flat(
      "air: {temperature_C: 14}\nwind: {forecast: [{time_s: 0, speed_mps: 5, from_deg: 250}]}\n"
      "riders:\n  - name: Ada\n    plan: [{from: Half way, effort: 0.9}]\n  - {name: Ben}\n"
      "ride: {kind: steady, order: [Ben, Ada], regroup_at: [Half way]}\n");
  const std::string spice = "{}[]:,-&*!|>'\"%@`#?\n\t \\0.9~\xC3\xFF";
  std::mt19937 random(7);
  io_test::Folder folder;
  int accepted = 0;
  for (int k = 0; k < 3000; ++k) {
    std::string text = good;
    for (unsigned edits = 1 + random() % 4; edits > 0; --edits) {
      const std::size_t at = random() % text.size();
      switch (random() % 4) {
        case 0: text[at] = spice[random() % spice.size()]; break;
        case 1: text.insert(at, 1, spice[random() % spice.size()]); break;
        case 2: text.erase(at, 1 + random() % 12); break;
        default: text.insert(at, text.substr(random() % text.size(), random() % 20)); break;
      }
      if (text.empty()) text = "x";
    }
    INFO(text);
    CHECK_NOTHROW(io_test::said([&] {
      read_scenario(folder.write("scenario.yaml", text));
      ++accepted;
    }));
  }
  CHECK(accepted == 31);  // of 3000
}
