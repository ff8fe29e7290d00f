#include "leewheel/saved_along.hpp"

#include <algorithm>
#include <cmath>

namespace leewheel {

SavedAlong::SavedAlong(double length_m, std::size_t riders)
    : piece_m_(std::max(1.0, length_m) / static_cast<double>(pieces)), riders_(riders, std::vector<Sum>(pieces)) {}

void SavedAlong::add(std::size_t rider, double distance_m, double alone_W, double power_W, double passed_s) {
  const double place = std::clamp(distance_m / piece_m_, 0.0, static_cast<double>(pieces - 1));
  Sum& sum = riders_[rider][static_cast<std::size_t>(place)];
  sum.alone_J += alone_W * passed_s;
  sum.saved_J += (alone_W - power_W) * passed_s;
  sum.time_s += passed_s;
}

std::vector<SavedPiece> SavedAlong::filled(const std::vector<Sum>& sums) {
  std::vector<SavedPiece> along;
  for (const Sum& sum : sums)
    along.push_back(sum.time_s > 0.0 ? SavedPiece{sum.alone_J / sum.time_s, sum.saved_J / sum.time_s}
                    : along.empty()  ? SavedPiece{}
                                     : along.back());
  return along;
}

std::vector<SavedPiece> SavedAlong::of(std::size_t rider) const { return filled(riders_[rider]); }

std::vector<SavedPiece> SavedAlong::mean() const {
  std::vector<Sum> all(pieces);
  for (const std::vector<Sum>& one : riders_)
    for (std::size_t k = 0; k < pieces; ++k)
      all[k].alone_J += one[k].alone_J, all[k].saved_J += one[k].saved_J, all[k].time_s += one[k].time_s;
  return filled(all);
}

double SavedAlong::scale_W() const {
  std::vector<double> asked_W;
  for (std::size_t rider = 0; rider < riders_.size(); ++rider)
    for (const SavedPiece& piece : of(rider)) asked_W.push_back(std::max(piece.alone_W, piece.alone_W - piece.saved_W));
  if (asked_W.empty()) return 100.0;
  const auto high = asked_W.begin() + static_cast<std::ptrdiff_t>(0.97 * static_cast<double>(asked_W.size() - 1));
  std::ranges::nth_element(asked_W, high);
  return 50.0 * std::ceil(std::max(100.0, *high) / 50.0 - 1e-9);
}

WholeWatts whole_watts(double power_W, double alone_W) {
  const auto now = static_cast<int>(std::lround(power_W)), alone = static_cast<int>(std::lround(alone_W));
  return {now, alone, alone - now};
}

}  // namespace leewheel
