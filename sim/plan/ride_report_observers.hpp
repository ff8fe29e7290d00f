#pragma once
/// What a ride report sees of a ride: observers that look once a second, each with one question.

#include <vector>

#include "leewheel/ride_report.hpp"
#include "ride/stretch_tally.hpp"
#include "ride/watch.hpp"

namespace leewheel {

/// Time since the look before.
class LookClock {
 public:
  double passed_s(const RideView& view) {
    const double passed_s = view.time_s() - last_s_;
    last_s_ = view.time_s();
    return passed_s;
  }

 private:
  double last_s_ = 0.0;
};

/// How whoever leads the largest group rides each stretch.
class LeaderTally {
 public:
  explicit LeaderTally(const Road& road) : sums_(road) {}
  void operator()(const RideView& view);
  struct Sums {
    double time_s = 0.0, way_m = 0.0, work_J = 0.0;
  };
  const Sums& on(std::size_t stretch) const { return sums_[stretch]; }

 private:
  StretchTally<Sums> sums_;
  LookClock clock_;
};

/// Where the first on the road is by time, a metre or more between two entries.
class FirstPlaces {
 public:
  explicit FirstPlaces(double road_m) : road_m_(road_m) {}
  void operator()(const RideView& view);
  const Coming& found() const { return found_; }

 private:
  double road_m_;
  Coming found_;
};

}  // namespace leewheel
