#pragma once
/// When each rider passes landmarks, timing points and the finish.

#include <span>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"
#include "model/riders.hpp"

namespace leewheel {

class Passages {
 public:
  /// @param timing_points_m  rising
  Passages(const Road& road, const RideSettings& ride, std::size_t riders, std::span<const double> timing_points_m);

  struct Step {
    double before_s, step_s;
    double recovered_s;  ///< when W' was last brought up to date
  };
  /// Notes what was passed in a step, with time, work and W' of the place. Riders who have reached the top are added to `finished`.
  void note(const Riders& riders, std::span<const RiderIndex> order, const Step& step, std::vector<RiderIndex>& finished);

  const std::vector<Passage>& landmarks(RiderIndex i) const { return riders_[i].landmarks; }
  const std::vector<Passage>& timing(RiderIndex i) const { return riders_[i].timing; }
  double finish_s(RiderIndex i) const { return riders_[i].finish_s; }

 private:
  struct OfRider {
    std::vector<Passage> landmarks, timing;
    std::size_t next_landmark = 0;
    double finish_s = 0.0;
  };
  void note_one(const Riders& riders, RiderIndex i, const Step& step);
  const Road& road_;
  const RideSettings& ride_;
  std::vector<double> timing_points_m_;
  std::vector<OfRider> riders_;
  std::vector<double> next_mark_m_;  ///< by rider: nothing to note before
};

}  // namespace leewheel
