/// How rules are asked: how long they must hold, what follows, which row comes first.

#include <vector>

#include "riding/scene.hpp"

using namespace leewheel;
using namespace leewheel::riding;
using namespace leewheel::riding::scenes;

namespace {

Answer upper_says, lower_says;
std::vector<char> acted;
int lower_asked;

Answer upper(const View&) { return upper_says; }
Answer lower(const View&) {
  ++lower_asked;
  return lower_says;
}
void do_upper(const View&, const Answer&, Proposal&) { acted.push_back('u'); }
void do_lower(const View&, const Answer&, Proposal&) { acted.push_back('l'); }

constexpr Answer yes{true}, no{}, off{false, {}, nobody, true};

/// A second of two rows; the clocks go on from the last second.
void ask(Scene& scene, std::span<const Rule> rows) {
  acted.clear();
  lower_asked = 0;
  scene.let(0, [&](const View& view, Proposal& proposal) { follow_rules(rows, view, proposal); });
  scene.memory = scene.next;
  scene.time_s += 1.0;
}

constexpr Rule at_once[] = {{upper, nullptr, {}, do_upper}, {lower, nullptr, {}, do_lower}};
constexpr Rule lasting[] = {{upper, &TacticsSettings::dwell_s, Clock::in_gutter, do_upper},
                            {lower, &TacticsSettings::dwell_s, Clock::faster, do_lower}};
constexpr Rule going_on[] = {{upper, nullptr, {}, do_upper, true}, {lower, nullptr, {}, do_lower}};

}  // namespace

TEST_CASE("a rule that must last acts in the second in which it has held for dwell_s, and not one sooner", "[rules]") {
  Scene scene(1);
  upper_says = yes, lower_says = no;
  for (int second = 0; second < 8; ++second) {
    ask(scene, lasting);
    CHECK(acted.empty());
  }
  ask(scene, lasting);
  CHECK(acted == std::vector<char>{'u'});
}

TEST_CASE("one second in which the rule does not hold starts its clock afresh", "[rules]") {
  Scene scene(1);
  upper_says = yes, lower_says = no;
  for (int second = 0; second < 8; ++second) ask(scene, lasting);
  upper_says = no;
  ask(scene, lasting);
  upper_says = yes;
  for (int second = 0; second < 8; ++second) {
    ask(scene, lasting);
    CHECK(acted.empty());
  }
  ask(scene, lasting);
  CHECK(acted == std::vector<char>{'u'});
}

TEST_CASE("two rules that hold at the same time keep clocks of their own", "[rules]") {
  Scene scene(1);
  upper_says = no, lower_says = yes;
  for (int second = 0; second < 4; ++second) ask(scene, lasting);
  upper_says = yes;
  for (int second = 4; second < 8; ++second) ask(scene, lasting);
  CHECK(acted.empty());
  ask(scene, lasting);
  CHECK(acted == std::vector<char>{'l'});
}

TEST_CASE("the first row that holds is acted on, and the rows below are not asked", "[rules]") {
  Scene scene(1);
  upper_says = lower_says = yes;
  ask(scene, at_once);
  CHECK(acted == std::vector<char>{'u'});
  CHECK(lower_asked == 0);
  upper_says = no;
  ask(scene, at_once);
  CHECK(acted == std::vector<char>{'l'});
}

TEST_CASE("below a row that goes on the others are asked all the same, below any other not", "[rules]") {
  Scene scene(1);
  upper_says = lower_says = yes;
  ask(scene, going_on);
  CHECK(acted == std::vector<char>{'u', 'l'});
}

TEST_CASE("an answer that holds off stops the rows below although it does not act", "[rules]") {
  Scene scene(1);
  upper_says = off, lower_says = yes;
  ask(scene, at_once);
  CHECK(acted.empty());
  CHECK(lower_asked == 0);
  upper_says = {true, {}, nobody, true};
  ask(scene, going_on);
  CHECK(acted == std::vector<char>{'u'});
  CHECK(lower_asked == 0);
}

TEST_CASE("a new role starts its time, an old one goes on; clocks, side and easing begin afresh either way", "[rules]") {
  Memory next;
  next.role = Role::following;
  next.role_since_s = 50.0;
  next.wheel = 3;
  next.side = 1;
  next.eases_for_group = next.keeps_whole = true;
  next.since_s.fill(40.0);
  const Because why{Reason::on_wheel, 3};
  become(next, Role::following, why, 100.0);
  CHECK(next.role_since_s == 50.0);
  CHECK(next.why == why);
  CHECK(next.side == 0);
  CHECK_FALSE(next.eases_for_group);
  CHECK_FALSE(next.keeps_whole);
  for (const double since_s : next.since_s) CHECK(since_s == stopped);
  CHECK(next.wheel == 3);
  become(next, Role::chasing, why, 100.0);
  CHECK(next.role_since_s == 100.0);
  CHECK(next.wheel == 3);
}

TEST_CASE("a pass goes on for who rides alone or comes to lead, and ends with any other role", "[rules]") {
  for (const Role role :
       {Role::alone, Role::front, Role::following, Role::chasing, Role::drifting_back, Role::waiting, Role::finished}) {
    INFO(role_names[static_cast<std::size_t>(role)]);
    Memory next;
    next.side = +1;
    become(next, role, {}, 100.0);
    CHECK(next.side == (role == Role::alone || role == Role::front ? +1 : 0));
  }
}

TEST_CASE("a role without a wheel gives the wheel up", "[rules]") {
  const Role role = GENERATE(Role::alone, Role::front, Role::drifting_back, Role::waiting);
  Memory next;
  next.role = Role::following;
  next.wheel = 3;
  become(next, role, {}, 100.0);
  CHECK(next.wheel == nobody);
}
