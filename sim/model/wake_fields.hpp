#pragma once
/// Table of a law's fields: its own, then those that every law has.

#include <algorithm>
#include <array>

#include "leewheel/wake.hpp"

namespace leewheel {

template <class Law, std::size_t own_count>
constexpr auto with_base_fields(const NumberField<Law> (&own)[own_count]) {
  const NumberField<Law> base[] = {
      {"least_factor", &Law::least_factor, 0.001, 0.5, "no rider has less drag than this share", "chosen"},
      {"calm_turbulence", &Law::calm_turbulence, 0, 1, "turbulence a rider meets outdoors on a still day", "assumed"},
      {"wake_scale", &Law::wake_scale, 0, 1.5, "factor on what drafting saves: the named uncertainty of the wake model",
       "one standard deviation is 0.15: the spread between tunnel, computation, track and field"},
  };
  std::array<NumberField<Law>, own_count + std::size(base)> all{};
  std::copy(std::begin(base), std::end(base), std::copy(std::begin(own), std::end(own), all.begin()));
  return all;
}

}  // namespace leewheel
