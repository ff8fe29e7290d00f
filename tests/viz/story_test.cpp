/// The story as lines: turns in one line each and folded, what is heavy, captions, and films that slow down.

#include "viz/view/story.hpp"

#include <catch2/catch.hpp>

#include "synthetic_ride.hpp"

using namespace leewheel;
using namespace leewheel::view;

namespace {

TraceHead with(std::vector<Event> events) {
  TraceHead head = synthetic::head(synthetic::six);
  head.events = std::move(events);
  return head;
}

Event ends(double time_s, std::uint32_t who, std::uint32_t next) {
  return {EventKind::ends_turn, time_s, 8 * time_s, {who, next}, 1, {Reason::turn_over, next, {45.0}}};
}
Event takes(double time_s, std::uint32_t who, std::uint32_t from) {
  return {EventKind::takes_turn, time_s, 8 * time_s, {who, from}, 1, {Reason::turn_begins, from, {49.0}}};
}
Event dropped(double time_s) { return {EventKind::dropped, time_s, 8 * time_s, {5}, 1, {Reason::gap_opened, 4}}; }

}  // namespace

TEST_CASE("a turn is one line: who takes over from whom", "[story]") {
  const auto lines = story_lines(with({ends(47, 1, 3), takes(47, 3, 1), dropped(60)}), Units::metric);
  REQUIRE(lines.size() == 2);
  CHECK(lines[0].words == "Dirk takes over from Bram at 0.38 km: in front for 49 s");
  CHECK(lines[0].caption.empty());
  CHECK_FALSE(lines[0].heavy);
  CHECK(lines[1].heavy);
  CHECK(lines[1].parts);
  CHECK(lines[1].caption == "Fenn loses the others: the gap to Elin opened.");
}

TEST_CASE("three turns or more with nothing between them are one line", "[story]") {
  std::vector<Event> events;
  for (std::uint32_t k = 0; k < 4; ++k)
    events.push_back(ends(50 + 40 * k, k, k + 1)), events.push_back(takes(50 + 40 * k, k + 1, k));
  events.insert(events.begin() + 4, {EventKind::sits_in, 95, 760, {3, 2}, 1, {Reason::cannot_pull, 2, {5.0}}});
  events.push_back(dropped(300));
  events.push_back(takes(310, 0, 4)), events.push_back(takes(350, 1, 0));
  const auto lines = story_lines(with(events), Units::metric);
  REQUIRE(lines.size() == 4);
  CHECK(lines[0].words == "4 turns from 0.40 km to 1.36 km: Bram, Cato, Dirk and Elin");
  CHECK(lines[0].from_s == 50.0);
  CHECK(lines[0].to_s == 170.0);
  CHECK(lines[2].words == "Anouk takes over from Elin at 2.48 km: in front for 49 s");
  CHECK(current_line(lines, 49.0) == std::nullopt);
  CHECK(current_line(lines, 100.0) == 0);
  CHECK(current_line(lines, 310.0) == 2);
}

TEST_CASE("splits, merges, waits and finishes are heavy, nothing else", "[story]") {
  std::vector<Event> events;
  for (std::size_t k = 0; k < event_names.size(); ++k)
    events.push_back({static_cast<EventKind>(k), 10.0 * static_cast<double>(k), 0, {0, 1}, 1, {Reason::gap_opened, 1}});
  std::string heavy;
  for (const StoryLine& line : story_lines(with(events), Units::metric))
    if (line.heavy) heavy += std::string(event_names[static_cast<std::size_t>(line.from_s / 10.0)]) + " ";
  CHECK(heavy == "joined dropped pulled_away split merged finished waits regrouped leaves ");
}

TEST_CASE("a caption stands for five seconds of a person's time", "[story]") {
  const auto lines = story_lines(with({dropped(60), takes(70, 1, 0)}), Units::metric);
  CHECK(caption_at(lines, 59.0, 8.0).empty());
  CHECK(caption_at(lines, 60.0, 8.0) == lines[0].caption);
  CHECK(caption_at(lines, 99.0, 8.0) == lines[0].caption);  // over a turn, which has none
  CHECK(caption_at(lines, 101.0, 8.0).empty());
  CHECK(caption_at(lines, 66.0, 1.0).empty());
}

TEST_CASE("a film slows down where riders part, and only there", "[story]") {
  const auto lines = story_lines(with({takes(20, 1, 0), dropped(60), dropped(61)}), Units::metric);
  const auto times = film_times(lines, 0.0, 120.0, 8.0, 30.0);
  // Slow from 58 s to 66 s: a quarter of the speed, so 4 s of film instead of 1; the second split lies within the first's.
  CHECK(times.size() == 218 + 118 + 203);
  CHECK(times[1] - times[0] == Approx(8.0 / 30));
  CHECK(times.back() == Approx(120.0).margin(8.0 / 30));
  for (std::size_t k = 1; k < times.size(); ++k)
    CHECK(times[k] - times[k - 1] == Approx(times[k - 1] >= 58.0 && times[k - 1] < 66.0 ? 2.0 / 30 : 8.0 / 30).margin(1e-6));
  CHECK(film_times(lines, 0.0, 120.0, 1.0, 30.0).size() == 3601);
  CHECK(film_times({}, 10.0, 11.0, 8.0, 30.0).size() == 4);
}
