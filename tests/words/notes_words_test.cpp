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

TEST_CASE("effort is told as a share where it is another than the average", "[notes]") {
  CHECK(said(made_up(), NoteAbout::effort) ==
        "Ride your average effort, 240 W for 8:20.|Ride 104 % of your average effort, 240 W for 8:20.|");
}

TEST_CASE("what is left is told with strength only where some was spent", "[notes]") {
  RoadNotes notes = made_up();
  CHECK(said(notes, NoteAbout::left).find("and 97 % of what you have above critical power") != std::string::npos);
  notes.stretches[0].wbal_share = 0.985;
  CHECK(said(notes, NoteAbout::left) == "At Foot 1.0 km are left, about 5 min of riding.|");
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
