/// A scenario made of bytes, read as a file, ridden for 60 s and looked at every step; then with its riders in another order on
/// another thread, which must be the same ride.

#include <cstdlib>
#include <fstream>
#include <numeric>
#include <thread>

#include "fuzz/fuzz.hpp"
#include "fuzz/made_scenario.hpp"
#include "fuzz/ridden.hpp"
#include "io/scenario_reader.hpp"

using namespace leewheel;

namespace {

constexpr double ridden_s = 60.0;

void ride_it(const std::string& path) {
  const Scenario scenario = read_scenario(path);
  Scenario shuffled = scenario;
  std::vector<std::size_t> from(scenario.riders.size());
  std::iota(from.rbegin(), from.rend(), 0u);
  for (std::size_t k = 0; k < from.size(); ++k) {
    shuffled.riders[k] = scenario.riders[from[k]];
    shuffled.plans[k] = scenario.plans[from[k]];
  }
  fuzz::Ridden other;
  std::thread beside([&] { other = fuzz::ride_unwatched(shuffled, ridden_s); });
  const fuzz::Ridden ridden = fuzz::ride_watched(scenario, ridden_s);
  beside.join();
  fuzz::check_everyone_told(scenario, ridden);
  fuzz::check_same(ridden, other, from);
}

}  // namespace

void fuzz::begin() {}

bool fuzz::take(std::string_view bytes) {
  const std::string text = made_scenario(bytes);
  if (const char* path = std::getenv("LEEWHEEL_FUZZ_SCENARIO")) std::ofstream(path) << text;  // to ride it by hand
  return accepts(ride_it, put("scenario.yaml", text));
}
