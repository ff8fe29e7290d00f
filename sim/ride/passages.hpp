#pragma once
/// When each rider passes landmarks, timing points and the finish, and waits at regroup points and stops.

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"
#include "model/riders.hpp"

namespace leewheel {

inline constexpr double faster_than_any_mps = 100.0;

class Passages {
 public:
  /// @param timing_points_m  rising
  Passages(const Scenario& scenario, std::size_t riders, std::span<const double> timing_points_m);

  struct Step {
    double before_s, step_s;
    double recovered_s;  ///< when W' was last brought up to date
  };
  /// Notes what was passed in a step, with time, work and W' of the place. Riders who have reached the top are added to `finished`.
  void note(const Riders& riders, std::span<const RiderIndex> order, const Step& step, std::vector<RiderIndex>& finished);

  /// A rider comes to a stop at a waiting place or goes on from it; W' is up to date.
  void arrive(const Riders& riders, RiderIndex i, std::size_t place, double time_s);
  void go_on(const Riders& riders, RiderIndex i, double time_s);
  bool waits(RiderIndex i) const { return !riders_[i].waits.empty() && riders_[i].waits.back().go_on_s < 0.0; }

  /// What a rider did in the second just over.
  void count(RiderIndex i, bool leads, bool follows, double second_s);

  const std::vector<Passage>& landmarks(RiderIndex i) const { return riders_[i].landmarks; }
  const std::vector<Passage>& timing(RiderIndex i) const { return riders_[i].timing; }
  const std::vector<Wait>& waits_of(RiderIndex i) const { return riders_[i].waits; }
  double finish_s(RiderIndex i) const { return riders_[i].finish_s; }
  /// Of the time waited, with a drag factor below 0.95.
  double sheltered_waiting_s(RiderIndex i) const { return riders_[i].sheltered_waiting_s; }

 private:
  struct OfRider {
    std::vector<Passage> landmarks, timing;
    std::vector<Wait> waits;
    std::optional<Passage> stopped;         ///< on arrival at the waiting place where the rider stands, or stood last
    std::optional<std::size_t> stopped_at;  ///< its landmark
    std::size_t next_landmark = 0, turns = 0;
    double finish_s = 0.0, front_s = 0.0, follow_s = 0.0, spell_s = 0.0, sheltered_waiting_s = 0.0;
  };
  void note_one(const Riders& riders, RiderIndex i, const Step& step);
  Passage passage(const Riders& riders, RiderIndex i, const std::string& name, double at_m, const Step& step) const;
  void add_counts(RiderIndex i, Passage& at) const;

  const Road& road_;
  const RideSettings& ride_;
  std::vector<PlannedStop> places_;
  std::vector<double> timing_points_m_;
  std::vector<OfRider> riders_;
  std::vector<double> next_mark_m_;  ///< by rider: nothing to note before
  double nothing_before_s_ = 0.0;    ///< nobody can be at a mark until then
};

}  // namespace leewheel
