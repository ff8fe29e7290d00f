#pragma once
/// The inside of a ride: one array a quantity, riders in the order of their names, so that the order of a file never
/// matters. `order` holds rider indices from the first on the road to the last.

#include <array>
#include <cstdint>
#include <vector>

#include "leewheel/ride.hpp"
#include "model/lanes.hpp"

namespace leewheel {

using RiderIndex = std::uint32_t;
inline constexpr RiderIndex nobody = no_rider;
inline constexpr double beside_m = 0.5;  ///< riders side by side are at least this far apart (assumed)

/// What the push needs to know of the road at a grid point, side by side in memory.
struct RoadCell {
  double elevation_m;
  float rolling_cos;      ///< Crr cos(slope)
  float climbing;         ///< 0 on the flat, 1 where a rider sits up to climb
  float speed_limit_mps;  ///< bends and descents, with the way to brake for them
  float half_density;     ///< rho / 2
};

/// What the rules of the road allow at a grid point, looked up once a ride.
struct RoadRules {
  Lane lane;
  bool closed, room_for_two;
};

/// The road of one ride as the riders see it.
class Track {
 public:
  Track(const Scenario& scenario, const Wind& wind);
  struct Place {
    std::int32_t cell;
    double part;  ///< of the way to the next grid point
  };
  Place place(double distance_m) const {
    const double at = distance_m * per_m_;
    const double cell = at < 0.0 ? 0.0 : (at > last_ ? last_ : static_cast<double>(static_cast<std::int32_t>(at)));
    const double part = at - cell;
    return {static_cast<std::int32_t>(cell), part < 0.0 ? 0.0 : (part > 1.0 ? 1.0 : part)};
  }
  LEEWHEEL_IN_PLACE void places(const Lanes& distance_m, LaneCells& cell, Lanes& part) const {
    const Lanes at = smaller(larger(distance_m * per_m_, 0.0), last_ + 1.0);
    cell = __builtin_convertvector(smaller(at, last_), LaneCells);
    part = at - __builtin_convertvector(cell, Lanes);
  }
  double distance_m(Place p) const { return (p.cell + p.part) / per_m_; }
  const RoadCell& cell(std::int32_t grid_point) const { return cells_[grid_point]; }
  const RoadCell& cell(Place p) const { return cells_[p.cell]; }
  double elevation_m(Place p) const {
    return cells_[p.cell].elevation_m + p.part * (cells_[p.cell + 1].elevation_m - cells_[p.cell].elevation_m);
  }
  double elevation_m(double distance_m) const { return elevation_m(place(distance_m)); }
  double easing_at_m(double distance_m) const { return easing_at_m_[place(distance_m).cell]; }
  const RoadRules& rules(double distance_m) const { return rules_[static_cast<std::size_t>(place(distance_m).cell)]; }
  double length_m() const { return length_m_; }

 private:
  std::vector<RoadCell> cells_;
  std::vector<RoadRules> rules_;
  std::vector<float> easing_at_m_;  ///< where the road next gets clearly easier
  double per_m_, last_, length_m_;
};

/// Power a rider can give at a moment (W): CP + (P_max - CP) W'bal/W', Morton 1996, Ergonomics 39:611.
template <class Number>
LEEWHEEL_IN_PLACE Number power_limit_W(const Number& critical_W, const Number& peak_per_J, const Number& wbal_J) {
  return critical_W + peak_per_J * larger(wbal_J, 0.0);
}

/// The columns of `EnergyLedger`, one entry a rider.
struct Books {
  std::vector<double> pedal_J, drivetrain_J, air_J, rolling_J, bearings_J, braking_J, potential_J, kinetic_J, alone_J;
  EnergyLedger of(std::size_t i) const {
    return {pedal_J[i],   drivetrain_J[i], air_J[i],     rolling_J[i], bearings_J[i],
            braking_J[i], potential_J[i],  kinetic_J[i], alone_J[i],   alone_J[i] - pedal_J[i]};
  }
};

/// Structure of arrays; every vector has one entry a rider, and stand-ins of 1 kg up to a whole number of lanes.
struct Riders {
  std::size_t count = 0;
  std::vector<RiderSettings> settings;
  std::vector<std::vector<PlanStep>> plans;

  // constants of the body and the bicycle
  std::vector<double> weight_N, moving_mass_kg, per_moving_mass, efficiency, per_efficiency, wheel_area_m2,
      rolling_multiplier, pedal_limit_N;
  std::vector<double> area_hoods_m2, area_drops_m2, area_upright_m2, own_gap_m, wish_gap_m, critical_W, peak_per_J;

  // motion
  std::vector<double> x_m, y_m, v_mps;
  std::vector<double> x_before_m;              ///< x_m at the start of the step
  std::vector<double> area_m2, lee, side_lee;  ///< drag area now; factors of the lee
  std::vector<double> elevation_m;             ///< of the road at x_m

  // what a rider meets, held between lees
  std::vector<double> wind_along_mps, wind_cross_mps;  ///< gust included
  std::vector<double> half_density, rolling_N, climbing;
  std::vector<double> yaw_factor;  ///< of the drag area

  // orders for the push, from the tactics
  std::vector<double> ordered_W;     ///< power when riding freely
  std::vector<double> most_W;        ///< never more than this now
  std::vector<double> pace_mps;      ///< speed to hold in front; 0 = ride ordered_W
  std::vector<double> rides_freely;  ///< 1: at ordered_W, holding neither a wheel nor a pace; 0: otherwise
  std::vector<double> stop_at_m;     ///< comes to rest here; beyond the road = never
  std::vector<double> y_target_m;
  std::vector<RiderIndex> wheel_of;       ///< whose wheel is held, or nobody
  std::vector<RiderIndex> blocker;        ///< nearest rider ahead in the way, or nobody
  std::vector<RiderIndex> front_of;       ///< first rider of the own line
  std::vector<double> y_low_m, y_high_m;  ///< room sideways left by riders alongside and the lane

  std::vector<float> past_mps;  ///< speeds of the last moments, a row of `count` for each step of reaction time

  // results of the push
  std::vector<double> power_W, alone_W, accel_mps2, wbal_J, wbal_least_J, pedal_before_J;
  Books books;
  std::vector<double> sheltered_s, overlap_s, side_force_N, largest_side_force_N;
  std::vector<std::uint8_t> riding;
  std::vector<double> on_road;  ///< `riding` as 1 or 0

  void resize(std::size_t n);

  double power_limit_W(RiderIndex i) const { return leewheel::power_limit_W(critical_W[i], peak_per_J[i], wbal_J[i]); }
};

/// What a rider has in mind; changed once a second.
struct Mind {
  Role role = Role::alone;
  double role_since_s = 0.0;
  double over_since_s = -1.0;    ///< the wheel has cost too much since then; < 0: it does not
  double faster_since_s = -1.0;  ///< could go faster alone since then
  double no_chase_until_s = 0.0;
  double no_wait_until_s = 0.0;    ///< does not ease for a group behind until then
  double no_follow_until_s = 0.0;  ///< leads a second echelon until then
  double pull_s = 0.0;             ///< length of the next turn in front
  double ordered_base_W = 0.0;
  double wobble = 0.0;  ///< of the effort, drawn anew every wobble block
  std::uint64_t wobble_block = UINT64_MAX;
  double own_speed_mps = 3.0;   ///< steady speed alone at ordered_W here (warm start of the solver)
  double hold_speed_mps = 3.0;  ///< fastest wheel that can be held here
  double hold_limit_W = 0.0;    ///< what the rider will give to hold a wheel
  double asked_W = 0.0;         ///< what the wheel has cost lately
  double line_pace_mps = 0.0;   ///< as the first of a line: its pace
  std::uint32_t line_size = 1;
  int side = 0;                  ///< passing or drifting: +1 left, -1 right
  double lets_by_until_s = 0.0;  ///< keeps to the edge for someone faster
  int skipped_turns = 0;         ///< in a row, for want of strength
  int squad = 0;                 ///< which of two groups by strength
  double gap_since_s = -1.0;     ///< the wheel has lost its own since then
  double gutter_since_s = -1.0;  ///< little lee and no room to leeward since then
  bool wheel_worthless = false;  ///< following costs next to as much as leading here
  bool climbs_freely = false;
  RiderIndex let_go_of = nobody;  ///< the front whose line was too fast
  std::size_t next_regroup = 0;   ///< regroup points passed
  const Order* order = nullptr;   ///< a choice laid upon the rider here
  bool obeyed = false;            ///< it has been carried out; the rider judges again
  bool keeps_off = false;         ///< takes no wheel and leads no line, by order
  bool eases = false;             ///< rides below the own target, by order
  RiderIndex waits_for = nobody;  ///< by order: the first of the group behind
  Because why;
};

struct Ride::State {
  State(const Scenario& scenario, bool notes_debts);

  const Scenario scenario;
  const bool notes_debts;  ///< who towed whom
  Wind wind;
  Track track;  // after the wind, which says where the way gets easier
  Bunch bunch;
  LeeLedger debts;
  Riders riders;
  std::vector<RiderIndex> order;           ///< riding, from the front
  std::vector<RiderIndex> file_order;      ///< scenario index -> rider index
  std::vector<RiderIndex> scenario_index;  ///< rider index -> scenario index
  std::vector<RiderIndex> rank_of;         ///< place in `order`
  std::uint64_t tick = 0;
  std::uint64_t lee_every, decide_every;
  double step_s;
  Wind::Moment wind_now;                             ///< at a middle of a lee interval; read where the wind is local
  bool local_wind = false;                           ///< the open wind differs from rider to rider
  std::vector<std::vector<double>> density_factors;  ///< by station, a minute each; empty: no forecast tells of the air
  double density_factor = 1.0;
  std::vector<double> side_told_until_s;  ///< by rider: no further caution for a gust until then
  std::vector<Event> events;
  std::vector<LeeLink> links;

  std::vector<Mind> minds;
  std::vector<RiderIndex> line_scratch, file_scratch;
  std::vector<double> hold_scratch;
  std::vector<BunchRider> bunch_scratch;
  std::vector<std::uint32_t> size_scratch;

  // scratch of the lee, in road order
  std::vector<double> lee_x_m, lee_y_m, lee_area_m2, lee_along_mps, lee_cross_mps, lee_turbulence, lee_factor, lee_side;

  std::vector<std::vector<Passage>> passages;
  std::vector<std::size_t> next_landmark;
  std::vector<double> next_mark_m;  ///< nothing to note before the rider is there
  std::vector<double> finish_s;
  std::vector<GroupSpan> groups;
  std::vector<std::int32_t> group_row;   ///< group id -> row in `groups`
  std::vector<std::int32_t> last_group;  ///< by rider: the latest to be noted in `groups`
  std::vector<double> heart_share;
  RideEnd end = RideEnd::riding;
  double still_since_s = 0.0;
  std::uint64_t reaction_steps = 0;
  std::vector<double> heavy_s;  ///< time ridden hard, for fatigue
  std::vector<double> waited_s, in_group_s;
  std::vector<std::array<double, recovery_law_names.size()>> wbal_by_law_J;
  std::vector<double> pedal_by_law_J;  ///< work when those were last brought up to date
  double eased_at_s = -1e9;            ///< when a front last told that it eases for someone
  double regroup_since_s = -1.0;       ///< someone has been waiting at the regroup point since then

  double time_s() const { return static_cast<double>(tick) * step_s; }

  // the step, in order
  void sort_along_road();
  void find_lee();
  void look_around();                             // who is in the way, who is alongside
  void decide();                                  // tactics.cpp
  Because standing(RiderIndex rider) const;       ///< what the rider is doing now
  double seen_speed_mps(RiderIndex rider) const;  ///< of a wheel, a reaction time ago
  Strength strength_now(RiderIndex rider) const;
  void steer();  // push.cpp: sideways
  void push();   // push.cpp: along the road
  double wished_acceleration_mps2(RiderIndex rider) const;
  void push_abreast(RiderIndex first);
  void keep_apart();  // push.cpp
  void recover();
  void recover_by_each_law(RiderIndex rider, const Strength& strength);
  void regroup();
  double density_now() const;  ///< the factor over the middle of the field, stations mixed as the wind is
  void feel_side_force();      // ride.cpp: what the wind does across, and whether that is worth a caution
  void note_passages(double before_s);
};

}  // namespace leewheel
