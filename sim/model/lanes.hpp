#pragma once
/// Four riders side by side in one vector register. Arithmetic, comparisons and `condition ? a : b` work lane by lane, as
/// the compiler's vector extension has it; a function marked LEEWHEEL_WIDE is built for wide registers and for any
/// machine, and the machine picks (g++ only: clang does not take vectors from functions in place into a wide clone, and
/// builds for any machine alone). Each lane is plain IEEE arithmetic, so the width changes no bit of a result.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>

#if defined(__x86_64__) && !defined(__clang__) && \
    !defined(__SANITIZE_ADDRESS__)  // the choice runs before the sanitizer is ready
#define LEEWHEEL_WIDE [[gnu::target_clones("avx2", "default")]]
#else
#define LEEWHEEL_WIDE
#endif
#define LEEWHEEL_IN_PLACE [[gnu::always_inline]] inline

namespace leewheel {

inline constexpr int lanes = 4;
using Lanes = double __attribute__((vector_size(lanes * sizeof(double))));
using LaneCells = std::int32_t __attribute__((vector_size(lanes * sizeof(std::int32_t))));

/// Room for `count` riders in whole registers.
inline std::size_t filled_up(std::size_t count) { return (count + lanes - 1) / lanes * lanes; }

LEEWHEEL_IN_PLACE Lanes load(const double* from) {
  Lanes value;
  std::memcpy(&value, from, sizeof value);
  return value;
}
LEEWHEEL_IN_PLACE void store(double* to, const Lanes& value) { std::memcpy(to, &value, sizeof value); }
LEEWHEEL_IN_PLACE Lanes all(double value) { return Lanes{value, value, value, value}; }
LEEWHEEL_IN_PLACE Lanes larger(const Lanes& a, const Lanes& b) { return a > b ? a : b; }
LEEWHEEL_IN_PLACE Lanes smaller(const Lanes& a, const Lanes& b) { return a < b ? a : b; }
inline double larger(double a, double b) { return a > b ? a : b; }
LEEWHEEL_IN_PLACE Lanes larger(const Lanes& a, double b) { return larger(a, all(b)); }
LEEWHEEL_IN_PLACE Lanes smaller(const Lanes& a, double b) { return smaller(a, all(b)); }
/// Between 0 and 1.
LEEWHEEL_IN_PLACE Lanes share(const Lanes& value) { return smaller(larger(value, 0.0), 1.0); }
LEEWHEEL_IN_PLACE Lanes root(const Lanes& a) {
  return Lanes{std::sqrt(a[0]), std::sqrt(a[1]), std::sqrt(a[2]), std::sqrt(a[3])};
}

}  // namespace leewheel
