#pragma once
/// What heat takes from a rider's critical power. Off unless a scenario asks for it.

#include <chrono>
#include <span>

#include "leewheel/field.hpp"
#include "leewheel/road.hpp"

namespace leewheel {

struct Scenario;

struct HeatSettings {
  bool on = false;
  double sun_C = 6.0;         ///< what a clear sun overhead adds to the temperature that a rider feels; 0 under clouds
  double warming_s = 900.0;   ///< time in which a rider's loss follows the heat around
  double acclimatised = 0.0;  ///< 0 fresh from the cool, 1 after two weeks in such heat
};

std::span<const NumberField<HeatSettings>> heat_fields();

/// Share of the power of a time trial of about an hour that is lost at `felt_C`: 0, 1.5, 2.1 and 6.1 % at 17, 22, 27 and 32 C, linear
/// between, the last slope kept beyond (9 riders, 40 km, 40 % humidity, 329, 324, 322 and 309 W; Peiffer & Abbiss 2011, IJSPP
/// 6:208). Others lost 6.5 % from 23 to 32 C (Tatterson et al. 2000) and 6.3 % from 15 to 35 C (Tucker et al. 2004, both in Hettinga
/// et al. 2007, Eur J Appl Physiol 101:741). After two weeks an eighth of it is left: 2 % instead of 16 % at 39 C (Racinais et al.
/// 2015, MSSE 47:601, losses as listed by Junge et al. 2016, Temperature 3:539); linear in `acclimatised` (assumed).
double heat_loss_share(double felt_C, double acclimatised);

/// Sine of the sun's height, 0 at night; the clock is taken for sun time, which is off by up to two hours in summer. Declination
/// 23.45 deg sin(360 (284 + day) / 365): Cooper 1969, Solar Energy 12:333 (from memory).
double sun_height_sine(double latitude_rad, std::chrono::local_seconds clock);

/// Share of the sun that reaches the road: open 1, scattered trees or houses 0.6, wood 0.15, the mean of both sides (assumed).
double sunlit_share(Exposure left, Exposure right);

/// Temperature that a rider feels at a place and time of the ride: of the forecast or the air, at that height, and what the sun adds
/// where the scenario has a start by the clock. A road without position is taken to lie at 45 degrees.
double felt_temperature_C(const Scenario& scenario, double at_m, double time_s);

/// The share lost after another `interval_s` at a place: it follows what the heat there takes, exponentially.
double heat_share_after(const Scenario& scenario, double share, double at_m, double time_s, double interval_s);

}  // namespace leewheel
