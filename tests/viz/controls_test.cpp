#include "viz/view/controls.hpp"

#include <catch2/catch.hpp>

#include <set>

#include "synthetic_ride.hpp"
#include "viz/view/profile.hpp"

using namespace leewheel;
using namespace leewheel::view;

namespace {

struct Session {
  Replay replay{synthetic::source({6, 600, 4000, 2}), "invented"};
  Controls controls;
  void press(Command command) { apply(command, controls, replay, view_at(replay, controls.time_s)); }
};

}  // namespace

TEST_CASE("no key does two things and every command has a key", "[controls]") {
  std::set<char32_t> characters;
  std::set<std::string> names;
  std::set<Command> commands;
  for (const KeyHint& hint : key_hints()) {
    commands.insert(hint.command);
    if (hint.character != 0)
      CHECK(characters.insert(hint.character).second);
    else
      CHECK(names.insert(hint.key).second);
  }
  CHECK(commands.size() == static_cast<std::size_t>(Command::quit) + 1);
}

TEST_CASE("playing moves the clock by the chosen speed and stops at the end", "[controls]") {
  Session s;
  advance(s.controls, s.replay, 1.0);
  CHECK(s.controls.time_s == 0.0);
  s.press(Command::play_pause);
  advance(s.controls, s.replay, 1.0);
  CHECK(s.controls.time_s == 8.0);
  for (int k = 0; k < 20; ++k) s.press(Command::faster);
  advance(s.controls, s.replay, 1.0);
  CHECK(s.controls.time_s == 136.0);
  for (int k = 0; k < 20; ++k) s.press(Command::slower);
  advance(s.controls, s.replay, 1.0);
  CHECK(s.controls.time_s == 136.25);
  advance(s.controls, s.replay, 1e6);
  CHECK(s.controls.time_s == 600.0);
  CHECK_FALSE(s.controls.playing);
  s.press(Command::play_pause);  // at the end: from the start again
  CHECK(s.controls.time_s == 0.0);
}

TEST_CASE("stepping goes one sample and events are reached in turn", "[controls]") {
  Session s;
  s.press(Command::step_on);
  CHECK(s.controls.time_s == 1.0);
  s.press(Command::step_back), s.press(Command::step_back);
  CHECK(s.controls.time_s == 0.0);
  s.press(Command::next_event);
  CHECK(s.controls.time_s == 3.0);
  s.press(Command::next_event);
  CHECK(s.controls.time_s == Approx(60.0));
  s.press(Command::previous_event);
  CHECK(s.controls.time_s == 3.0);
}

TEST_CASE("up and down walk the rows as they are sorted", "[controls]") {
  Session s;
  s.press(Command::rider_down);
  CHECK(s.controls.chosen == 1);
  s.controls.sort = Column::rider, s.controls.falling = true;
  s.press(Command::rider_down);
  CHECK(s.controls.chosen == 0);
  s.press(Command::rider_down);
  CHECK(s.controls.chosen == 0);
}

TEST_CASE("a second click on a heading turns the order round", "[controls]") {
  Controls c;
  sort_by(c, Column::saved);
  CHECK(c.falling);
  sort_by(c, Column::saved);
  CHECK_FALSE(c.falling);
}

TEST_CASE("following goes from group to group and comes back to the first", "[controls]") {
  Session s;
  s.controls.time_s = 400;
  const View view = view_at(s.replay, 400);
  REQUIRE(view.groups.size() == 2);
  CHECK(focus_of(s.controls, view).words == "group 1, 3 riders");
  s.press(Command::follow_group);
  CHECK(focus_of(s.controls, view).words == "group 2, 3 riders");
  s.press(Command::follow_group);
  CHECK(focus_of(s.controls, view).words == "group 1, 3 riders");
  s.press(Command::follow_rider);
  CHECK(focus_of(s.controls, view).words == "Anouk");
}

TEST_CASE("zooming starts from the scale that fits and fitting comes back", "[controls]") {
  Session s;
  s.controls.camera.fitted_px_per_m = 30;
  s.press(Command::zoom_in);
  CHECK(s.controls.camera.px_per_m == Approx(37.5));
  for (int k = 0; k < 40; ++k) s.press(Command::zoom_out);
  CHECK(s.controls.camera.px_per_m == Approx(2.0));
  s.press(Command::reset_camera);
  CHECK(s.controls.camera.px_per_m == 0.0);
}

TEST_CASE("strokes stand for equal heights, so their number is the ascent", "[profile]") {
  const Road road(synthetic::head({}).road);
  const auto strokes = climb_strokes(road, 5.0);
  double up_m = 0, down_m = 0;
  for (const ClimbStroke& stroke : strokes) (stroke.up ? up_m : down_m) += 5.0;
  const RoadFacts facts = road.facts();
  CHECK(up_m - down_m == Approx(facts.ascent_m - facts.descent_m).margin(5.0));
  CHECK(up_m == Approx(facts.ascent_m).margin(10.0));
}

TEST_CASE("strokes on the steepest hundred metres keep their spacing", "[profile]") {
  const Road road(synthetic::head({}).road);
  for (const double spacing_m : {5.0, 30.0, 200.0}) {
    const double interval_m = stroke_interval_m(road, spacing_m);
    CHECK(interval_m / road.facts().steepest_100m_grade >= spacing_m);
    CHECK(interval_m / road.facts().steepest_100m_grade < 3 * spacing_m + 12);
  }
}

TEST_CASE("runs of grade and of exposure cover the road without gap", "[profile]") {
  const Road road(synthetic::head({}).road);
  const auto runs = grade_runs(road, 300.0);
  CHECK(runs.front().from_m == 0.0);
  CHECK(runs.back().to_m == Approx(road.length_m()));
  for (std::size_t k = 1; k < runs.size(); ++k) CHECK(runs[k].from_m == Approx(runs[k - 1].to_m));
  CHECK(runs.size() == 5);
  for (const GradeRun& run : runs) CHECK(run.to_m - run.from_m >= 300.0);
  const auto land = exposure_runs(road.profile().exposure_left, road.spacing_m());
  CHECK(land.size() == 5);  // houses, slope, wood, trees, ridge
  CHECK(land.back().to_m == Approx(road.length_m()));
}

TEST_CASE("steps of a plan follow one another to the end of the road", "[profile]") {
  const TraceHead head = synthetic::head({});
  const auto cues = plan_cues(head, 3, 12000);
  REQUIRE(cues.size() == 3);
  CHECK(cues[0].to_m == cues[1].from_m);
  CHECK(cues[1].words == "95 %");
  CHECK(cues[2].to_m == 12000);
  CHECK(plan_cues(head, 0, 12000).empty());
  CHECK(has_plan(head));
  CHECK_FALSE(has_plan(TraceHead{}));
}

TEST_CASE("a ride of each rider alone ends without the finding about company", "[controls]") {
  auto source = synthetic::source(synthetic::six, "Hill, each rider alone");
  const_cast<TraceHead&>(source->head()).finding = "Company pays.";
  const Replay replay(std::move(source), "alone.h5");
  Controls c;
  c.time_s = 600.0;
  CHECK(card_of(c, replay).words.empty());
  CHECK(card_of(c, replay).results.size() == 3);
}

TEST_CASE("a bunch too long to be shown is centred on the chosen rider, not beyond its ends", "[controls]") {
  Session s;
  s.controls.time_s = 400;
  const View view = view_at(s.replay, 400);
  s.controls.chosen = 2;
  const Focus whole = focus_of(s.controls, view);
  CHECK(whole.rider == 2);
  CHECK(within(whole, view, whole.length_m).middle_m == whole.middle_m);
  const GroupView& group = view.groups.front();
  const Focus last = within(whole, view, 4.0);
  CHECK(last.length_m == 4.0);
  CHECK(last.middle_m == Approx(group.last_m + 2.0));
  s.controls.chosen = 1;
  CHECK(within(focus_of(s.controls, view), view, 2.0).middle_m == Approx(view.riders[1].distance_m - 0.85));
  s.controls.chosen = 5;  // in the other group: the first of those followed
  CHECK(focus_of(s.controls, view).rider == 0);
}

TEST_CASE("question at the start, finding and three results at the end", "[controls]") {
  auto source = synthetic::source(synthetic::six);
  const_cast<TraceHead&>(source->head()).question = "Is it worth it?";
  const_cast<TraceHead&>(source->head()).finding = "On the level it is.";
  Replay replay(std::move(source), "asked");
  Controls c;
  CHECK(card_of(c, replay).words == "Is it worth it?");
  CHECK(card_of(c, replay).below == "Press space to play.");
  c.playing = true;
  CHECK(card_of(c, replay).words.empty());
  c.playing = false, c.time_s = 300.0;
  CHECK(card_of(c, replay).words.empty());
  CHECK(card_of(c, replay).results.empty());
  c.time_s = 600.0;
  CHECK(card_of(c, replay).words == "On the level it is.");
  CHECK(card_of(c, replay).results.size() == 3);
  c.filming = true, c.film_from_s = 100.0, c.film_to_s = 600.0, c.time_s = 110.0;  // 8x: the question stands for 16 s
  CHECK(card_of(c, replay).words == "Is it worth it?");
  CHECK(card_of(c, replay).below.empty());
  c.time_s = 120.0;
  CHECK(card_of(c, replay).words.empty());
  c.time_s = 551.0;  // finding and results stand for 48 s
  CHECK(card_of(c, replay).empty());
  c.time_s = 553.0;
  CHECK(card_of(c, replay).words == "On the level it is.");
  CHECK(card_of(c, replay).results.size() == 3);
}
