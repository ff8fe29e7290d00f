#include "viz/view/wind_band.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel::view {

WindBand wind_band(const Replay& replay, std::size_t pieces) {
  constexpr int looks = 4;
  WindBand band{std::vector<std::optional<MetWind>>(pieces), WindBand::least_most_mps};
  const double piece_m = replay.road().length_m() / static_cast<double>(pieces);
  for (std::size_t k = 0; k < pieces; ++k) {
    MetWind sum{0.0, 0.0};
    int met = 0;
    for (int look = 0; look < looks; ++look)
      if (const auto wind = replay.met_wind((static_cast<double>(k) + (look + 0.5) / looks) * piece_m))
        sum.along_mps += wind->along_mps, sum.cross_mps += wind->cross_mps, ++met;
    if (met == 0) continue;
    band.pieces[k] = MetWind{sum.along_mps / met, sum.cross_mps / met};
    band.most_mps = std::max(band.most_mps, std::abs(band.pieces[k]->along_mps));
  }
  return band;
}

}  // namespace leewheel::view
