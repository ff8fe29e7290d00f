#pragma once
/// Power saved along the road: for each rider and each piece of road, what riding alone would have asked and what company saved.

#include <cstddef>
#include <vector>

namespace leewheel {

/// Means over the time spent on one piece of road, at the cranks. `saved_W` < 0: company cost power.
struct SavedPiece {
  double alone_W = 0.0, saved_W = 0.0;
};

/// The road cut into equal pieces, filled by looks at the ride.
class SavedAlong {
 public:
  static constexpr std::size_t pieces = 120;

  SavedAlong(double length_m, std::size_t riders);
  /// `passed_s` spent there at these powers. Waiting and time at the finish are no riding: leave them out.
  void add(std::size_t rider, double distance_m, double alone_W, double power_W, double passed_s);
  /// Takes over a rider who rode the same road alone.
  void take(std::size_t rider, const SavedAlong& alone) { riders_[rider] = alone.riders_.front(); }
  double piece_m() const { return piece_m_; }
  /// Where a rider was never seen, as on the last piece before; zeros before the first.
  std::vector<SavedPiece> of(std::size_t rider) const;
  std::vector<SavedPiece> mean() const;  ///< of all riders, each counted by the time spent there
  /// One scale for the whole ride, up to the next 50 W: 97 of 100 pieces of all riders are below. A sprint sticks out.
  double scale_W() const;

 private:
  struct Sum {
    double alone_J = 0.0, saved_J = 0.0, time_s = 0.0;
  };
  static std::vector<SavedPiece> filled(const std::vector<Sum>& sums);

  double piece_m_;
  std::vector<std::vector<Sum>> riders_;
};

/// Whole watts of which now + saved = alone, as people add them up.
struct WholeWatts {
  int now, alone, saved;
};
WholeWatts whole_watts(double power_W, double alone_W);

}  // namespace leewheel
