#pragma once
/// A number in a settings struct, described once: its name (the key in YAML), range, unit, meaning and source.
/// Readers, commented starter files and the docs walk these tables, so a setting is added in one place.

#include <limits>

namespace leewheel {

template <class Settings>
struct NumberField {
  const char* name;              ///< member name and YAML key, unit included
  double Settings::*member;      ///< where it is stored
  double lowest;                 ///< smallest value accepted
  double highest;                ///< largest value accepted
  const char* meaning;           ///< one line for a rider
  const char* source;            ///< author and year, "common practice, no source", or "assumed"
  bool lowest_excluded = false;  ///< true: the value must exceed `lowest`
};

inline constexpr double no_limit = std::numeric_limits<double>::max();

}  // namespace leewheel
