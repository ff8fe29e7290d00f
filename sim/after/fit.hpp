#pragma once
/// One joint fit of what the ride tells: drag area, power scale, mass, rolling resistance, wind and drag factor in company, from
/// the balance of energy in blocks (equation: motion.hpp), by damped least squares with what was believed before as further rows
/// (Levenberg 1944; Marquardt 1963; Eigen's), weights lowered where a block misses far (Huber 1964, Ann. Math. Stat. 35:73).

#include <Eigen/Dense>
#include <string>
#include <vector>

#include "after/blocks.hpp"

namespace leewheel {

enum class Learnt { drag_area, power_scale, mass, company, rolling, wind_east, wind_north };

/// One number of the fit with what was believed before the ride and after.
struct FittedNumber {
  Learnt what;
  std::size_t of;  ///< rider, surface or hour
  double before, before_sd;
  double after = 0.0, after_sd = 0.0;
};

struct Fit {
  std::vector<FittedNumber> numbers;
  Eigen::MatrixXd covariance;  ///< of the numbers, in their units
  double misfit = 1.0;         ///< root of chi squared a degree of freedom; spreads are widened by it where above 1
  std::size_t blocks = 0;
  std::vector<double> alone_s, used_s;  ///< by rider: time in blocks alone, and in all blocks
  const FittedNumber* find(Learnt what, std::size_t of) const;
  double value(Learnt what, std::size_t of, double otherwise) const;
  double correlation(std::size_t a, std::size_t b) const;
  WindChange wind() const;
};

/// What was believed before the ride: standard deviations.
struct FitPriors {
  double drag_area_share =
      0.15;  ///< Merkes et al. 2019, IJSPP 14:733: 0.363 +- 0.071 m2 between riders; of one known rider less (assumed)
  static constexpr double drag_area_share_of_anybody = 0.20;  ///< the same, of a rider nobody described
  double power_scale = 0.03;      ///< Maier et al. 2017, Int J Sports Med 38:456: 54 meters, mean -0.9 %, s.d. 3.2 %
  double mass_kg = 1.0;           ///< assumed: clothes, bottles, the scales
  double rolling_share = 0.10;    ///< as `Uncertainty::rolling_share`
  double company = 0.30;          ///< of what company saves (assumed)
  double wind_mps = 1.5;          ///< each way, as `Uncertainty::wind_speed_mps`
  double wind_unknown_mps = 6.0;  ///< each way, where the scenario tells no wind (assumed)
  double wind_an_hour_mps = 1.0;  ///< change of the wind from hour to hour (assumed)
};

Fit fit_numbers(const RideAir& air, const std::vector<RiddenForFit>& riders, const FitPriors& priors = {});

/// The spreads widened by what a mass known only to `mass_sd_kg` leaves open, from the same fit with every rider heavier by so much. A
/// ride does not tell masses: errors of places make riders lighter than they are.
void widen_by_mass(const RideAir& air, std::vector<RiddenForFit> riders, const FitPriors& priors, double mass_sd_kg,
                   Fit& fit);

/// Every number as believed before: for a fit that asks for what cannot be.
Fit nothing_learned(Fit fit);

/// The same with every number as it was before whose change the ride does not ask for: within `asked_for_sd` spreads of none. What
/// a rerun takes, so that chance in a dozen numbers does not pass for reasons. Power scales are always as fitted: no meter is exact.
Fit fit_changes(const RideAir& air, const std::vector<RiddenForFit>& riders, const Fit& all, const FitPriors& priors = {});
inline constexpr double asked_for_sd = 1.0;

}  // namespace leewheel
