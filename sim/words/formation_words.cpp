#include "words/formation_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace leewheel {

namespace {

constexpr std::array<FormationWords, formation_names.size()> table{{
    {"One line; turns in front as long as strength allows, longer for stronger riders.",
     "one line, turns of {turn:.0f} s on average, longer for stronger riders", "in a line"},
    {"Double paceline: short turns, smooth changes, no surges.", "double paceline, {circulate:.0f} s in front",
     "in a line, circulating"},
    {"The first rider stays in front.", "the first rider stays in front", "in a line"},
}};
static_assert(std::ranges::none_of(table, [](const FormationWords& row) { return row.rule.empty(); }),
              "a row a formation, in the order of formation_names");

}  // namespace

const FormationWords& words_of(Formation formation) { return table[static_cast<std::size_t>(formation)]; }

std::string formation_words(const GroupPlan& plan) {
  return fmt::format(fmt::runtime(words_of(plan.formation).in_plan), fmt::arg("turn", plan.turn_s),
                     fmt::arg("circulate", plan.circulate_s));
}

}  // namespace leewheel
