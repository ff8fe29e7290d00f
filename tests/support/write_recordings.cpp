/// leewheel_recordings SCENARIO FOLDER [SEED]: the ride as every rider's device would have recorded it, with the usual noise, to try
/// `leewheel debrief` on.

#include <filesystem>
#include <fstream>
#include <iostream>

#include "io/scenario_reader.hpp"
#include "support/recorded.hpp"

int main(int argc, char** argv) try {
  if (argc < 3) {
    std::cerr << "leewheel_recordings SCENARIO FOLDER [SEED]\n";
    return 2;
  }
  const leewheel::Scenario scenario = leewheel::read_scenario(argv[1]);
  std::filesystem::create_directories(argv[2]);
  const std::uint64_t seed = argc > 3 ? std::stoull(argv[3]) : 1;
  for (const auto& recording : leewheel::recorded::record(scenario, leewheel::recorded::usual(), seed).recordings)
    std::ofstream(std::filesystem::path(argv[2]) / (recording.rider + ".gpx")) << leewheel::recorded::gpx_of(recording);
} catch (const std::exception& error) {
  std::cerr << error.what() << "\n";
  return 2;
}
