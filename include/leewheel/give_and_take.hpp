#pragma once
/// What the ledger of who towed whom says of the group: who carried others, who shared the work, and the strongest chain of wheels.

#include <cstdint>
#include <span>
#include <vector>

#include "leewheel/ledger.hpp"

namespace leewheel {

/// A debt counts as give and take from this share of what a rider received on average: below it, the little help that a wheel
/// behind gives to the rider ahead would make everyone share with everyone (assumed).
inline constexpr double counting_share = 0.1;

struct GiveAndTake {
  std::vector<double> net_J;  ///< by rider: given less received; > 0 carried others on balance. Their sum is 0

  /// Those who share give and take: strongly connected components, of two riders or more, of the graph of debts that count. Whoever
  /// is in one gave to another of it and, directly or round the circle, got back. The largest circle first, then the one with the
  /// first rider; riders rising.
  std::vector<std::vector<std::uint32_t>> circles;

  /// The strongest chain: who pulled whom who pulled whom. Of each pair only the difference of both debts counts, and only where it
  /// went down the balance, from a rider with more `net_J` to one with less; that graph has no circle, so a path of greatest sum
  /// exists. Riders from the giver down; empty where nobody gave anything on balance. Of equal chains the one found first by rider.
  std::vector<std::uint32_t> chain;
  double chain_J = 0.0;  ///< the sum along it
};

/// @param riders  their number; debts name riders below it, each ordered pair once
GiveAndTake give_and_take(std::size_t riders, std::span<const TowDebt> debts);

}  // namespace leewheel
