#pragma once
/// The wind met along the whole road as a band: as wide as the wind is against, slanted as far as it comes from the side.

#include <optional>
#include <vector>

#include "viz/view/replay.hpp"

namespace leewheel::view {

struct WindBand {
  std::vector<std::optional<MetWind>>
      pieces;       ///< equal pieces of road, each the mean of four places; nothing: nobody was recorded
  double most_mps;  ///< the strongest along the road, either way; at least `least_most_mps`

  static constexpr double least_most_mps = 2.0;  ///< a breath of air stays a narrow band
  /// 1: the strongest wind against that the band shows; < 0: from behind.
  double share_against(std::size_t piece) const { return pieces[piece] ? -pieces[piece]->along_mps / most_mps : 0.0; }
};
WindBand wind_band(const Replay& replay, std::size_t pieces);

}  // namespace leewheel::view
