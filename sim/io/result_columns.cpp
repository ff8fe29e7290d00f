#include "io/result_columns.hpp"

namespace leewheel {

std::span<const ResultColumn<RiderRow>> rider_columns() {
  using Row = RiderRow;
  static constexpr ResultColumn<Row> columns[] = {
      {"finish_time_s", 1, [](const Row& r) { return r.rider.finished ? r.rider.finish_time_s : no_value; }},
      {"riding_time_s", 1, [](const Row& r) { return r.rider.riding_s(); }},
      {"waited_s", 1, [](const Row& r) { return r.rider.waited_s; }},
      {"in_group_s", 1, [](const Row& r) { return r.rider.in_group_s; }, FoundIn::json},
      {"distance_m", 1, [](const Row& r) { return r.rider.distance_m; }},
      {"mean_power_W", 1, [](const Row& r) { return r.rider.mean_power_W; }},
      {"work_kJ", 2, [](const Row& r) { return r.rider.ledger.pedal_J / 1000.0; }},
      {"saved_kJ", 2, [](const Row& r) { return r.rider.ledger.saved_J / 1000.0; }},
      {"saved_percent", 2, [](const Row& r) { return percent(r.rider.ledger.saved_J, r.rider.ledger.alone_J); }},
      {"given_kJ", 2, [](const Row& r) { return r.rider.given_J / 1000.0; }},
      {"front_s", 1, [](const Row& r) { return r.facts.front_s; }},
      {"turns", 0, [](const Row& r) { return static_cast<double>(r.facts.turns); }},
      {"sheltered_share", 4, [](const Row& r) { return r.rider.sheltered_share; }},
      {"wbal_end_J", 0, [](const Row& r) { return r.rider.wbal_end_J; }},
      {"wbal_least_J", 0, [](const Row& r) { return r.rider.wbal_least_J; }},
      {"solo_time_s", 1,
       [](const Row& r) { return r.alone_again && r.alone_again->finished ? r.alone_again->finish_time_s : no_value; }},
      {"time_saved_s", 1, [](const Row& r) { return time_saved_s(r.rider, r.alone_again); }},
      {"door_to_door_saved_s", 1, [](const Row& r) { return door_to_door_saved_s(r.rider, r.alone_again); }},
      {"overlap_s", 1, [](const Row& r) { return r.rider.overlap_s; }},
      {"largest_side_force_N", 1, [](const Row& r) { return r.rider.largest_side_force_N; }},
      {"ledger_error", 15, [](const Row& r) { return r.rider.ledger.error(); }},
  };
  return columns;
}

std::span<const ResultColumn<StretchRidden>> stretch_columns() {
  using Row = StretchRidden;
  static constexpr ResultColumn<Row> columns[] = {
      {"from_m", 1, [](const Row& s) { return s.from_m; }},
      {"to_m", 1, [](const Row& s) { return s.to_m; }},
      {"arrive_s", 1, [](const Row& s) { return s.arrive_s; }},
      {"go_on_s", 1, [](const Row& s) { return s.go_on_s; }},
      {"waited_s", 1, [](const Row& s) { return s.waited_s; }},
      {"riding_time_s", 1, [](const Row& s) { return s.riding_s; }},
      {"solo_riding_time_s", 1, [](const Row& s) { return s.solo_riding_s; }},
      {"arrive_power_W", 1, [](const Row& s) { return s.arrive_power_W; }, FoundIn::csv},
      {"mean_power_W", 1, [](const Row& s) { return s.power_W(); }},
      {"work_kJ", 2, [](const Row& s) { return s.pedal_J / 1000.0; }},
      {"saved_J", 0, [](const Row& s) { return s.saved_J; }},
      {"saved_W", 1, [](const Row& s) { return s.saved_W(); }},
      {"saved_percent", 2, [](const Row& s) { return percent(s.saved_J, s.alone_J); }},
      {"front_s", 1, [](const Row& s) { return s.front_s; }},
      {"turns", 0, [](const Row& s) { return static_cast<double>(s.turns); }},
      {"sheltered_share", 4, [](const Row& s) { return s.sheltered_share(); }},
      {"wbal_J", 0, [](const Row& s) { return s.wbal_J; }},
      {"wbal_go_on_J", 0, [](const Row& s) { return s.wbal_go_on_J; }},
  };
  return columns;
}

}  // namespace leewheel
