#pragma once
/// A rider's strength: critical power CP, the work above it W', and its recovery.

#include <array>
#include <string_view>

namespace leewheel {

/// Named laws of W' recovery. They disagree; every result names the law it used.
enum class RecoveryLaw { differential, integral, steeper, two_exponentials };
inline constexpr std::array<std::string_view, 4> recovery_law_names{"differential", "integral", "steeper",
                                                                    "two_exponentials"};

struct Strength {
  double critical_power_W = 250.0;
  double w_prime_J = 20000.0;
  double peak_power_W = 900.0;
};

/// Critical power (W) of a rider who can just hold `held_W` for `held_s`, with so much W': P = CP + W'/t (Monod & Scherrer
/// 1965, Ergonomics 8:329). Beside it, measured: critical power 0.977 of the power of 20 minutes (17 riders: 256 W beside 249 W
/// for 0.95 of it, differences with an s.d. of 13 W; Karsten et al. 2021, Front Physiol 11:613151); the power of an hour 0.95 of
/// that of 20 minutes within 40 W (23 riders; Borszcz et al. 2018, Int J Sports Med 39:737). The law gives 4 to 5 % less than
/// that, which the spread of `StrengthBasis` covers.
double critical_power_from_W(double held_W, double held_s, double w_prime_J);

/// Time constant of recovery (s) at `below_W` = CP - P > 0:
/// differential  W'/below            Skiba, Fulford, Clarke, Vanhatalo & Jones 2015, Eur J Appl Physiol 115:703
/// integral      of a whole ride, `integral_time_s` in integral_wbal.hpp (Skiba et al. 2012, Med Sci Sports Exerc 44:1526)
/// steeper       2287.2 below^-0.688  Bartram, Thewlis, Martin & Norton 2018, IJSPP 13:724
double recovery_time_s(RecoveryLaw law, double below_W, double w_prime_J);

/// W' left after `dt_s` at constant `power_W`, below zero if that asks for it. For `integral` an estimate: integral_wbal.hpp.
/// Above CP it falls by (P - CP) dt; below, 1 - W/W' decays with the law's time constant (exact for constant power).
/// `two_exponentials` (Chorley, Bott, Marwood & Lamb 2022, EJAP 122) mixes 21.5 s and 388 s and is taken at its slope.
double wbal_after_J(RecoveryLaw law, const Strength& strength, double wbal_J, double power_W, double dt_s);

/// The most power (W) that a rider can give with so much W' left: the three-parameter model as in Morton 1996.
double power_limit_W(const Strength& strength, double wbal_J);

/// Strength left after `heavy_s` of heavy riding without food, by the group means of Clark et al. 2019, J Appl Physiol
/// 127:726, at 0, 40, 80 and 120 min as shares of the fresh values: critical power 1, 268/260, 260/260, 236/260, W' 1,
/// 16.1/17.9, 14.7/17.9, 13.8/17.9; linear between and held beyond. Sixteen fit riders: others may fade sooner.
Strength strength_after_heavy_riding(const Strength& fresh, double heavy_s);

/// The same, as ride and plans use it: never above the fresh value, since the 3 % by which the group's critical power was
/// higher at 40 min lies within its scatter (s.d. 14 %).
Strength tired_strength(const Strength& fresh, double heavy_s);

/// Share of the body's energy that reaches the cranks: 0.198 +- 0.006, Moseley & Jeukendrup 2001, Med Sci Sports Exerc 33:621.
inline constexpr double gross_efficiency = 0.198;
/// Energy the body spends (kcal, of 4184 J) on work at the cranks.
inline double energy_kcal(double work_J, double efficiency = gross_efficiency) { return work_J / (efficiency * 4184.0); }

}  // namespace leewheel
