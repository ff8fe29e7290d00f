#include <algorithm>
#include <cmath>

#include "model/wake_fields.hpp"

namespace leewheel {

std::span<const NumberField<WheelGapWake>> WheelGapWake::fields() {
  using L = WheelGapWake;
  static constexpr const char* olds = "Olds 1998, Eur J Appl Physiol 77:492 (from memory)";
  static constexpr auto all = with_base_fields<L>({
      {"touching_factor", &L::touching_factor, 0.03, 0.99, "drag factor at a gap of 0", olds},
      {"slope_per_m", &L::slope_per_m, -0.1, 0.5, "its rise with the gap (1/m)", olds},
      {"curve_per_m2", &L::curve_per_m2, 0.01, 1, "its rise with the square of the gap (1/m2)", olds},
      {"shelter_half_width_m", &L::shelter_half_width_m, 0.1, 5,
       "sideways offset from the wheel ahead beyond which drafting saves nothing (m)",
       "assumed; about as wide as the fitted wakes"},
  });
  return all;
}

double WheelGapWake::longest_gap_m() const {
  const double half = 0.5 * slope_per_m / curve_per_m2;
  return -half + std::sqrt(half * half + (1.0 - touching_factor) / curve_per_m2);
}

WakeReach WheelGapWake::reach_m(const WakeInput&) const {
  return {0.0, bicycle_length_m + longest_gap_m(), shelter_half_width_m};
}

void WheelGapWake::factors(const WakeInput& in, const WakeOutput& out, std::vector<WakeLink>* links) const {
  const WakeReach reach = reach_m(in);
  /// What a rider saves behind one other, as a share of the drag alone.
  const auto saving = [&](double behind_m, double aside_m) {
    const double aside = aside_m / shelter_half_width_m, gap_m = std::max(0.0, behind_m - bicycle_length_m);
    const double begun = std::min(1.0, behind_m / bicycle_length_m);
    const double straight = 1.0 - touching_factor - gap_m * (slope_per_m + gap_m * curve_per_m2);
    return begun * begun * (3.0 - 2.0 * begun) * std::max(0.0, straight) * std::max(0.0, 1.0 - aside * aside);
  };
  for (std::size_t i = 0, first = 0; i < in.distance_m.size(); ++i) {
    while (in.distance_m[first] > in.distance_m[i] + reach.behind_m) ++first;
    double most = 0.0;
    std::size_t giver = i;
    for (std::size_t j = first; j < i; ++j) {
      const double saved = saving(in.distance_m[j] - in.distance_m[i], in.lateral_m[j] - in.lateral_m[i]);
      if (saved <= most) continue;
      most = saved;
      giver = j;
    }
    out.factor[i] = out.side_factor[i] = std::max(least_factor, 1.0 - wake_scale * most);
    if (links && giver != i) links->push_back({static_cast<std::uint32_t>(giver), static_cast<std::uint32_t>(i), 1.0});
  }
}

}  // namespace leewheel
