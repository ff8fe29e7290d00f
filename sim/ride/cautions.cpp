#include "ride/cautions.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel {

namespace {
constexpr double quiet_after_gust_s = 120.0;  // a rider is warned of gusts no more often (assumed)
}

Cautions::Cautions(std::size_t riders)
    : side_force_N_(riders, 0.0), largest_side_force_N_(riders, 0.0), quiet_until_s_(riders, 0.0) {}

void Cautions::feel_side_force(const Riders& r, std::span<const RiderIndex> order, std::span<const std::int32_t> group_of,
                               const WindSettings& settings, bool gusty, double time_s, std::vector<Event>& events) {
  std::vector<RiderIndex> warned;  // in road order
  double strongest_N = 0.0;
  for (const RiderIndex i : order) {
    const double cross = r.wind_cross_mps[i], along = r.v_mps[i] - r.wind_along_mps[i];
    const double side_N = r.half_density[i] * settings.side_area_m2 * r.side_factor[i] * std::abs(cross) *
                          std::sqrt(along * along + cross * cross);
    side_force_N_[i] = side_N;
    largest_side_force_N_[i] = std::max(largest_side_force_N_[i], side_N);
    if (!gusty || side_N <= settings.side_force_caution_N || time_s < quiet_until_s_[i]) continue;
    quiet_until_s_[i] = time_s + quiet_after_gust_s;
    strongest_N = std::max(strongest_N, side_N);
    warned.push_back(i);
  }
  if (warned.empty()) return;
  const RiderIndex first = warned.front();
  events.push_back({EventKind::caution,
                    time_s,
                    r.x_m[first],
                    std::move(warned),
                    group_of[first],
                    {Reason::gust_across, nobody, {strongest_N}}});
}

}  // namespace leewheel
