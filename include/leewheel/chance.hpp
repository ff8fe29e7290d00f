#pragma once
/// Counter-based random numbers: the same seed, rider, moment and purpose give the same number in any order. Public,
/// because days, gusts and efforts are drawn with it: code that rides many times derives seeds by the same functions.

#include <cmath>
#include <cstdint>
#include <numbers>
#include <string_view>

namespace leewheel {

enum class Purpose : std::uint64_t { effort = 1, gust = 2, draw = 3 };

/// Finaliser of SplitMix64 (Steele, Lea & Flood 2014, OOPSLA '14, p. 453).
inline std::uint64_t mix64(std::uint64_t z) {
  z += 0x9e3779b97f4a7c15u;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return z ^ (z >> 31);
}

/// FNV-1a of the name: a rider's random numbers depend on the name, not on the place in the file.
inline std::uint64_t hash_name(std::string_view name) {
  std::uint64_t hash = 0xcbf29ce484222325u;
  for (const char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3u;
  return hash;
}

inline std::uint64_t chance_bits(std::uint64_t seed, std::uint64_t who, std::uint64_t when, Purpose purpose) {
  return mix64(mix64(mix64(seed ^ mix64(static_cast<std::uint64_t>(purpose))) ^ who) ^ when);
}

/// Uniform in (0, 1).
inline double chance_uniform(std::uint64_t seed, std::uint64_t who, std::uint64_t when, Purpose purpose) {
  return (static_cast<double>(chance_bits(seed, who, when, purpose) >> 11) + 0.5) * 0x1.0p-53;
}

/// Standard normal, Box & Muller 1958, Ann. Math. Stat. 29:610.
inline double chance_normal(std::uint64_t seed, std::uint64_t who, std::uint64_t when, Purpose purpose) {
  const double u = chance_uniform(seed, who, 2 * when, purpose), v = chance_uniform(seed, who, 2 * when + 1, purpose);
  return std::sqrt(-2.0 * std::log(u)) * std::cos(2.0 * std::numbers::pi * v);
}

}  // namespace leewheel
