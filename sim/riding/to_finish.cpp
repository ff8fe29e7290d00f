#include "riding/to_finish.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/motion.hpp"

namespace leewheel::riding {

namespace {
constexpr double piece_m = 200.0;  // effort is spread over minutes; shorter pieces change nothing
}

ToFinish::ToFinish(const Road& road, const Riders& r)
    : pieces_(static_cast<std::size_t>(std::ceil(road.length_m() / piece_m))), length_m_(road.length_m()) {
  left_s_.assign(r.count * (pieces_ + 1), 0.0f);
  const double long_m = length_m_ / static_cast<double>(pieces_);
  for (RiderIndex i = 0; i < r.count; ++i) {
    const RiderSettings& rider = r.settings[i];
    RoadLoad load;
    load.mass_kg = rider.total_mass_kg();
    load.drag_area_m2 = rider.drag_area_hoods_m2;
    load.efficiency = rider.drivetrain_efficiency;
    for (std::size_t k = pieces_; k-- > 0;) {
      const double from_m = long_m * static_cast<double>(k);
      const double sine = (road.elevation_m(from_m + long_m) - road.elevation_m(from_m)) / long_m;
      load.grade = sine / std::sqrt(1.0 - sine * sine);
      const std::size_t at = i * (pieces_ + 1) + k;
      left_s_[at] = left_s_[at + 1] + static_cast<float>(long_m / steady_speed_mps(load, rider.critical_power_W));
    }
  }
}

double ToFinish::s(RiderIndex i, double x_m) const {
  if (pieces_ == 0) return 0.0;
  const double at = std::clamp(x_m / length_m_, 0.0, 1.0) * static_cast<double>(pieces_);
  const auto k = std::min(static_cast<std::size_t>(at), pieces_ - 1);
  const float* left_s = &left_s_[i * (pieces_ + 1) + k];
  return left_s[0] + (at - static_cast<double>(k)) * (left_s[1] - left_s[0]);
}

}  // namespace leewheel::riding
