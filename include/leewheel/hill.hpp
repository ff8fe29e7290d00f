#pragma once
/// What a hill does to the mean wind over it.

#include <cstdint>

namespace leewheel {

/// A hill in the wind's plane as EN 1991-1-4, Annex A.3 describes it.
struct HillSection {
  double height_m = 50.0;            ///< H, foot to crest
  double upwind_length_m = 250.0;    ///< L_u, horizontal, of the slope that faces the wind, > 0
  double downwind_length_m = 250.0;  ///< L_d of the slope behind the crest; ignored for a cliff
  bool cliff = false;                ///< level land behind the crest instead of a slope
};

/// Orography factor c_o (dimensionless, >= 1): mean wind over the hill over mean wind at the same height above flat land.
/// EN 1991-1-4:2005, Annex A.3, eqs. A.1 to A.12; 1 outside the range of its curves (z <= 2 L_e; 1.5 L_u upwind,
/// 2 L_d or 3.5 L_e downwind) and for slopes below 5 %.
/// @param from_crest_m  along the wind, < 0 upwind of the crest
/// @param height_m      above the ground there, > 0
double orography_factor(const HillSection& hill, double from_crest_m, double height_m);

/// Shapes of Taylor & Lee's rule.
enum class HillShape : std::uint8_t { ridge, hill, escarpment };

/// Fractional speed-up at the crest, dS = B (h/L) exp(-A z/L): Taylor & Lee 1984, Climatol. Bull. 18(2):3, after Jackson &
/// Hunt 1975 (constants from memory). For slopes up to about 1:3 without separation.
/// @param half_length_m  L: from the crest to where the height has fallen by half, upwind
double crest_speed_up(HillShape shape, double hill_height_m, double half_length_m, double height_m);

}  // namespace leewheel
