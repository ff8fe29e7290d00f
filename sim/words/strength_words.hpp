#pragma once
/// What a rider's strength rests on, in words.

#include <string>
#include <vector>

#include "leewheel/scenario.hpp"

namespace leewheel {

/// "250 W held for an hour", "8.0 km at 6.0 % in 35:00, which takes 262 W", "as strong as Ada".
std::string rests_on_text(const RiderSettings& rider, const StrengthBasis& basis);

/// "20.0 kJ", and "assumed" when it was not given.
std::string w_prime_text(const RiderSettings& rider, const StrengthBasis& basis);

/// A sentence for everything that was not given as critical power and W', with the spread that it is taken with; nothing when
/// all was given.
std::vector<std::string> strength_remarks(const Scenario& scenario);

}  // namespace leewheel
