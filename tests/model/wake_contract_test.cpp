/// What every wake law keeps, whatever its coefficients: run over all laws of the closed list.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>
#include <vector>

#include "leewheel/wake.hpp"
#include "support/riders_in_air.hpp"

using namespace leewheel;
using namespace leewheel::riders_in_air;

namespace {

constexpr int groups_each = 500;
constexpr int draws = 40;  // sets of coefficients

/// The law as shipped, and with coefficients drawn from the ranges of its table.
template <class Law>
std::vector<WakeLaw> shipped_and_drawn() {
  std::vector<WakeLaw> laws{Law{}};
  Chance chance(3);
  for (int k = 0; k < draws; ++k) {
    Law law;
    for (const auto& field : Law::fields()) law.*field.member = chance.between(field.lowest, field.highest);
    laws.push_back(law);
  }
  return laws;
}

double largest_difference(const std::vector<double>& a, const std::vector<double>& b) {
  double largest = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) largest = std::max(largest, std::abs(a[i] - b[i]));
  return largest;
}

/// Largest difference of drag and side factors over groups drawn for each of these laws between the group and what `changed`
/// makes of it, both in the order of the group.
template <class Changed>
double largest_change(const std::vector<WakeLaw>& laws, std::uint32_t seed, const Changed& changed) {
  Chance chance(seed);
  double largest = 0.0;
  for (const WakeLaw& law : laws)
    for (int k = 0; k < groups_each; ++k) {
      const Field field = chance.group();
      const Factors before = factors_of(law, field), after = factors_of(law, changed(field, chance));
      largest =
          std::max({largest, largest_difference(before.drag, after.drag), largest_difference(before.side, after.side)});
    }
  return largest;
}

/// A group, then one more rider at the end of the columns.
Field with_newcomer(Field field, double x_m, double y_m) {
  field.add(x_m, y_m, 0.4, field.air_along[0], field.air_cross[0], field.turbulence[0]);
  return field;
}

}  // namespace

TEMPLATE_LIST_TEST_CASE("a wake law keeps its contract", "[wake]", WakeLaw) {
  const std::vector<WakeLaw> laws = shipped_and_drawn<TestType>();
  const WakeLaw shipped = TestType{};
  Chance chance(7);

  SECTION("its name is its own, and its table lists every coefficient once, with the default in range") {
    CHECK(std::count(wake_law_names.begin(), wake_law_names.end(), TestType::name) == 1);
    CHECK(TestType::fields().size() * sizeof(double) == sizeof(TestType));
    for (const auto& field : TestType::fields()) {
      INFO(field.name);
      CHECK(TestType{}.*field.member >= field.lowest);
      CHECK(TestType{}.*field.member <= field.highest);
      CHECK(std::count_if(TestType::fields().begin(), TestType::fields().end(),
                          [&](const auto& other) { return other.member == field.member; }) == 1);
    }
  }
  SECTION("a rider alone has the drag and side force of a rider alone") {
    for (const WakeLaw& law : laws)
      for (const double speed_mps : {-5.0, 0.0, 9.0}) {
        Field field;
        field.add(0.0, 1.0, 0.3, speed_mps, 4.0, 0.1);
        const Factors f = factors_of(law, field);
        CHECK(f.drag[0] == 1.0);
        CHECK(f.side[0] == 1.0);
        CHECK(f.links.empty());
      }
  }
  SECTION("someone is sheltered: a wheel close ahead saves a fifth of the drag or more") {
    CHECK(factors_of(shipped, line(2, 0.3)).drag[1] <= 0.8);
  }
  SECTION("far away there is no effect") {
    for (const WakeLaw& law : laws) {
      const Factors f = factors_of(law, line(3, 1000.0));
      CHECK(f.drag == std::vector<double>{1.0, 1.0, 1.0});
      CHECK(f.side == std::vector<double>{1.0, 1.0, 1.0});
      CHECK(f.links.empty());
    }
  }
  SECTION("beyond its reach there is no effect at all, ahead, behind or aside") {
    for (const WakeLaw& law : laws)
      for (int k = 0; k < groups_each / 5; ++k) {
        const Field field = chance.group();
        const double first_m = *std::max_element(field.along.begin(), field.along.end()),
                     last_m = *std::min_element(field.along.begin(), field.along.end()),
                     leftmost_m = *std::max_element(field.across.begin(), field.across.end());
        const WakeReach reach = reach_of(law, with_newcomer(field, 0.0, 0.0));
        const auto beyond = [](double reach_m) { return reach_m * (1.0 + 1e-9) + 1e-9; };
        const Factors alone = factors_of(law, field);
        const Factors behind = factors_of(law, with_newcomer(field, last_m - beyond(reach.behind_m), 0.0));
        const Factors ahead = factors_of(law, with_newcomer(field, first_m + beyond(reach.ahead_m), 0.0));
        const Factors aside = factors_of(law, with_newcomer(field, 0.0, leftmost_m + beyond(reach.across_m)));
        if (behind.drag.back() != 1.0 || behind.side.back() != 1.0) FAIL("a rider behind the reach has a draft");
        if (ahead.drag.back() != 1.0 || ahead.side.back() != 1.0) FAIL("a rider ahead of the reach has a help");
        if (aside.drag.back() != 1.0 || aside.side.back() != 1.0) FAIL("a rider beside the reach has a draft");
        const std::vector<double> others(aside.drag.begin(), aside.drag.end() - 1);
        if (others != alone.drag) FAIL("a rider beside the reach matters to the group");
      }
  }
  SECTION("drag is never below the least factor nor above 1.1, and always a number, moving or not") {
    for (const WakeLaw& law : laws)
      for (int k = 0; k < groups_each; ++k) {
        Field field = chance.group();
        if (k % 4 == 0) std::fill(field.air_along.begin(), field.air_along.end(), 0.0);
        if (k % 8 == 0) std::fill(field.air_cross.begin(), field.air_cross.end(), 0.0);
        const Factors f = factors_of(law, field);
        for (const double drag : f.drag)
          if (!(drag >= wake_base(law).least_factor && drag <= 1.1)) FAIL("drag " << drag);
        for (const double side : f.side)
          if (!std::isfinite(side) || side > 1.0) FAIL("side force " << side);
      }
  }
  SECTION("as shipped, the side force is never below nothing") {
    for (int k = 0; k < groups_each; ++k)
      for (const double side : factors_of(shipped, chance.group()).side)
        if (!(side > 0.0)) FAIL("side force " << side);
  }
  SECTION("mirroring road and wind changes nothing") {
    CHECK(largest_change(laws, 11, [](Field mirrored, Chance&) {
            for (double& y : mirrored.across) y = -y;
            for (double& c : mirrored.air_cross) c = -c;
            return mirrored;
          }) <= 1e-9);
  }
  SECTION("moving everyone up the road changes nothing") {
    CHECK(largest_change({shipped}, 13, [](Field moved, Chance&) {
            for (double& x : moved.along) x += 1234.5;
            return moved;
          }) <= 1e-9);
  }
  SECTION("a small move makes a small change") {  // a jump of 0.001 would show as 10000 a metre
    CHECK(largest_change({shipped}, 31, [](Field moved, Chance& by) {
            for (double& x : moved.along) x += by.between(-1e-7, 1e-7);
            for (double& y : moved.across) y += by.between(-1e-7, 1e-7);
            return moved;
          }) < 20.0 * 1e-7);
  }
  SECTION("the order in which riders are given changes nothing, side by side or not") {
    for (const WakeLaw& law : laws)
      for (int k = 0; k < groups_each; ++k) {
        Field field = chance.group();
        for (double& x : field.along) x = std::round(x);  // so that some are level
        std::vector<std::size_t> order(field.size());
        std::iota(order.begin(), order.end(), 0u);
        for (std::size_t i = order.size() - 1; i > 0; --i) std::swap(order[i], order[chance.up_to(i)]);
        const Factors a = factors_of(law, field), b = factors_of(law, field.picked(order));
        for (std::size_t i = 0; i < field.size(); ++i)
          if (std::abs(a.drag[order[i]] - b.drag[i]) > 1e-9) FAIL("drag depends on the order of the input");
      }
  }
  SECTION("swapping two identical riders swaps their factors and nothing else") {
    for (const WakeLaw& law : laws) {
      Field field = chance.group();
      const std::size_t a = 0, b = field.size() - 1;
      field.area[b] = field.area[a], field.air_along[b] = field.air_along[a], field.air_cross[b] = field.air_cross[a];
      Factors before = factors_of(law, field);
      std::swap(field.along[a], field.along[b]);
      std::swap(field.across[a], field.across[b]);
      std::swap(before.drag[a], before.drag[b]);
      CHECK(largest_difference(before.drag, factors_of(law, field).drag) <= 1e-9);
    }
  }
  SECTION("wake_scale multiplies what is saved; at nothing nobody saves") {
    for (int k = 0; k < groups_each; ++k) {
      const Field field = chance.group();
      WakeLaw half = shipped, none = shipped;
      wake_base(half).wake_scale = 0.5;
      wake_base(none).wake_scale = 0.0;
      const Factors whole = factors_of(shipped, field), halved = factors_of(half, field), no = factors_of(none, field);
      for (std::size_t i = 0; i < field.size(); ++i) {
        const bool saves = whole.drag[i] < 1.0 && whole.drag[i] > wake_base(shipped).least_factor;
        if (saves && std::abs(1.0 - halved.drag[i] - 0.5 * (1.0 - whole.drag[i])) > 1e-12) FAIL("not halved");
        if (no.drag[i] < 1.0) FAIL("saves without a scale");
      }
    }
  }
  SECTION("the shares of those who shelter a rider sum to one, and whoever is well sheltered has someone to thank") {
    std::size_t thanked = 0;
    for (int k = 0; k < groups_each; ++k) {
      const Field field = chance.group();
      const Factors f = factors_of(shipped, field);
      const std::vector<std::size_t> order = by_distance(field);
      std::vector<double> sum(field.size(), 0.0);
      for (const WakeLink& link : f.links) {
        if (!(link.share >= 0.0 && link.share <= 1.0 + 1e-9) || link.giver == link.receiver)
          FAIL("a share of " << link.share);
        sum[link.receiver] += link.share;
      }
      for (std::size_t at = 0; at < order.size(); ++at) {
        thanked += sum[at] > 0.0;
        if (sum[at] > 0.0 ? std::abs(sum[at] - 1.0) > 1e-12 : f.drag[order[at]] < 0.7) FAIL("shares sum to " << sum[at]);
      }
    }
    CHECK(thanked > 1000);
  }
}
