#pragma once
/// The energy ledger. Each step adds the joules that it integrates, so the ledger closes by construction; a gap is a bug.

#include <cmath>
#include <cstdint>
#include <span>
#include <vector>

namespace leewheel {

/// One rider's energy since the start.
struct EnergyLedger {
  double pedal_J = 0.0;       ///< work in, at the cranks
  double drivetrain_J = 0.0;  ///< losses ...
  double air_J = 0.0;         ///< negative while a tailwind pushes
  double rolling_J = 0.0;
  double bearings_J = 0.0;
  double braking_J = 0.0;
  double potential_J = 0.0;  ///< changes of state
  double kinetic_J = 0.0;
  double alone_J = 0.0;  ///< work the same motion would have cost without drafting, at the cranks
  double saved_J = 0.0;  ///< alone_J - pedal_J, summed while riding; < 0 for riders side by side with nobody ahead

  /// |work in - (losses + changes)| / work in (dimensionless).
  double error() const {
    const double out_J = drivetrain_J + air_J + rolling_J + bearings_J + braking_J + potential_J + kinetic_J;
    return std::abs(pedal_J - out_J) / std::max(pedal_J, 1.0);
  }
};

/// Joules of shelter by pair: who towed whom.
struct TowDebt {
  std::uint32_t giver, receiver;
  double saved_J;
};

class TowLedger {
 public:
  explicit TowLedger(std::size_t riders);
  void add(std::uint32_t giver, std::uint32_t receiver, double saved_J);
  std::vector<TowDebt> debts() const;   ///< sorted by giver, then receiver
  std::vector<double> given_J() const;  ///< by rider
  std::vector<double> received_J() const;

 private:
  struct Entry {
    std::uint32_t giver;
    double saved_J;
  };
  std::vector<std::vector<Entry>> received_;  ///< by receiver; sorted by giver
};

}  // namespace leewheel
