/// Sentences of road notes, from numbers made up by hand.

#include "words/notes_words.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "support/scenes.hpp"

using namespace leewheel;

namespace {

Scenario two_kilometres() {
  return scenes::scene(scenes::with_landmarks(scenes::flat_road(2000.0), {1000.0}), {scenes::plain_rider("Ada")});
}

/// Two stretches of 200 s and 300 s.
RoadNotes made_up() {
  RoadNotes notes;
  notes.found = true;
  notes.mass_kg = 80.0, notes.wheel_gap_m = 0.7;
  notes.strengths = {{500.0, 250.0, 240.0, 500.0, {200.0, 500.0}, {240.0, 240.0}}};
  notes.strengths[0].way = {{0.0, 1000.0, 2000.0}, {0.0, 200.0, 500.0}};
  NotesStretch level{{"start", "Foot", 0.0, 1000.0}}, steep{{"Foot", "finish", 1000.0, 2000.0}};
  level.wheel_saves_W = 40.0, level.wheel_saves_percent = 20.0, level.headwind_mps = 3.0, level.left_s = 300.0;
  level.wbal_share = 0.97;
  steep.wheel_saves_W = 2.0, steep.wheel_saves_percent = 1.0, steep.grade = steep.steepest_grade = 0.08;
  steep.effort_share = 1.04, steep.wbal_share = 0.5;
  notes.stretches = {level, steep};
  notes.pacing.mean_power_W = 240.0, notes.pacing.decide_at_m = -1.0;
  return notes;
}

std::string said(const RoadNotes& notes, NoteAbout about) {
  std::string text;
  for (const Note& note : all_notes(two_kilometres(), notes))
    if (note.about == about) text += note.text + "|";
  return text;
}

}  // namespace

TEST_CASE("a wheel is spoken of where it pays and where it stops paying, with the reason", "[notes]") {
  RoadNotes notes = made_up();
  CHECK(said(notes, NoteAbout::wheel) ==
        "Headwind 11 km/h, look for a wheel: it saves 40 W, 20 %.|Too steep and slow: a wheel saves only 2 W, do not chase "
        "one.|");
  notes.stretches[0] = notes.stretches[1];  // on both: said once
  CHECK(said(notes, NoteAbout::wheel) == "Too steep and slow: a wheel saves only 2 W, do not chase one.|");
}

TEST_CASE("on a descent no wheel is advised: leave room", "[notes]") {
  RoadNotes notes = made_up();
  notes.stretches[0].grade = -0.024, notes.stretches[0].speed_mps = 15.0;
  CHECK(said(notes, NoteAbout::room) == "Downhill at 54 km/h: leave room, brake before the bends, no one holds a wheel.|");
  CHECK(said(notes, NoteAbout::wheel) == "Too steep and slow: a wheel saves only 2 W, do not chase one.|");
  notes.stretches[0].grade = 0.0;
  CHECK(said(notes, NoteAbout::room).starts_with("Fast at 54 km/h: leave room"));
  notes.stretches[0].speed_mps = 12.0, notes.stretches[0].falls_from_m = 300.0, notes.stretches[0].falls_m = 400.0;
  CHECK(said(notes, NoteAbout::room) ==
        "Downhill from km 0.3 for 0.4 km: leave room, brake before the bends, no one holds a wheel.|");
  CHECK(said(notes, NoteAbout::wheel).starts_with("Headwind 11 km/h, look for a wheel"));
  notes.stretches[0].falls_m = 150.0;
  CHECK(said(notes, NoteAbout::room).empty());
}

TEST_CASE("walking is told first, for whom it is, and water where it is", "[notes]") {
  RoadNotes notes = made_up();
  notes.strengths.push_back(notes.strengths[0]);
  notes.strengths[1].wished_s = 600.0;
  notes.strengths[1].walks = {{1200.0, 1500.0, 0.19, 200.0, 1.2, 26.4}};
  CHECK(said(notes, NoteAbout::walk) ==
        "For 10:00 plan to walk from km 1.2, 300 m at 19 %: the lowest gear turns only 26 times a minute.|");
  notes.strengths[0].walks = notes.strengths[1].walks;
  CHECK(said(notes, NoteAbout::walk).starts_with("Plan to walk from km 1.2, 300 m at 19 %"));
  RoadProfile profile = two_kilometres().road.profile();
  profile.landmarks[0].name = "Foot", profile.landmarks[0].water = true;
  Scenario scenario = two_kilometres();
  scenario.road = Road(profile);
  std::string water;
  for (const Note& note : all_notes(scenario, notes))
    if (note.about == NoteAbout::water) water += std::to_string(note.stretch) + " " + note.text + "|";
  CHECK(water == "0 Water at Foot, km 1.0.|");
}

TEST_CASE("recoveries of a minute and more are told in the order of the road, the judging of the day among them",
          "[notes]") {
  RoadNotes notes = made_up();
  notes.pacing.recoveries = {{1100.0, 1200.0, Easing::flat, 61.0, 500.0},
                             {1300.0, 1310.0, Easing::dip, 22.0, 100.0},
                             {1700.0, 1900.0, Easing::dip, 80.0, 900.0}};
  notes.pacing.decide_at_m = 1400.0, notes.pacing.good_day.change_W = 7.2, notes.pacing.bad_day.change_W = -12.0;
  std::string on_the_way;
  for (const Note& note : all_notes(two_kilometres(), notes))
    if (note.about == NoteAbout::recover || note.about == NoteAbout::decide) on_the_way += note.text.substr(0, 27) + "|";
  CHECK(on_the_way == "You recover from km 1.1 on,|Judge the day at km 1.4: 3 |You recover from km 1.7 on,|");
}

TEST_CASE("before the start: how the wind changes, who is strong enough, heat", "[notes]") {
  Scenario scenario = two_kilometres();
  scenario.wind.forecast = {{.time_s = 0.0, .speed_mps = 4.0, .from_rad = 1.5 * M_PI},
                            {.time_s = 240.0, .speed_mps = 7.8, .from_rad = 1.75 * M_PI},
                            {.time_s = 600.0, .speed_mps = 10.0, .from_rad = 1.75 * M_PI},
                            {.time_s = 900.0, .speed_mps = 20.0, .from_rad = 0.0}};
  RoadNotes notes = made_up();
  CHECK(notes_before(scenario, notes).at(1) == "Wind 14 km/h from W, at 4:00 28 km/h from NW, at 10:00 36 km/h from NW.");
  CHECK(notes_before(scenario, notes).size() == 3);
  notes.quickest = "Ada", notes.quickest_s = 520.0;
  CHECK(notes_before(scenario, notes).at(3) ==
        "Nobody listed is strong enough for 8:20: Ada, the quickest alone, takes about 8:40 at critical power.");
  notes.quickest_s = 510.0;
  notes.stretches[1].felt_C = 39.0;
  CHECK(
      notes_before(scenario, notes)
          .at(3)
          .starts_with(
              "Heat: it feels like up to 39 °C; it takes power, which these watts do not count. Start easier, drink early"));
  scenario.heat.on = true;
  CHECK(notes_before(scenario, notes).at(3).find("loses about 12 % of critical power, which these watts count") !=
        std::string::npos);
}

TEST_CASE("the times that are possible are named where one is not", "[notes]") {
  RoadNotes notes;
  notes.not_possible_s = 600.0, notes.possible_from_s = 1450.0;
  CHECK(times_possible(notes) == "10:00 is no time for this road: possible is 24:10 with 600 W of critical power and more");
  notes.possible_to_s = 7325.0;
  CHECK(times_possible(notes).ends_with("possible is 24:10 with 600 W of critical power to 2:02:05 with 40 W"));
}

TEST_CASE("the other times ride the same shares only where they do", "[notes]") {
  RoadNotes notes = made_up();
  notes.stretches[1].effort_share = 1.0;
  CHECK(notes_after(notes).back().ends_with("are those of a rider who takes 8:20."));
  notes.strengths.push_back({600.0, 200.0, 200.0, 600.0, {240.0, 600.0}, {201.0, 199.0}});
  CHECK(notes_after(notes).back().ends_with("who takes 8:20; the other times ride the same shares."));
  notes.strengths[1].power_W = {206.0, 197.0};
  CHECK(notes_after(notes).back().find("other shares") != std::string::npos);
}

TEST_CASE("effort is told as a share where it is another than the average", "[notes]") {
  CHECK(said(made_up(), NoteAbout::effort) ==
        "Ride your average effort, 240 W for 8:20.|Ride 104 % of your average effort, 240 W for 8:20.|");
}

TEST_CASE("what is left is told with strength only where some was spent", "[notes]") {
  RoadNotes notes = made_up();
  CHECK(said(notes, NoteAbout::left).find("and 97 % of your reserve for hard efforts") != std::string::npos);
  notes.stretches[0].wbal_share = 0.985;
  CHECK(said(notes, NoteAbout::left) == "At Foot 1.0 km are left, about 5 min of riding.|");
  notes.stretches[0].left_s = 12780.0;
  CHECK(said(notes, NoteAbout::left) == "At Foot 1.0 km are left, about 3:33 h of riding.|");
}

TEST_CASE("the day is judged on the stretch where the plan says so, and not where nothing would change", "[notes]") {
  RoadNotes notes = made_up();
  notes.pacing.decide_at_m = 1000.0;
  CHECK(said(notes, NoteAbout::decide).empty());
  notes.pacing.good_day.change_W = 7.2, notes.pacing.bad_day.change_W = -12.0;
  CHECK(said(notes, NoteAbout::decide) == "Judge the day at Foot: 3 % more if it feels easy, 5 % less if it does not.|");
  notes.pacing.decide_at_m = 1400.0;
  CHECK(said(notes, NoteAbout::decide).starts_with("Judge the day at km 1.4:"));
}

TEST_CASE("nothing takes longer to say than the road it speaks of takes, and the weightiest is kept", "[notes]") {
  const RoadNotes notes = made_up();
  const std::vector<Note> all = all_notes(two_kilometres(), notes);
  for (const double film_speed : {1.0, 10.0, 25.0, 200.0}) {
    const std::vector<Note> kept = notes_in_time(all, notes, 0, film_speed);
    double speaking[2] = {0.0, 0.0};
    for (const Note& note : kept) speaking[note.stretch] += speaking_s(note.text);
    CHECK(speaking[0] <= 200.0 / film_speed);
    CHECK(speaking[1] <= 300.0 / film_speed);
  }
  CHECK(notes_in_time(all, notes, 0).size() == all.size());
  const std::vector<Note> few = notes_in_time(all, notes, 0, 45.0);  // 4.4 s and 6.7 s
  REQUIRE(few.size() == 2);
  CHECK(few[0].about == NoteAbout::effort);
  CHECK(few[1].about == NoteAbout::effort);
  CHECK(notes_in_time(all, notes, 0, 200.0).empty());
}

TEST_CASE("captions stand where the place is that they speak of, one after the other", "[notes]") {
  RoadNotes notes = made_up();
  notes.pacing.recoveries = {{1500.0, 1700.0, Easing::flat, 61.0, 500.0}};
  notes.stretches[1].falls_from_m = 1250.0, notes.stretches[1].falls_m = 300.0;
  const std::vector<Note> said = all_notes(two_kilometres(), notes);
  for (const double film_speed : {1.0, 4.0}) {
    double before_s = 0.0;
    for (const NoteTime& time : note_times(said, notes, 0, film_speed)) {
      const Note& note = said[time.note];
      INFO(note.text << " " << time.from_s << " to " << time.to_s << " s");
      CHECK(time.from_s >= before_s);
      CHECK(time.to_s - time.from_s == Approx(speaking_s(note.text)));
      before_s = time.to_s;
      if (note.about == NoteAbout::recover) CHECK(time.from_s == Approx(350.0 / film_speed));
      if (note.about == NoteAbout::room && film_speed == 1.0) CHECK(time.to_s == Approx(275.0));
      if (note.about == NoteAbout::left) CHECK(time.to_s == Approx(200.0 / film_speed));
      if (note.about == NoteAbout::road && note.stretch == 1) CHECK(time.from_s == Approx(200.0 / film_speed));
    }
  }
  CHECK(std::count_if(said.begin(), said.end(), [](const Note& n) { return n.at_m == 1250.0; }) == 1);
}

TEST_CASE("speaking takes 0.4 s a word, twice as long for a number", "[notes]") {
  CHECK(speaking_s("look for a wheel") == Approx(1.6));
  CHECK(speaking_s("it saves 40 W") == Approx(2.0));
}

TEST_CASE("every sentence has its numbers", "[notes]") {
  for (const Note& note : all_notes(two_kilometres(), made_up())) {
    INFO(note.text);
    CHECK_FALSE(note.numbers.empty());
    if (std::any_of(note.text.begin(), note.text.end(), [](char c) { return c >= '0' && c <= '9'; }))
      CHECK(std::any_of(note.numbers.begin(), note.numbers.end(), [](const auto& n) { return n.second != 0.0; }));
  }
}
