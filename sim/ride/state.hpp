#pragma once
/// The inside of a ride: the parts that the step calls one after another.

#include "leewheel/ride.hpp"
#include "model/airflow.hpp"
#include "model/recover.hpp"
#include "model/riders.hpp"
#include "model/track.hpp"
#include "ride/cautions.hpp"
#include "ride/group_history.hpp"
#include "ride/passages.hpp"
#include "riding/decide.hpp"

namespace leewheel {

/// Names and places: the ride keeps riders in the order of their names, a scenario in the order of its file.
struct RiderPlaces {
  std::vector<RiderIndex> scenario_index;  ///< rider index -> place in the scenario
  std::vector<RiderIndex> index_of;        ///< place in the scenario -> rider index
  explicit RiderPlaces(const std::vector<RiderSettings>& riders);
};

struct Ride::State {
  State(const Scenario& scenario, RideOptions options);

  const Scenario scenario;
  const RideOptions options;
  const RiderPlaces places;
  double step_s;
  std::uint64_t tick = 0, wake_every, decide_every, reaction_steps;
  Riders riders;
  std::vector<RiderIndex> order;    ///< riding, from the front
  std::vector<RiderIndex> rank_of;  ///< place in `order`

  const std::shared_ptr<const Survey> survey;  ///< shared with other rides of the road
  Airflow airflow;
  Track track;  ///< after the wind, which says where the way gets easier
  riding::Decide decide;
  GroupHistory groups;
  Passages passages;
  Cautions cautions;
  TowLedger debts;              ///< who towed whom
  std::vector<WakeLink> links;  ///< scratch
  std::vector<Event> events;
  std::vector<std::size_t> next_waiting_place;  ///< by rider, as of the second before
  std::vector<double> waited_s;                 ///< at regroup points and stops
  struct NearFinish {
    RiderIndex rider;
    EnergyLedger books;
    double sheltered_s;
  };
  std::vector<NearFinish> near_finish;  ///< who may reach it in this step, as they were before
  RideEnd end = RideEnd::riding;
  double still_since_s = 0.0;  ///< nobody has moved since then

  double time_s() const { return static_cast<double>(tick) * step_s; }
  LawsKept laws_kept() const { return options.notes_laws ? LawsKept::all : LawsKept::own; }
  double wake_interval_s() const { return static_cast<double>(wake_every) * step_s; }
  double decide_interval_s() const { return static_cast<double>(decide_every) * step_s; }
  /// When W' was last brought up to date before the end of the step just made.
  double recovered_s() const { return static_cast<double>((tick - 1) / decide_every * decide_every) * step_s; }

  // the step, in order
  void meet_air();
  void add_debts();
  void sort_along_road();
  void look_at_finish();
  void note_passages(double before_s);
  void close_books(std::span<const RiderIndex> finished, double before_s);
  void leave_road(std::span<const RiderIndex> finished);
  void note_waits(double time_s);
  void count_second();
  void look_for_end();
};

/// Riders on the start line, from the front, and their order.
std::vector<RiderIndex> line_up(Riders& riders, const Scenario& scenario);

}  // namespace leewheel
