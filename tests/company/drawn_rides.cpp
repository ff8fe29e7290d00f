/// Rides drawn at random, as many and from what seed one likes, and what company cost in them.
///
///   leewheel_company --seed N --rides M     seeds N to N + M - 1; exit code 1 when a ride breaks what holds for it

#include <oneapi/tbb/parallel_for.h>

#include <cstdlib>
#include <iomanip>
#include <iostream>
#include <sstream>
#include <string>

#include "company/drawn.hpp"

namespace {
struct Asked {
  std::uint64_t seed = 1;
  std::size_t rides = 60;
};

bool read(int argc, char** argv, Asked& into) {
  for (int k = 1; k < argc; k += 2) {
    const std::string name = argv[k];
    char* end = nullptr;
    const unsigned long long value = k + 1 < argc ? std::strtoull(argv[k + 1], &end, 10) : 0;
    if (end == nullptr || *end != '\0') return false;
    if (name == "--seed")
      into.seed = value;
    else if (name == "--rides")
      into.rides = value;
    else
      return false;
  }
  return true;
}
}  // namespace

int main(int argc, char** argv) {
  Asked asked;
  if (!read(argc, argv, asked)) return std::cerr << "leewheel_company [--seed N] [--rides M]\n", 2;
  std::vector<std::string> told(asked.rides);
  std::vector<char> bad(asked.rides, 0);
  tbb::parallel_for(std::size_t{0}, asked.rides, [&](std::size_t k) {
    const company::Drawn drawn = company::draw(asked.seed + k);
    const company::Company ridden = company::ride_company(drawn.scenario);
    std::ostringstream text;
    text << "seed " << asked.seed + k << std::fixed << std::setprecision(3) << "  slowest " << ridden.slowest_over_alone()
         << "  at equal power " << ridden.over_equal_power << "  last/weakest " << ridden.last_over_weakest()
         << "  power/plan " << ridden.mean_power_over_plan() << "  groups " << ridden.groups_at_end << "  " << drawn.text
         << "\n";
    for (const std::string& fault : company::faults(drawn, ridden)) text << "    " << fault << "\n", bad[k] = 1;
    told[k] = text.str();
  });
  std::size_t failures = 0;
  for (std::size_t k = 0; k < asked.rides; ++k) std::cout << told[k], failures += bad[k] != 0;
  std::cout << asked.rides - failures << " of " << asked.rides << " rides as they should be\n";
  return failures == 0 ? 0 : 1;
}
