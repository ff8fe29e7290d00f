#include "leewheel/windbreak.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel {
namespace {

// Share of the open wind at these distances in heights of the belt. Brandle & Finch 1991, from memory, shape only. A
// cutting is taken as a wall on the side the wind comes from (assumed).
constexpr std::array<double, 6> at_heights{5.0, 10.0, 15.0, 20.0, 30.0, 40.0};
constexpr double share_left[windbreak_kind_names.size()][at_heights.size()] = {
    {0.30, 0.50, 0.60, 0.75, 0.95, 1.0},  // conifer_row
    {0.50, 0.65, 0.80, 0.85, 0.95, 1.0},  // deciduous_row
    {0.25, 0.70, 0.90, 0.95, 1.00, 1.0},  // wall
    {0.25, 0.70, 0.90, 0.95, 1.00, 1.0},  // cutting
};

// Over this many heights past the end of a belt its shelter fades; the wind comes round the end (assumed).
constexpr double end_fade_heights = 2.0;

}  // namespace

double shelter_share(ShelterKind kind, double heights) {
  const auto& share = share_left[static_cast<std::size_t>(kind)];
  if (heights <= at_heights.front()) return share[0];
  for (std::size_t k = 1; k < at_heights.size(); ++k)
    if (heights < at_heights[k]) {
      const double part = (heights - at_heights[k - 1]) / (at_heights[k] - at_heights[k - 1]);
      return share[k - 1] + part * (share[k] - share[k - 1]);
    }
  return 1.0;
}

double shelter_share(const Windbreak& s, double at_m, double along, double across_to_left) {
  const bool comes_from_right = across_to_left > 0.0;
  if (s.side != ShelterSide::both && (s.side == ShelterSide::right) != comes_from_right) return 1.0;
  const double across = std::abs(across_to_left);
  if (across < 1e-6) return 1.0;
  const double path_m = s.distance_m / across;
  const double met_at_m = at_m - along * path_m;
  const double beyond_m = std::max({s.from_m - met_at_m, met_at_m - s.to_m, 0.0});
  const double fade = std::min(1.0, beyond_m / (end_fade_heights * s.height_m));
  const double share = shelter_share(s.kind, path_m / s.height_m);
  return share + fade * (1.0 - share);
}

}  // namespace leewheel
