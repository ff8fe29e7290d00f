/// Rides every shipped scenario in every kind and formation, with and without gusts, for several seeds, and rides drawn at
/// random, and tells one hash a case over every sample and event, another over the words of the events.
///
///   leewheel_frozen SCENARIOS --write FILE     writes the file of hashes anew (say in the commit why numbers moved)
///   leewheel_frozen SCENARIOS --compare FILE   names each case that differs; exit code 1 when one does
///
/// Another mathematics library rounds sines and powers otherwise. The file tells whose hashes they are by a hash over a few
/// thousand such values; where that differs, nothing can be compared and the program leaves with 77.

#include <oneapi/tbb/parallel_for.h>

#include <bit>
#include <cmath>
#include <cstdint>
#include <fstream>
#include <iomanip>
#include <iostream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "io/scenario_reader.hpp"
#include "support/scenes.hpp"
#include "words/phrases.hpp"

using namespace leewheel;

namespace {

struct Hash {
  std::uint64_t value = 0xcbf29ce484222325u;  // FNV-1a, a word at a time
  void add(std::uint64_t bits) { value = (value ^ bits) * 0x100000001b3u; }
  void add(double number) { add(std::bit_cast<std::uint64_t>(number)); }
  void add(float number) { add(static_cast<std::uint64_t>(std::bit_cast<std::uint32_t>(number))); }
  void add(const std::string& text) {
    for (const char c : text) add(static_cast<std::uint64_t>(static_cast<unsigned char>(c)));
  }
  std::string text() const {
    std::ostringstream hex;
    hex << std::hex << std::setfill('0') << std::setw(16) << value;
    return hex.str();
  }
};

struct Case {
  std::string name;
  Scenario scenario;
};

struct Hashes {
  std::string numbers, words;
  bool operator==(const Hashes&) const = default;
};

/// What this machine's mathematics library makes of a few thousand numbers.
std::string mathematics() {
  Hash hash;
  for (int k = 1; k < 4000; ++k) {
    const double x = 0.00173 * k;
    for (const double y : {std::sin(x), std::cos(x), std::atan(x), std::exp(-x), std::log(x), std::pow(x, 0.19),
                           std::cbrt(x), std::hypot(x, 1.3), std::atan2(x, 2.1), std::tanh(x)})
      hash.add(y);
  }
  return hash.text();
}

/// Every column as of today by name, so that a further column moves no hash.
constexpr std::vector<float> RideSample::*frozen_columns[] = {&RideSample::distance_m,     &RideSample::lateral_m,
                                                              &RideSample::speed_mps,      &RideSample::power_W,
                                                              &RideSample::alone_power_W,  &RideSample::drag_factor,
                                                              &RideSample::side_force_N,   &RideSample::wbal_J,
                                                              &RideSample::group_id,       &RideSample::role,
                                                              &RideSample::wheel_of,       &RideSample::gap_m,
                                                              &RideSample::wind_along_mps, &RideSample::wind_cross_mps,
                                                              &RideSample::drag_area_m2,   &RideSample::saved_J,
                                                              &RideSample::pedal_J,        &RideSample::gravity_W,
                                                              &RideSample::air_W,          &RideSample::rolling_W,
                                                              &RideSample::kinetic_W,      &RideSample::heart_rate_share};

Hashes ridden(const Scenario& scenario) {
  Hash numbers, words;
  std::vector<double> marks_m;  // the front wheel at each landmark and at the finish, wherever riders come to a stop
  for (const Landmark& mark : scenario.road.landmarks()) marks_m.push_back(mark.distance_m);
  marks_m.push_back(scenario.road.length_m());
  Ride ride(scenario, {.timing_points_m = marks_m});
  RideSample now;
  const auto every = static_cast<std::uint64_t>(std::max(1.0, std::round(1.0 / scenario.ride.step_s)));
  while (ride.end() == RideEnd::riding) {
    ride.step();
    if (ride.tick() % every != 0 && ride.end() == RideEnd::riding) continue;
    ride.sample(now);
    numbers.add(now.time_s);
    for (const auto column : frozen_columns)
      for (const float value : now.*column) numbers.add(value);
  }
  const RideResult result = ride.result();
  const NameOf name = [&](std::uint32_t rider) -> const std::string& { return scenario.riders[rider].name; };
  for (const Event& event : result.events) {
    for (const double value :
         {static_cast<double>(event.kind), event.time_s, event.distance_m, static_cast<double>(event.group)})
      numbers.add(value);
    for (const std::uint32_t rider : event.riders) numbers.add(static_cast<std::uint64_t>(rider));
    words.add(because_text(event.because, event.group, name));
  }
  for (const RiderResult& rider : result.riders) {
    const double door_to_door_s = rider.finish_time_s;
    for (const double value :
         {rider.finish_time_s, rider.distance_m, rider.ledger.pedal_J / door_to_door_s, rider.sheltered_s / door_to_door_s,
          rider.wbal_end_J, rider.wbal_least_J, rider.waited_s, rider.in_group_s, rider.overlap_s,
          rider.largest_side_force_N, rider.given_J, rider.received_J})
      numbers.add(value);
    for (const double value : rider.wbal_end_by_law_J) numbers.add(value);
    for (const Passage& at : rider.timing)
      for (const double value : {at.time_s, at.power_W, at.wbal_J, at.pedal_J, at.saved_J, at.alone_J, at.sheltered_s})
        numbers.add(value);
    const EnergyLedger& ledger = rider.ledger;
    for (const double value : {ledger.pedal_J, ledger.drivetrain_J, ledger.air_J, ledger.rolling_J, ledger.bearings_J,
                               ledger.braking_J, ledger.potential_J, ledger.kinetic_J, ledger.alone_J, ledger.saved_J})
      numbers.add(value);
  }
  for (const GroupSpan& group : result.groups) {
    for (const double value : {static_cast<double>(group.id), group.from_s, group.to_s, static_cast<double>(group.largest)})
      numbers.add(value);
    for (const std::uint32_t rider : group.riders) numbers.add(static_cast<std::uint64_t>(rider));
  }
  return {numbers.text(), words.text()};
}

std::vector<Case> shipped(const std::string& folder) {
  std::vector<Case> cases;
  for (const std::string story : {"classroom", "clubhill", "galecombe", "headwind", "larkmoor", "longmountain"}) {
    const Scenario as_shipped = read_scenario(folder + "/" + story + "/scenario.yaml");
    for (std::size_t kind = 0; kind < ride_kind_names.size(); ++kind)
      for (std::size_t formation = 0; formation < formation_names.size(); ++formation)
        for (const Gusts gusts : {Gusts::off, Gusts::on})
          for (const std::uint64_t seed : {1u, 2u, 3u}) {
            Scenario s = as_shipped;
            s.ride.kind = static_cast<RideKind>(kind);
            s.ride.formation = static_cast<Formation>(formation);
            s.wind.gusts = gusts;
            s.ride.seed = seed;
            cases.push_back({story + " " + std::string(ride_kind_names[kind]) + " " +
                                 std::string(formation_names[formation]) + (gusts == Gusts::on ? " gusts " : " calm ") +
                                 std::to_string(seed),
                             s});
          }
    for (std::size_t choice = 0; choice < choice_names.size(); ++choice) {  // asked of one rider over the middle of the road
      Scenario s = as_shipped;
      const double length_m = s.road.length_m();
      s.instructions.push_back({1, 0.3 * length_m, 0.7 * length_m, static_cast<Choice>(choice)});
      cases.push_back({story + " rider 2 " + std::string(choice_names[choice]), s});
    }
    Scenario tired = as_shipped;
    tired.ride.fatigue = tired.wind.yaw_drag = true;
    tired.tactics.reaction_s = 0.3;
    cases.push_back({story + " fatigue, drag by yaw, reaction", tired});
  }
  return cases;
}

std::vector<Case> drawn() {
  std::vector<Case> cases;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    Scenario s = scenes::random_scenario(seed);
    s.ride.formation = static_cast<Formation>(seed % 3);  // of the first three: a further formation moves no drawn ride
    if (seed % 4 == 0) s.wind.gusts = Gusts::on;
    cases.push_back({"drawn " + std::to_string(seed), s});
  }
  for (const RideKind kind : {RideKind::race, RideKind::steady}) {
    Scenario s = scenes::scene(scenes::smooth_hills(2500.0), scenes::club(120));
    s.ride.kind = kind;
    s.ride.closed_road = true;
    s.ride.start_abreast = 4;
    scenes::set_wind(s, 6.0, 60.0);
    cases.push_back({"120 riders " + std::string(ride_kind_names[static_cast<std::size_t>(kind)]), s});
  }
  return cases;
}

std::map<std::string, Hashes> hashes_in(std::istream& file, std::string& mathematics_of_file) {
  std::map<std::string, Hashes> found;
  std::string line;
  std::getline(file, line);
  mathematics_of_file = line.substr(line.rfind(' ') + 1);
  std::getline(file, line);  // the heading
  while (std::getline(file, line)) {
    const std::size_t words = line.rfind(';'), numbers = line.rfind(';', words - 1);
    found[line.substr(0, numbers)] = {line.substr(numbers + 1, words - numbers - 1), line.substr(words + 1)};
  }
  return found;
}

int compare(const std::vector<Case>& cases, const std::vector<Hashes>& now, const std::map<std::string, Hashes>& then) {
  std::size_t numbers = 0, words = 0;
  for (std::size_t k = 0; k < cases.size(); ++k) {
    const auto found = then.find(cases[k].name);
    if (found != then.end() && found->second == now[k]) continue;
    const bool moved = found == then.end() || found->second.numbers != now[k].numbers;
    ++(moved ? numbers : words);
    if (numbers + words <= 40) std::cout << cases[k].name << (moved ? ": another ride" : ": other words") << "\n";
  }
  std::cout << cases.size() - numbers - words << " of " << cases.size() << " cases as they were, " << numbers
            << " rides moved, " << words << " more have other words\n";
  return numbers + words == 0 && cases.size() == then.size() ? 0 : 1;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 4) return std::cerr << "leewheel_frozen SCENARIOS --write|--compare FILE\n", 2;
  const std::string what = argv[2], file = argv[3];
  std::map<std::string, Hashes> then;
  if (what == "--compare") {
    std::ifstream in(file);
    std::string theirs;
    then = hashes_in(in, theirs);
    if (theirs != mathematics()) return std::cout << "another mathematics library than the file's: nothing to compare\n", 77;
  }
  std::vector<Case> cases = shipped(argv[1]);
  for (Case& one : drawn()) cases.push_back(std::move(one));
  std::vector<Hashes> now(cases.size());
  tbb::parallel_for(std::size_t{0}, cases.size(), [&](std::size_t k) { now[k] = ridden(cases[k].scenario); });
  if (what == "--compare") return compare(cases, now, then);
  std::ofstream out(file);
  out << "# hashes of rides; mathematics library " << mathematics() << "\ncase;numbers;words\n";
  for (std::size_t k = 0; k < cases.size(); ++k)
    out << cases[k].name << ";" << now[k].numbers << ";" << now[k].words << "\n";
  return out.good() ? 0 : 1;
}
