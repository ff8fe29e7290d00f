#pragma once
/// What each formation is called in sentences: one table, a row a formation.

#include <string>
#include <string_view>

#include "leewheel/lineup.hpp"
#include "leewheel/tactics.hpp"

namespace leewheel {

struct FormationWords {
  std::string_view rule;     ///< a sentence for riders: how the front is shared
  std::string_view in_plan;  ///< the same within a plan; `{turn}` and `{circulate}` are its times in front (s)
  std::string_view in_line;  ///< how a rider rides: "in a line"
};

const FormationWords& words_of(Formation formation);

/// How a plan shares the front, with its times: "double paceline, 20 s in front".
std::string formation_words(const GroupPlan& plan);

}  // namespace leewheel
