#include "viz/view/replay.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "io/fault.hpp"
#include "synthetic_ride.hpp"
#include "viz/view/story.hpp"
#include "viz/view/view.hpp"

using namespace leewheel;
using namespace leewheel::view;
using synthetic::six;
using synthetic::six_riders;

TEST_CASE("between two samples numbers run straight and groups wait for the sample", "[view]") {
  Replay replay = six_riders();
  RideSample at, next, half;
  replay.interpolate(149, at), replay.interpolate(150, next), replay.interpolate(149.5, half);
  for (std::size_t i = 0; i < 6; ++i) {
    CHECK(half.distance_m[i] == Approx(0.5 * (at.distance_m[i] + next.distance_m[i])));
    CHECK(half.group_id[i] == at.group_id[i]);
  }
  CHECK(at.group_id[5] != next.group_id[5]);  // the split falls on this sample: the test would be empty otherwise
}

TEST_CASE("a moment is the same whether reached by playing, stepping back or jumping", "[view]") {
  Replay replay = six_riders();
  RideSample jumped, played, back;
  replay.interpolate(301.25, jumped);
  for (double t = 295; t <= 301.25; t += 0.25) replay.interpolate(t, played);
  for (double t = 310; t >= 301.25; t -= 0.25) replay.interpolate(t, back);
  for (const SampleColumn& column : sample_columns()) {
    CHECK(jumped.*column.values == played.*column.values);
    CHECK(jumped.*column.values == back.*column.values);
  }
}

TEST_CASE("times outside the ride show its ends", "[view]") {
  Replay replay = six_riders();
  CHECK(view_at(replay, -100).time_s == 0.0);
  CHECK(view_at(replay, 1e9).time_s == 600.0);
}

TEST_CASE("riders are ordered along the road and, once home, by their finish", "[view]") {
  Replay replay = six_riders();
  for (const double t : {10.0, 300.0, 590.0, 600.0}) {
    const View view = view_at(replay, t);
    for (std::size_t k = 1; k < view.order.size(); ++k) {
      const RiderView &a = view.riders[view.order[k - 1]], &b = view.riders[view.order[k]];
      CHECK(b.place == a.place + 1);
      CHECK(b.gap_s >= a.gap_s - 1e-6);
      CHECK((a.finished || a.distance_m >= b.distance_m));
    }
  }
}

TEST_CASE("a gap in seconds is the time since the first rider was at that place", "[view]") {
  Replay replay = six_riders();
  const View view = view_at(replay, 140);
  const RiderView &first = view.riders[0], &last = view.riders[5];
  // The invented riders keep one speed, so the gap is distance over that speed.
  const double speed = 4000 / (0.95 * 600);
  CHECK(last.gap_s == Approx((first.distance_m - last.distance_m) / speed).margin(0.06));  // the sway of 0.4 m
}

TEST_CASE("every riding rider is in exactly one group", "[view]") {
  Replay replay = six_riders();
  for (const double t : {0.0, 100.0, 200.0, 575.0, 600.0}) {
    const View view = view_at(replay, t);
    std::vector<int> seen(6, 0);
    for (const GroupView& g : view.groups)
      for (const std::uint32_t i : g.riders) ++seen[i];
    for (std::size_t i = 0; i < 6; ++i) CHECK(seen[i] == (view.riders[i].finished ? 0 : 1));
  }
}

TEST_CASE("wheels overlap only when both along and across are close", "[view]") {
  Replay replay(synthetic::source({40, 100, 2000, 1}), "two abreast, 0.9 m apart");
  CHECK(view_at(replay, 50).overlaps.empty());
}

TEST_CASE("sheltered share counts riding time with less than 0.95 of the drag", "[view]") {
  Replay replay = six_riders();
  CHECK(replay.sheltered_share(0, 300) == 0.0);
  CHECK(replay.sheltered_share(1, 300) == Approx(1.0));
  CHECK(replay.sheltered_share(1, 600) == Approx(1.0));  // time at the finish is not riding time
}

namespace {

/// What a person would sort by, apart from how the viewer does it.
double value(const RiderView& r, Column column) {
  switch (column) {
    case Column::place: return r.place;
    case Column::rider: return r.name.front();  // the invented six differ there
    case Column::group: return r.group;
    case Column::gap: return r.gap_s;
    case Column::power: return r.power_W;
    case Column::alone: return r.alone_W;
    case Column::saved: return r.alone_W - r.power_W;
    case Column::saved_energy: return r.saved_J;
    case Column::saved_share: return r.saved_J / (r.saved_J + r.pedal_J);
    case Column::wbal: return r.wbal_J;
    case Column::sheltered: return r.sheltered_share;
    case Column::waited: return r.waited_s;
  }
  return 0;
}

}  // namespace

TEST_CASE("tallies sort by every column both ways and keep the order of the road among equals", "[view]") {
  Replay replay = six_riders();
  const View view = view_at(replay, 300);
  for (const ColumnText& column : tally_columns()) {
    const auto up = sorted_rows(view, column.column, false), down = sorted_rows(view, column.column, true);
    REQUIRE(up.size() == 6);
    INFO(column.title);
    for (std::size_t k = 1; k < 6; ++k) {
      CHECK(value(view.riders[up[k - 1]], column.column) <= value(view.riders[up[k]], column.column));
      CHECK(value(view.riders[down[k - 1]], column.column) >= value(view.riders[down[k]], column.column));
    }
  }
  const auto by_power = sorted_rows(view, Column::power, true);
  for (std::size_t k = 1; k < 6; ++k) CHECK(view.riders[by_power[k - 1]].power_W >= view.riders[by_power[k]].power_W);
  const auto by_group = sorted_rows(view, Column::group, false);
  CHECK(std::vector(by_group.begin(), by_group.begin() + 3) ==
        std::vector<std::uint32_t>(view.order.begin(), view.order.begin() + 3));
  CHECK(view.riders[sorted_rows(view, Column::rider, false).front()].name == "Anouk");
}

TEST_CASE("in a narrow table the first columns to go are not the ones asked for most", "[view]") {
  CHECK(columns_for(630).size() == tally_columns().size());
  const auto narrow = columns_for(330);
  float needed_px = 0;
  for (const ColumnText& column : narrow) needed_px += column.least_px;
  CHECK(needed_px <= 330);
  for (const Column kept : {Column::rider, Column::power, Column::saved, Column::wbal})
    CHECK(std::ranges::count(narrow, kept, &ColumnText::column) == 1);
  CHECK(columns_for(0).size() == 5);
}

TEST_CASE("a rider who waits in front is not behind himself", "[view]") {
  Replay replay = six_riders();
  const View view = view_at(replay, 575);  // the first is home
  CHECK(view.riders[view.order.front()].gap_s == 0.0);
}

TEST_CASE("the split of power adds up to the power", "[view]") {
  Replay replay = six_riders();
  for (const RiderView& r : view_at(replay, 222.2).riders) {
    const PowerSplit s = power_split(r);
    CHECK(s.gravity_W + s.air_W + s.rolling_W + s.speed_W + s.losses_W == Approx(r.power_W));
    CHECK(s.losses_W / r.power_W == Approx(0.024).margin(1e-3));  // the invented drivetrain
  }
}

TEST_CASE("the words of the why panel name the wheel and the watts", "[view]") {
  Replay replay = six_riders();
  const View view = view_at(replay, 300);
  CHECK_THAT(why_words(view.riders[1], view, Units::metric), Catch::Contains("Anouk's wheel saves"));
  CHECK_THAT(why_words(view.riders[1], view, Units::imperial), Catch::Contains("mph"));
}

TEST_CASE("events become sentences with names, place and cause, and can be stepped through", "[story]") {
  const TraceHead head = synthetic::head(six);
  const std::string words = event_words(head.events[2], head, Units::metric);
  CHECK_THAT(words, Catch::StartsWith("Fenn lets the wheel go at 1."));
  CHECK_THAT(event_words({EventKind::lets_go, 0, 1500, {5, 2}, 1, {Reason::wheel_too_costly, 2, {208.4, 200.0}}}, head,
                         Units::metric),
             Catch::Equals("Fenn lets Cato's wheel go at 1.50 km: the wheel of Cato needs 208 W, gives at most 200 W"));
  CHECK_THAT(words, Catch::Contains("needs 262 W, gives at most 234 W"));
  CHECK_THAT(event_words(head.events[0], head, Units::metric),
             Catch::StartsWith("Anouk, Bram, Cato and 3 more come together (group 1)"));
  CHECK_FALSE(current_event(head.events, 0).has_value());
  double t = 0;
  std::size_t steps = 0;
  while (const auto next = next_event(head.events, t)) {
    t = head.events[*next].time_s;
    ++steps;
    REQUIRE(current_event(head.events, t) == next);
  }
  CHECK(steps == head.events.size());
  while (const auto before = previous_event(head.events, t)) t = head.events[*before].time_s, --steps;
  CHECK(steps == 1);
  CHECK_FALSE(next_event({}, 0).has_value());
}

TEST_CASE("every kind of event has words", "[story]") {
  const TraceHead head = synthetic::head(six);
  for (std::size_t kind = 0; kind < std::size(event_names); ++kind)
    for (const auto& riders : {std::vector<std::uint32_t>{0}, {0, 1}}) {
      INFO(event_names[kind]);
      CHECK_THAT(event_words({static_cast<EventKind>(kind), 0, 0, riders, 1, {}}, head, Units::metric),
                 !Catch::Contains("  "));
    }
}

TEST_CASE("the next turn is the next one recorded in that group, and not one far off", "[view]") {
  Replay replay = six_riders();
  const auto turn = [&](double time_s) { return view_at(replay, time_s).groups.front().next_turn; };
  CHECK_FALSE(turn(50).has_value());  // the invented event is of who is in front already
  class Turning : public RideSource {
   public:
    Turning() : inner_(synthetic::source(six)), head_(inner_->head()) {
      head_.events = {{EventKind::takes_turn, 100, 0, {2, 0}, 1, {}},
                      {EventKind::takes_turn, 120, 0, {1, 2}, 1, {}},
                      {EventKind::takes_turn, 590, 0, {1}, 1, {}}};
    }
    const TraceHead& head() const override { return head_; }
    void sample(std::size_t index, RideSample& into) override { inner_->sample(index, into); }

   private:
    std::unique_ptr<RideSource> inner_;
    TraceHead head_;
  };
  Replay turning(std::make_unique<Turning>(), "turning");
  const auto next = [&](double time_s) { return view_at(turning, time_s).groups.front().next_turn; };
  REQUIRE(next(40).has_value());
  CHECK(next(40)->rider == 2);
  CHECK(next(40)->in_s == Approx(60));
  REQUIRE(next(110).has_value());
  CHECK(next(110)->rider == 1);
  CHECK_FALSE(next(150).has_value());  // 440 s off
}

TEST_CASE("a long ride is opened and shown without reading all of it", "[view]") {
  struct Counting : RideSource {
    std::unique_ptr<RideSource> inner = synthetic::source({6, 20000, 40000, 2});
    std::size_t* rows_read;
    explicit Counting(std::size_t* count) : rows_read(count) {}
    const TraceHead& head() const override { return inner->head(); }
    void sample(std::size_t index, RideSample& into) override { ++*rows_read, inner->sample(index, into); }
  };
  std::size_t rows_read = 0;
  Replay replay(std::make_unique<Counting>(&rows_read), "long");
  CHECK(rows_read == 0);
  view_at(replay, 0.0);
  for (double d = 0; d < 40000; d += 2000) replay.met_wind(d);
  CHECK(rows_read == 14978);  // once through would be 20001, and there are 22 columns; here a few columns' blocks
}

TEST_CASE("numbers of the tallies carry a true minus and zero carries none", "[view]") {
  RiderView r;
  r.power_W = 180.2, r.alone_W = 177.0, r.saved_J = -20.0, r.saved_share = -0.012;
  CHECK(cell_text(r, Column::saved) ==
        "\xE2\x88\x92"
        "3");
  CHECK(cell_text(r, Column::saved_energy) == "0.0");
  CHECK(cell_text(r, Column::saved_share) ==
        "\xE2\x88\x92"
        "1.2");
}

TEST_CASE("a trace file shows what the memory shows", "[view][file]") {
  const auto path = std::filesystem::temp_directory_path() / "leewheel_viewer_test.h5";
  synthetic::write_trace(path.string(), six);
  {
    Replay file(open_trace(path.string()), path.string()), memory = six_riders();
    for (const double t : {0.0, 123.4, 599.5}) {
      const View a = view_at(file, t), b = view_at(memory, t);
      CHECK(a.order == b.order);
      for (std::size_t i = 0; i < 6; ++i) {
        CHECK(a.riders[i].distance_m == b.riders[i].distance_m);
        CHECK(a.riders[i].saved_J == b.riders[i].saved_J);
      }
    }
    CHECK(file.head().events.size() == memory.head().events.size());
    CHECK(file.head().regroup_at_m == memory.head().regroup_at_m);
    REQUIRE(file.head().plans.size() == 6);
    REQUIRE(file.head().plans[3].size() == 3);
    CHECK(file.head().plans[3][1].from_m == memory.head().plans[3][1].from_m);
    CHECK(file.head().plans[3][1].effort == 0.95);
    CHECK(file.head().plans[0].empty());
    for (const double t : {0.0, 300.0, 600.0}) CHECK(file.sheltered_share(1, t) == memory.sheltered_share(1, t));
    CHECK(file.finish_s(0) == memory.finish_s(0));
    CHECK(file.finish_s(0).has_value());
  }
  std::filesystem::remove(path);
}

TEST_CASE("a ride without riders is refused in one line", "[view]") {
  class Empty : public RideSource {
   public:
    Empty() { head_.road = synthetic::head(six).road, head_.time_s = {0.0}; }
    const TraceHead& head() const override { return head_; }
    void sample(std::size_t, RideSample&) override {}

   private:
    TraceHead head_;
  };
  CHECK_THROWS_WITH(Replay(std::make_unique<Empty>(), "empty.h5"), Catch::Contains("empty.h5: riders: found none"));
}

TEST_CASE("who waits is so many metres behind, not minutes", "[view]") {
  RiderView r;
  r.place = 2, r.gap_s = 167.0, r.gap_m = 11.2, r.role = Role::waiting;
  CHECK(cell_text(r, Column::gap) == "11 m");
  r.gap_m = 2.0;
  CHECK(cell_text(r, Column::gap) == "here");
  r.role = Role::following;
  CHECK(cell_text(r, Column::gap) == "+2:47");
}
