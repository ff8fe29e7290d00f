#include "model/steer.hpp"

#include <algorithm>
#include <cmath>

#include "model/advance.hpp"

namespace leewheel {

namespace {

constexpr double tiny_m = 1e-9;            // rounding
constexpr double sideways_mps = 0.5;       // quickest move across the road (assumed)
constexpr double sideways_per_mps = 0.15;  // and as a share of the speed along it (assumed)
constexpr double settling_s = 1.0;         // time in which a wished place is taken up (assumed)
constexpr double in_place_m = 1e-3;        // nobody steers finer than this (assumed)

}  // namespace

void steer(const Riders& r, Motion& motion, std::span<const RiderIndex> order, double step_s) {
  for (std::size_t place = 0; place < order.size(); ++place) {
    const RiderIndex i = order[place];
    const double y_m = r.y_m[i];
    if (std::abs(r.y_target_m[i] - y_m) < in_place_m) continue;
    // Room on the side of the place wished alone: nobody moves to the other. Where none is left, none will come.
    const bool left = r.y_target_m[i] > y_m;
    double room_m = left ? std::max(r.y_high_m[i], y_m) : std::min(r.y_low_m[i], y_m);
    const auto leave_room = [&](RiderIndex other) {  // for riders alongside now
      const double other_m = r.y_m[other];
      if (left && other_m > y_m)
        room_m = std::min(room_m, std::max(y_m, other_m - beside_m));
      else if (!left && !(other_m > y_m))
        room_m = std::max(room_m, std::min(y_m, other_m + beside_m));
    };
    for (std::size_t k = place; k-- > 0 && room_m != y_m && r.x_m[order[k]] - r.x_m[i] < body_length_m - tiny_m;)
      leave_room(order[k]);
    for (std::size_t k = place + 1; k < order.size() && room_m != y_m && r.x_m[i] - r.x_m[order[k]] < body_length_m - tiny_m;
         ++k)
      leave_room(order[k]);
    if (room_m == y_m) continue;
    const double most_m = std::min(sideways_mps, sideways_per_mps * r.v_mps[i]) * step_s;
    const double wish_m = (r.y_target_m[i] - y_m) * std::min(1.0, step_s / settling_s);
    const double to_m = y_m + std::clamp(wish_m, -most_m, most_m);
    motion.y_m[i] = left ? std::min(to_m, room_m) : std::max(to_m, room_m);
  }
}

}  // namespace leewheel
