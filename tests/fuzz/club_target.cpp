/// A club file.

#include <cmath>

#include "fuzz/fuzz.hpp"
#include "io/club_file.hpp"

void fuzz::begin() {}

bool fuzz::take(std::string_view bytes) {
  return accepts(
      [](const std::string& path) {
        for (const leewheel::ReadRider& rider : leewheel::read_club(path))
          if (rider.settings.name.empty()) wrong("every rider of a club has a name");
      },
      put("club.yaml", bytes));
}
