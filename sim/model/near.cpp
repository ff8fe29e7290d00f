#include "model/near.hpp"

#include <cmath>

namespace leewheel {

namespace {

constexpr double touching_m = beside_m - 1e-6;  // riders closer than this sideways are in each other's way
constexpr double look_ahead_m = 60.0;           // (assumed)
constexpr std::size_t look_ahead_riders = 8;
constexpr double riding_mps = 1.0;  // slower riders bring nobody down (assumed)

}  // namespace

void look_around(const Riders& r, Near& near, const Track& track, std::span<const RiderIndex> order, double interval_s) {
  for (const RiderIndex i : order) {
    const Lane lane = track.rules(r.x_m[i]).lane;
    near.y_low_m[i] = lane.low_m;
    near.y_high_m[i] = lane.high_m;
    near.blocker[i] = nobody;
  }
  for (std::size_t place = 1; place < order.size(); ++place) {
    const RiderIndex i = order[place];
    bool overlapped = false;
    for (std::size_t k = 1; k <= place && k <= look_ahead_riders; ++k) {
      const RiderIndex j = order[place - k];
      const double ahead_m = r.x_m[j] - r.x_m[i], aside_m = std::abs(r.y_m[j] - r.y_m[i]);
      if (ahead_m > look_ahead_m) break;
      if (aside_m < touching_m && near.blocker[i] == nobody && ahead_m > 0.5 * bicycle_length_m) near.blocker[i] = j;
      if (ahead_m < bicycle_length_m)
        overlapped = overlapped || (wheels_overlap(ahead_m, aside_m) && r.v_mps[i] > riding_mps);
      else if (near.blocker[i] != nobody)
        break;
    }
    if (overlapped) near.overlap_s[i] += interval_s;
  }
}

}  // namespace leewheel
