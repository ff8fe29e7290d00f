#pragma once
/// How well the field holds together on each stretch: an observer of a ride.

#include "leewheel/ensemble.hpp"
#include "ride/stretch_tally.hpp"
#include "ride/watch.hpp"

namespace leewheel {

/// A look belongs to the stretch where the first rider is. While riders stand at a regroup point, and once the first is at
/// the top, there is no group to look at.
class GroupTally {
 public:
  explicit GroupTally(const Road& road) : looks_(road) {}
  void operator()(const RideView& view);
  void into(RunOutcome& run) const;

 private:
  struct Looks {
    int all = 0, whole = 0;
    double largest_share = 0.0;  ///< sum over the looks
  };
  StretchTally<Looks> looks_;
  std::vector<std::size_t> size_of_;  ///< by group id
};

}  // namespace leewheel
