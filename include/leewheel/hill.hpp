#pragma once
/// What a hill does to the mean wind over it.

#include <cstdint>
#include <vector>

#include "leewheel/road.hpp"

namespace leewheel {

/// A hill in the wind's plane as EN 1991-1-4, Annex A.3 describes it.
struct HillSection {
  double height_m = 50.0;               ///< H, foot to crest
  double upwind_length_m = 250.0;       ///< L_u, horizontal, of the slope that faces the wind, > 0
  double downwind_length_m = 250.0;     ///< L_d of the slope behind the crest; ignored for a cliff
  bool cliff = false;                   ///< level land behind the crest instead of a slope
  double downwind_height_m = height_m;  ///< of the slope behind; 0: unknown, taken as level for the lull
};

/// Orography factor c_o (dimensionless, >= 1): mean wind over the hill over mean wind at the same height above flat land.
/// EN 1991-1-4:2005, Annex A.3, eqs. A.1 to A.12; 1 outside the range of its curves (z <= 2 L_e; 1.5 L_u upwind,
/// 2 L_d or 3.5 L_e downwind) and for slopes below 5 %.
/// @param from_crest_m  along the wind, < 0 upwind of the crest
/// @param height_m      above the ground there, > 0
double orography_factor(const HillSection& hill, double from_crest_m, double height_m);

/// Disturbance of the wind along the section over that at its crest (dimensionless; 1 there, a little more beside
/// it where the slopes differ): the linear theory of flow over
/// low hills, in which near the ground the wind follows the pressure of frictionless flow (Jackson & Hunt 1975, QJRMS
/// 101:929; from memory), that is the slope's Hilbert transform. For two straight slopes s_u = H/L_u, s_d = H_d/L_d:
///   R(x) = s_u ln(((x + L_u)^2 + l^2)/(x^2 + l^2)) + s_d ln(((x - L_d)^2 + l^2)/(x^2 + l^2)),   returned: R(x)/R(0).
/// Negative at both feet: -0.263 for equal slopes. l = L_u/4 rounds crest and feet (assumed; measured hills are round).
double linear_hill_shape(const HillSection& hill, double from_crest_m);

/// Behind the crest the wind is weaker than in linear theory. From the rise at the crest,
/// 4 s_d (u/0.5) exp(1 - u/0.5), u = x/L_d, s_d = H_d/L_d at most 0.3, is subtracted. Second order in the slope; place and
/// size fit the one hill measured at 10 m, between its two lines of masts (Askervein, slope 0.24; Taylor & Teunissen
/// 1987, Boundary-Layer Meteorol. 39:15).
inline constexpr double lee_shelter_per_slope = 4.0, lee_shelter_at = 0.5;
inline constexpr double least_hill_factor = 0.3;  ///< lower limit of the lull: the lowest measured values are 0.32 to 0.35
inline constexpr double separating_slope = 0.3;   ///< behind steeper slopes the flow separates and may turn round: about
                                                  ///< 20 degrees over smooth land, less over rough (Wood 1995,
                                                  ///< Boundary-Layer Meteorol. 76:137; second-hand)

/// Mean wind over the hill over that at the same height above flat land, speed-up and lull: 1 + the lower of the standard's
/// rise (an envelope for strong winds) and the standard's rise at the crest times the linear shape with the lee's shelter. At
/// the crest the standard's value; continuous; 1 on land the standard calls flat; never below `least_hill_factor`.
double hill_wind_factor(const HillSection& hill, double from_crest_m, double height_m);

/// A crest that a road climbs to, as a long ridge at right angles to the line from its foot.
struct RoadHill {
  double crest_m = 0.0;            ///< along the road
  double height_before_m = 50.0;   ///< of the slope that the road climbs; 0: unknown, winds up that slope do not change
  double length_before_m = 250.0;  ///< horizontal, foot to crest, > 0
  double height_behind_m = 50.0;   ///< the same of the slope behind the crest
  double length_behind_m = 250.0;
  double across_rad = 0.0;          ///< bearing from the foot before to the crest, clockwise from north
  double from_m = 0.0, to_m = 0.0;  ///< stretch of road on which it acts fully
  bool cliff = false;               ///< level land behind the crest
  bool operator==(const RoadHill&) const = default;
};

/// Crests of the road's own profile: points from which it falls by 15 m or more on both sides before it rises above them,
/// or its highest end; elevations smoothed over 200 m (both assumed). The slope of a side is the steepest straight line
/// from the crest down to a point at least 15 m lower, distances as the crow flies; H and L are that line's. What lies beside
/// the road or beyond its end is not known to it.
std::vector<RoadHill> hills_of_road(const Road& road);

/// `hill_wind_factor` on the road's hill for a wind that blows towards `to_rad` (clockwise from north). A ridge crossed at an
/// angle has the slope H cos(angle)/L.
/// @param across_m  place on the hill: distance from the ridge line along `across_rad`, < 0 before the crest
double hill_factor(const RoadHill& hill, double across_m, double to_rad, double height_m);

/// Whether a wind towards `to_rad` comes down a slope of the hill that is steeper than `separating_slope`.
bool may_separate(const RoadHill& hill, double to_rad);

}  // namespace leewheel
