/// Captions of what changes a group: a club's words, the reason with its numbers, and none for turns.

#include "words/event_caption.hpp"

#include <catch2/catch.hpp>

using namespace leewheel;

namespace {

const std::string names[] = {"Anouk", "Bram", "Cato", "Dirk", "Elin", "Fenn"};
const NameOf name = [](std::uint32_t rider) -> const std::string& { return names[rider]; };
std::string caption(EventKind kind, std::vector<std::uint32_t> riders, const Because& because) {
  return event_caption({kind, 60, 1000, std::move(riders), 1, because}, name);
}

}  // namespace

TEST_CASE("a caption tells who and why in a club's words", "[words]") {
  CHECK(caption(EventKind::dropped, {5}, {Reason::wheel_too_costly, 4, {302.0, 291.0}}) ==
        "Fenn loses the others: Elin's wheel asks 302 W, more than the 291 W to give.");
  CHECK(caption(EventKind::split, {3, 4, 5}, {Reason::behind_wheel, 2, {11.6, 83.0, 222.0}, 1}) ==
        "Dirk, Elin and Fenn go on in a group of their own: 12 m behind Cato, too far for shelter.");
  CHECK(caption(EventKind::formed, {0, 1, 2, 3, 4, 5}, {Reason::within_reach}) ==
        "Anouk, Bram, Cato and 3 more ride together now: close enough for a wheel.");
  CHECK(caption(EventKind::merged, {0, 1}, {Reason::groups_met, no_rider, {}, 2}) ==
        "Anouk and Bram are one group again: one group caught the other.");
  CHECK(caption(EventKind::regrouped, {0, 5}, {Reason::all_together, no_rider, {1020.0}}) ==
        "Anouk and Fenn go on together: all are there after 17 min.");
  CHECK(caption(EventKind::finished, {2}, {Reason::at_the_finish}) == "Cato is home.");
}

TEST_CASE("turns and other decisions have no caption", "[words]") {
  for (const EventKind kind : {EventKind::takes_turn, EventKind::ends_turn, EventKind::skips_turn, EventKind::follows,
                               EventKind::lets_go, EventKind::caution})
    CHECK(caption(kind, {0, 1}, {Reason::turn_begins, 1, {45.0}}).empty());
  CHECK(caption(EventKind::waits, {0, 5}, {Reason::waits_for_last}) == "Anouk waits: the first wait for the last.");
}
