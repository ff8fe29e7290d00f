#pragma once
/// Reading the `given` part of a row: single numbers, lists, and the pieces that several kinds share.

#include <vector>

#include "io/yaml_reader.hpp"
#include "leewheel/motion.hpp"

namespace leewheel::evidence {

inline constexpr Range any_number{-1e12, 1e12};
inline constexpr Range not_negative{0.0, 1e12};
inline constexpr Range positive{0.0, 1e12, true};

double needed(YamlMap& map, std::string_view key, const Range& range);
double optional(YamlMap& map, std::string_view key, const Range& range, double otherwise);
bool yes_no(YamlMap& map, std::string_view key, bool otherwise);

/// One number or a list of them (at least one when the key is given).
std::vector<double> number_list(const YamlValue& value, const Range& range);

/// Air over the ground in the frame of the road, `wind: {...}`: head_mps and cross_mps, or speed_mps with off_nose_deg
/// (where it comes from, clockwise from straight ahead), or speed_mps with from_deg and heading_deg. Calm if not given.
struct GivenWind {
  double along_mps = 0.0;  ///< > 0 pushes
  double cross_mps = 0.0;  ///< towards the left
};
GivenWind read_wind(YamlMap& given);

/// Rider, road and air of the power equation. `mass_kg` and `drag_area_m2` must be there.
RoadLoad read_load(YamlMap& given);

}  // namespace leewheel::evidence
