#pragma once
/// Arithmetic for four riders at once: a Real4 holds one number of each of four riders in a vector register of the processor
/// (single instruction, multiple data). Arithmetic, comparisons and `condition ? a : b` work rider by rider, as the
/// compiler's vector extension has it. A function marked LEEWHEEL_EACH_CPU is built twice, for AVX2 and for any machine,
/// and the machine picks when the program starts (g++ only: clang does not take vectors from inlined functions into an
/// AVX2 clone, and builds for any machine alone). Each number is plain IEEE arithmetic, so the width changes no bit of a
/// result.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>

#if defined(__x86_64__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__) && \
    !defined(__SANITIZE_THREAD__)  // the choice runs before a sanitizer is ready
#define LEEWHEEL_EACH_CPU [[gnu::target_clones("avx2", "default")]]
#else
#define LEEWHEEL_EACH_CPU
#endif
#define LEEWHEEL_INLINE [[gnu::always_inline]] inline

namespace leewheel {

inline constexpr int riders_at_once = 4;
using Real4 = double __attribute__((vector_size(riders_at_once * sizeof(double))));
using Int4 = std::int32_t __attribute__((vector_size(riders_at_once * sizeof(std::int32_t))));

/// `count` rounded up to whole registers.
inline std::size_t padded_count(std::size_t count) { return (count + riders_at_once - 1) / riders_at_once * riders_at_once; }

LEEWHEEL_INLINE Real4 load(const double* from) {
  Real4 value;
  std::memcpy(&value, from, sizeof value);
  return value;
}
LEEWHEEL_INLINE void store(double* to, const Real4& value) { std::memcpy(to, &value, sizeof value); }
LEEWHEEL_INLINE Real4 broadcast(double value) { return Real4{value, value, value, value}; }
LEEWHEEL_INLINE Real4 max_of(const Real4& a, const Real4& b) { return a > b ? a : b; }
LEEWHEEL_INLINE Real4 min_of(const Real4& a, const Real4& b) { return a < b ? a : b; }
inline double max_of(double a, double b) { return a > b ? a : b; }
LEEWHEEL_INLINE Real4 max_of(const Real4& a, double b) { return max_of(a, broadcast(b)); }
LEEWHEEL_INLINE Real4 min_of(const Real4& a, double b) { return min_of(a, broadcast(b)); }
/// Between 0 and 1.
LEEWHEEL_INLINE Real4 clamp_0_1(const Real4& value) { return min_of(max_of(value, 0.0), 1.0); }
LEEWHEEL_INLINE Real4 square_root(const Real4& a) {
  return Real4{std::sqrt(a[0]), std::sqrt(a[1]), std::sqrt(a[2]), std::sqrt(a[3])};
}

}  // namespace leewheel
