#pragma once
/// Pairs of riders who are, or may soon be, in contact, and how long they have been near or far apart. A pair keeps its place
/// while it lasts and hangs in the lists of its two riders, so that one that comes or goes costs the same in a bunch of any
/// size, and nothing is allocated once the arrays have grown.

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "leewheel/groups.hpp"

namespace leewheel {

class Contacts {
 public:
  Contacts(const GroupSettings& settings, std::size_t riders);

  /// Riders close behind one another become pairs.
  /// @param order  from the first on the road to the last
  void find(std::span<const GroupRider> riders, std::span<const std::uint32_t> order);

  /// Brings the clocks of every pair up to date, and with them the links. Who is neither linked nor near is no pair any more.
  /// @param came_off_s  by rider: last time out of a group
  void time(double time_s, double interval_s, std::span<const GroupRider> riders, std::span<const double> came_off_s);

  /// Whether the links that came and went in `time` join or part components.
  /// @param component  by rider, as of the last time that this was so
  bool regroup(std::span<const std::uint32_t> component);

  template <class Visit>
  void for_each_link(Visit visit) const {
    for (const Pair& pair : pairs_)
      if (pair.linked) visit(pair.a, pair.b);
  }

 private:
  using Place = std::uint32_t;  ///< in `pairs_`
  static constexpr std::uint32_t none = UINT32_MAX;
  struct Link {
    std::uint32_t a, b;  // a < b
  };
  struct Pair : Link {
    Place next_of_a, next_of_b;  ///< in the lists of the two
    double near_s = 0.0, far_s = 0.0;
    bool linked = false;
    std::uint32_t other(std::uint32_t rider) const { return rider == a ? b : a; }
    Place& next(std::uint32_t rider) { return rider == a ? next_of_a : next_of_b; }
  };
  double leave_gap_m(double speed_mps) const;
  bool is_pair(std::uint32_t a, std::uint32_t b);
  void add(std::uint32_t a, std::uint32_t b);
  void forget(Place place);
  bool hang_together(const Link& link);

  const GroupSettings& settings_;
  std::vector<Pair> pairs_;                           ///< a free place has no riders: a = none
  std::vector<Place> free_;                           ///< places
  std::vector<Place> first_;                          ///< by rider: of its list
  static constexpr std::size_t neighbours_ahead = 3;  // a rotating line has two riders abreast; one more for safety
  std::vector<std::array<std::uint32_t, neighbours_ahead>> last_ahead_;  ///< by rider: known pairs of the last second
  std::vector<Link> came_, went_;
  struct Search {
    std::vector<std::uint32_t> reached;  ///< riders, in the order in which they were
    std::size_t looked_at = 0;
    std::uint32_t mark = 0;
  };
  enum class Found { nobody, somebody, the_other };
  Found widen(Search& search, std::uint32_t others_mark);
  Search searches_[2];
  std::vector<std::uint32_t> mark_;  ///< by rider: the last search to reach it
  std::uint32_t last_mark_ = 0;
};

}  // namespace leewheel
