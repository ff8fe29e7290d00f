#include "leewheel/wind.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace leewheel {
namespace {

constexpr double forecast_height_m = 10.0;
constexpr double forecast_roughness_m = 0.03;  // open land, the exposure of a weather station (WMO-No. 8)
constexpr double blending_height_m = 60.0;     // where the wind no longer feels the local land (Wieringa 1986, QJRMS 112:867)
constexpr double table_height_m = 1.2;         // height of the intensities in the table

// The standard deviation of the wind along its mean is 2.5 u* at any height of the neutral surface layer, so that over
// u = (u*/0.4) ln(z/z0) the intensity is 1/ln(z/z0): EN 1991-1-4 eq. 4.7. The standard stops the growth below its z_min
// (1 to 10 m by category); we go on down to the rider, as the log law itself does, but not beyond the standard's largest
// value, 0.434 (category IV at z_min): gust factors measured at 2 m, 1.6 to 1.95 (Harper, Kepert & Ginger 2010,
// WMO/TD-1555), leave no room for more.
double surface_layer_intensity(double roughness_m) {
  constexpr double largest = 0.434;
  return std::min(1.0 / std::log(table_height_m / roughness_m), largest);
}

// Roughness by class: Davenport's classes as revised by Wieringa 1992, J Wind Eng Ind Aerodyn 41:357. Where obstacles
// stand above the rider, their height H gives z0 = H/10 and d = 0.7 H (common rules, from memory).
const std::array<ExposureAir, exposure_names.size()>& exposure_table() {
  static const std::array<ExposureAir, exposure_names.size()> table{{
      {0.03, 0.0, 0.0, surface_layer_intensity(0.03), "class open, Wieringa 1992; intensity EN 1991-1-4 eq. 4.7 at 1.2 m"},
      {0.10, 0.0, 0.0, surface_layer_intensity(0.10),
       "class roughly open, Wieringa 1992; intensity EN 1991-1-4 eq. 4.7 at 1.2 m"},
      {0.25, 0.0, 0.0, surface_layer_intensity(0.25),
       "class rough, Wieringa 1992; intensity held at EN 1991-1-4's largest"},
      {0.50, 3.5, 0.25, surface_layer_intensity(0.50),
       "class very rough, Wieringa 1992, houses of 5 m; share of the wind among them assumed"},
      {1.50, 10.5, 0.11, 0.70,
       "trees of 15 m (assumed); share Albini & Baughman 1979, USDA INT-221 (8-14 % under closed forest, of the wind 20 ft "
       "above it); intensity from memory (0.5-1 below canopies)"},
  }};
  return table;
}

// Mean over each node and `half_window` nodes to both sides of it, fewer at the ends.
std::vector<double> moving_mean(const std::vector<double>& values, std::size_t half_window) {
  std::vector<double> sum_before(values.size() + 1, 0.0);
  for (std::size_t i = 0; i < values.size(); ++i) sum_before[i + 1] = sum_before[i] + values[i];
  std::vector<double> means(values.size());
  for (std::size_t i = 0; i < values.size(); ++i) {
    const std::size_t from = i > half_window ? i - half_window : 0;
    const std::size_t to = std::min(i + half_window + 1, values.size());
    means[i] = (sum_before[to] - sum_before[from]) / static_cast<double>(to - from);
  }
  return means;
}

// `value_of` each node's exposure, following a change only over the given length.
template <class ValueOf>
std::vector<double> followed(const std::vector<Exposure>& exposures, std::size_t half_window, ValueOf value_of) {
  std::vector<double> values(exposures.size());
  std::transform(exposures.begin(), exposures.end(), values.begin(), value_of);
  return moving_mean(values, half_window);
}

}  // namespace

Eigen::Vector2d wind_enu_mps(double speed_mps, double from_rad) {
  return {-speed_mps * std::sin(from_rad), -speed_mps * std::cos(from_rad)};
}

double log_law_ratio(double height_m, double roughness_m, double displacement_m, double reference_m) {
  assert(height_m - displacement_m > roughness_m && reference_m - displacement_m > roughness_m);
  return std::log((height_m - displacement_m) / roughness_m) / std::log((reference_m - displacement_m) / roughness_m);
}

const ExposureAir& exposure_air(Exposure exposure) { return exposure_table()[static_cast<std::size_t>(exposure)]; }

double rider_height_ratio(Exposure exposure, double height_m) {
  const ExposureAir& land = exposure_air(exposure);
  const double tops_m = land.displacement_m + 3.0 * land.roughness_m;  // H, by the rules of the table
  if (land.canopy_fraction > 0.0 && height_m < tops_m) return land.canopy_fraction;
  return log_law_ratio(blending_height_m, forecast_roughness_m, 0.0, forecast_height_m) *
         log_law_ratio(height_m, land.roughness_m, land.displacement_m, blending_height_m);
}

std::span<const NumberField<WindSettings>> wind_fields() {
  static constexpr NumberField<WindSettings> fields[] = {
      {"rider_height_m", &WindSettings::rider_height_m, 0.5, 2.5, "mean height of a rider's frontal area", "assumed"},
      {"change_length_m", &WindSettings::change_length_m, 0.0, 1000.0,
       "length of road over which the wind follows a change of exposure", "assumed"},
  };
  return fields;
}

Wind::Wind(const WindSettings& settings, const Road& road) : nodes_per_m_(1.0 / road.spacing_m()) {
  assert(!settings.forecast.empty());
  for (const ForecastPoint& point : settings.forecast) {
    assert(forecast_time_s_.empty() || point.time_s >= forecast_time_s_.back());
    forecast_time_s_.push_back(point.time_s);
    forecast_enu_mps_.push_back(wind_enu_mps(point.speed_mps, point.from_rad));
  }

  const RoadProfile& profile = road.profile();
  const auto half_window = static_cast<std::size_t>(std::lround(0.5 * settings.change_length_m * nodes_per_m_));
  const auto ratio = [&](Exposure exposure) { return rider_height_ratio(exposure, settings.rider_height_m); };
  const auto intensity = [](Exposure exposure) { return exposure_air(exposure).turbulence_intensity; };
  const std::vector<double> ratio_left = followed(profile.exposure_left, half_window, ratio);
  const std::vector<double> ratio_right = followed(profile.exposure_right, half_window, ratio);
  const std::vector<double> intensity_left = followed(profile.exposure_left, half_window, intensity);
  const std::vector<double> intensity_right = followed(profile.exposure_right, half_window, intensity);
  for (std::size_t i = 0; i < ratio_left.size(); ++i)
    nodes_.push_back({.heading_sin = std::sin(profile.heading_rad[i]),
                      .heading_cos = std::cos(profile.heading_rad[i]),
                      .ratio_mean = 0.5 * (ratio_left[i] + ratio_right[i]),
                      .ratio_half_difference = 0.5 * (ratio_right[i] - ratio_left[i]),
                      .turbulence_intensity = 0.5 * (intensity_left[i] + intensity_right[i])});
}

Wind::Place Wind::place(double distance_m) const {
  const double last = static_cast<double>(nodes_.size() - 1);
  const double position = std::min(std::max(distance_m * nodes_per_m_, 0.0), last);
  const std::size_t i = std::min(static_cast<std::size_t>(position), nodes_.size() - 2);
  return {&nodes_[i], position - static_cast<double>(i)};
}

RoadWind Wind::at(double distance_m, const Eigen::Vector2d& forecast_enu_mps) const {
  const auto [node, share] = place(distance_m);
  return at(static_cast<std::size_t>(node - nodes_.data()), share, forecast_enu_mps);
}

RoadWind Wind::at(double distance_m, double time_s) const { return at(distance_m, forecast_enu_mps(time_s)); }

Eigen::Vector2d Wind::forecast_enu_mps(double time_s) const {
  const auto next = std::upper_bound(forecast_time_s_.begin(), forecast_time_s_.end(), time_s);
  if (next == forecast_time_s_.begin()) return forecast_enu_mps_.front();
  if (next == forecast_time_s_.end()) return forecast_enu_mps_.back();
  const auto i = static_cast<std::size_t>(next - forecast_time_s_.begin());
  const double share = (time_s - forecast_time_s_[i - 1]) / (forecast_time_s_[i] - forecast_time_s_[i - 1]);
  return (1.0 - share) * forecast_enu_mps_[i - 1] + share * forecast_enu_mps_[i];
}

double Wind::turbulence_intensity(double distance_m) const {
  const auto [node, share] = place(distance_m);
  return node[0].turbulence_intensity + share * (node[1].turbulence_intensity - node[0].turbulence_intensity);
}

ApparentWind apparent_wind(double ground_speed_mps, const RoadWind& wind) {
  const double along_mps = ground_speed_mps - wind.along_mps;
  const double cross_mps = wind.cross_mps;
  return {.along_mps = along_mps,
          .cross_mps = cross_mps,
          .speed_mps = std::sqrt(along_mps * along_mps + cross_mps * cross_mps),
          .yaw_rad = std::atan2(std::abs(cross_mps), along_mps)};
}

}  // namespace leewheel
