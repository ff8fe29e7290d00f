#include "leewheel/wind.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "leewheel/units.hpp"

namespace leewheel {
namespace {

constexpr double forecast_height_m = 10.0;   // all forecasts are brought to it
constexpr double largest_intensity = 0.434;  // EN 1991-1-4, category IV at its z_min
constexpr double knot_m = 10.0;
constexpr std::size_t sectors = 24;            // of 15 degrees
constexpr double forecast_roughness_m = 0.03;  // open land, the exposure of a weather station (WMO-No. 8)
constexpr double blending_height_m = 60.0;  // where the wind no longer feels the local land (Wieringa 1986, QJRMS 112:867)
constexpr double table_height_m = 1.2;      // height of the intensities in the table

// The standard deviation of the wind along its mean is 2.5 u* at any height of the neutral surface layer, so that over
// u = (u*/0.4) ln(z/z0) the intensity is 1/ln(z/z0): EN 1991-1-4 eq. 4.7. The standard stops the growth below its z_min
// (1 to 10 m by category); we go on down to the rider, as the log law itself does, but not beyond the standard's largest
// value, 0.434 (category IV at z_min): gust factors measured at 2 m, 1.6 to 1.95 (Harper, Kepert & Ginger 2010,
// WMO/TD-1555), leave no room for more.
double surface_layer_intensity(double roughness_m, double height_m = table_height_m) {
  return std::min(1.0 / std::log(height_m / roughness_m), largest_intensity);
}

// Roughness by class: Davenport's classes as revised by Wieringa 1992, J Wind Eng Ind Aerodyn 41:357. Where obstacles
// stand above the rider, their height H gives z0 = H/10 and d = 0.7 H (common rules, from memory).
const std::array<ExposureAir, exposure_names.size()>& exposure_table() {
  static const std::array<ExposureAir, exposure_names.size()> table{{
      {0.03, 0.0, 0.0, surface_layer_intensity(0.03), "class open, Wieringa 1992; intensity EN 1991-1-4 eq. 4.7 at 1.2 m"},
      {0.10, 0.0, 0.0, surface_layer_intensity(0.10),
       "class roughly open, Wieringa 1992; intensity EN 1991-1-4 eq. 4.7 at 1.2 m"},
      {0.25, 0.0, 0.0, surface_layer_intensity(0.25), "class rough, Wieringa 1992; intensity held at EN 1991-1-4's largest"},
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

double exposure_intensity(Exposure exposure, double height_m) {
  const ExposureAir& land = exposure_air(exposure);
  return land.turbulence_intensity > largest_intensity ? land.turbulence_intensity
                                                       : surface_layer_intensity(land.roughness_m, height_m);
}

double rider_height_ratio(Exposure exposure, double height_m) {
  const ExposureAir& land = exposure_air(exposure);
  const double tops_m = land.displacement_m + 3.0 * land.roughness_m;  // H, by the rules of the table
  if (land.canopy_fraction > 0.0 && height_m < tops_m) return land.canopy_fraction;
  return log_law_ratio(blending_height_m, forecast_roughness_m, 0.0, forecast_height_m) *
         log_law_ratio(height_m, land.roughness_m, land.displacement_m, blending_height_m);
}

std::span<const NumberField<WindSettings>> wind_fields() {
  using W = WindSettings;
  static constexpr NumberField<W> fields[] = {
      {"height_m", &W::height_m, 1.0, 200.0, "height above open land that the forecast's wind is for", "WMO-No. 8: 10 m"},
      {"rider_height_m", &W::rider_height_m, 0.5, 2.5, "mean height of a rider's frontal area", "assumed"},
      {"change_length_m", &W::change_length_m, 0.0, 1000.0,
       "length of road over which the wind follows a change of exposure", "assumed"},
      {"gust_length_m", &W::gust_length_m, 2.0, 200.0, "length of gusts at a rider; sources give 8 to 27 m", "assumed"},
      {"side_area_m2", &W::side_area_m2, 0.0, 2.0, "side force over dynamic pressure and sine of yaw", "assumed"},
      {"side_force_caution_N", &W::side_force_caution_N, 0.0, 500.0,
       "a side force of a gust above this is an event of caution", "assumed"},
  };
  return fields;
}

bool WindSettings::gusty() const {
  const auto named = [](const ForecastPoint& point) { return point.gust_mps.has_value(); };
  if (gusts != Gusts::by_forecast) return gusts == Gusts::on;
  return std::any_of(forecast.begin(), forecast.end(), named) ||
         std::any_of(stations.begin(), stations.end(), [&](const WindStation& station) {
           return std::any_of(station.forecast.begin(), station.forecast.end(), named);
         });
}

std::vector<Eigen::Vector2d> road_places_enu_m(const Road& road) {
  const RoadProfile& p = road.profile();
  std::vector<Eigen::Vector2d> places{{0.0, 0.0}};
  places.reserve(p.elevation_m.size());
  const auto ahead_at = [&](std::size_t k) {
    return Eigen::Vector2d(std::sin(p.heading_rad[k]), std::cos(p.heading_rad[k]));
  };
  Eigen::Vector2d ahead = ahead_at(0);
  for (std::size_t k = 1; k < p.elevation_m.size(); ++k) {
    const double rise_m = p.elevation_m[k] - p.elevation_m[k - 1];
    const double level_m = std::sqrt(std::max(0.0, p.spacing_m * p.spacing_m - rise_m * rise_m));
    const Eigen::Vector2d before = ahead;
    if (p.heading_rad[k] != p.heading_rad[k - 1]) ahead = ahead_at(k);
    places.push_back(places.back() + 0.5 * level_m * (before + ahead));
  }
  return places;
}

std::vector<double> forecast_density_factors(const std::vector<ForecastPoint>& points, const AirState& air,
                                             double air_altitude_m, double altitude_m, double interval_s) {
  const auto told = [](const ForecastPoint& p) { return p.temperature_C || p.pressure_Pa || p.humidity_fraction; };
  if (std::none_of(points.begin(), points.end(), told)) return {};
  const auto density = [&](const AirState& state) {
    return air_density_kgpm3(air_at_altitude(state, air_altitude_m, altitude_m));
  };
  std::vector<double> at_point;
  for (const ForecastPoint& p : points)
    at_point.push_back(density({.temperature_C = p.temperature_C.value_or(air.temperature_C),
                                .pressure_Pa = p.pressure_Pa.value_or(air.pressure_Pa),
                                .humidity_fraction = p.humidity_fraction.value_or(air.humidity_fraction)}) /
                       density(air));
  std::vector<double> factors;
  std::size_t next = 0;
  for (double time_s = 0.0;; time_s += interval_s) {
    while (next < points.size() && points[next].time_s <= time_s) ++next;
    if (next == points.size()) break;
    if (next == 0)
      factors.push_back(at_point.front());
    else
      factors.push_back(at_point[next - 1] + (time_s - points[next - 1].time_s) /
                                                 (points[next].time_s - points[next - 1].time_s) *
                                                 (at_point[next] - at_point[next - 1]));
  }
  factors.push_back(at_point.back());
  return factors;
}

std::vector<std::vector<double>> station_density_factors(const WindSettings& settings, const AirState& air,
                                                         double air_altitude_m, double altitude_m, double interval_s) {
  std::vector<std::vector<double>> factors;
  const auto add = [&](const std::vector<ForecastPoint>& points) {
    factors.push_back(forecast_density_factors(points, air, air_altitude_m, altitude_m, interval_s));
  };
  if (settings.stations.size() < 2)
    add(settings.forecast);
  else
    for (const WindStation& station : settings.stations) add(station.forecast);
  if (std::all_of(factors.begin(), factors.end(), [](const auto& of_one) { return of_one.empty(); })) return {};
  return factors;
}

double yaw_drag_factor(double yaw_rad) {
  constexpr double at_deg[] = {0.0, 10.0, 20.0, 30.0, 45.0, 60.0}, factor[] = {1.0, 1.015, 1.06, 1.08, 1.05, 1.0};
  const double yaw_deg = deg_from_rad(std::abs(yaw_rad));
  for (std::size_t k = 1; k < std::size(at_deg); ++k)
    if (yaw_deg < at_deg[k])
      return factor[k - 1] + (yaw_deg - at_deg[k - 1]) / (at_deg[k] - at_deg[k - 1]) * (factor[k] - factor[k - 1]);
  return 1.0;
}

// --- forecasts ---------------------------------------------------------------------------------------------------

Wind::Series::Series(const std::vector<ForecastPoint>& forecast, double height_ratio) {
  assert(!forecast.empty());
  const double usual_rise = gust_factor(standard_turbulence_intensity(forecast_height_m, forecast_roughness_m)) - 1.0;
  for (const ForecastPoint& point : forecast) {
    assert(time_s.empty() || point.time_s >= time_s.back());
    const Eigen::Vector2d enu = wind_enu_mps(height_ratio * point.speed_mps, point.from_rad);
    carried_m.push_back(
        time_s.empty() ? Eigen::Vector2d(0.0, 0.0)
                       : Eigen::Vector2d(carried_m.back() + 0.5 * (point.time_s - time_s.back()) * (enu + enu_mps.back())));
    time_s.push_back(point.time_s);
    enu_mps.push_back(enu);
    const double rise = point.gust_mps ? *point.gust_mps / std::max(point.speed_mps, 0.1) - 1.0 : usual_rise;
    gust_scale.push_back(point.gust_mps ? std::min(std::max(rise, 0.0) / usual_rise, 3.0) : 1.0);
  }
}

Wind::Series::Moment Wind::Series::moment(double at_s) const {
  const auto next = std::upper_bound(time_s.begin(), time_s.end(), at_s);
  if (next == time_s.begin()) return {0, 0.0};
  if (next == time_s.end()) return {time_s.size() - 1, 0.0};
  const auto i = static_cast<std::size_t>(next - time_s.begin());
  return {i - 1, (at_s - time_s[i - 1]) / (time_s[i] - time_s[i - 1])};
}

Eigen::Vector2d Wind::Series::enu_at(double at_s) const {
  const auto [i, share] = moment(at_s);
  if (at_s < time_s.front() || i + 1 == time_s.size()) return enu_mps[i];
  return (1.0 - share) * enu_mps[i] + share * enu_mps[i + 1];
}

double Wind::Series::gust_scale_at(double at_s) const {
  const auto [i, share] = moment(at_s);
  return share == 0.0 ? gust_scale[i] : (1.0 - share) * gust_scale[i] + share * gust_scale[i + 1];
}

Eigen::Vector2d Wind::Series::carried_at_m(double at_s) const {
  const std::size_t i = moment(at_s).before;
  return carried_m[i] + 0.5 * (at_s - time_s[i]) * (enu_mps[i] + enu_at(at_s));
}

// --- the road ----------------------------------------------------------------------------------------------------

Wind::Wind(const WindSettings& settings, const Road& road)
    : nodes_per_m_(1.0 / road.spacing_m()), wants_gusts_(settings.gusty()), gust_length_m_(settings.gust_length_m) {
  const double height_ratio = log_law_ratio(forecast_height_m, forecast_roughness_m, 0.0, settings.height_m);
  if (settings.stations.size() < 2)
    series_.emplace_back(settings.stations.empty() ? settings.forecast : settings.stations.front().forecast, height_ratio);
  else
    for (const WindStation& station : settings.stations) series_.emplace_back(station.forecast, height_ratio);

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

  std::vector<RoadHill> hills = settings.hills;
  if (settings.hills_from_road)
    for (const RoadHill& hill : hills_of_road(road)) hills.push_back(hill);
  const bool varied_land = !hills.empty() || !settings.shelter.empty();
  if (!varied_land && !wants_gusts_ && series_.size() == 1) return;
  const std::vector<Eigen::Vector2d> places = road_places_enu_m(road);
  const auto knots = static_cast<std::size_t>(std::ceil(road.length_m() / knot_m)) + 1;
  for (std::size_t k = 0; k < knots; ++k)
    place_m_.push_back(places[std::min(
        places.size() - 1, static_cast<std::size_t>(std::lround(static_cast<double>(k) * knot_m * nodes_per_m_)))]);
  if (series_.size() > 1) weigh_stations(settings.stations);
  if (varied_land) survey_land(settings, hills);
}

void Wind::raise_gusts(std::uint64_t seed) {
  if (!wants_gusts_) return;
  gusts_ = std::make_shared<GustField>(gust_length_m_, seed);
  double ratio = 0.0;
  for (const Node& node : nodes_) ratio += node.ratio_mean / static_cast<double>(nodes_.size());
  carried_share_.assign(series_.size(), ratio);
  Eigen::Vector2d way(0.0, 0.0);
  for (std::size_t s = 0; s < series_.size(); ++s) {
    double weight = 0.0;
    for (std::size_t k = 0; k < place_m_.size(); ++k)
      weight += station_share(s, static_cast<double>(k) * knot_m) / static_cast<double>(place_m_.size());
    carried_share_[s] *= weight;
    for (const Eigen::Vector2d& enu : series_[s].enu_mps)
      way += weight / static_cast<double>(series_[s].enu_mps.size()) * enu;
  }
  if (way.norm() > 1e-9) gust_axis_ = way.normalized();
}

void Wind::weigh_stations(const std::vector<WindStation>& stations) {
  for (const Eigen::Vector2d& place : place_m_) {
    std::vector<double> weight;
    double sum = 0.0;
    for (const WindStation& station : stations) {
      const double away_m = (place - Eigen::Vector2d(station.east_m, station.north_m)).norm();
      weight.push_back(1.0 / std::max(away_m * away_m, 1.0));
      sum += weight.back();
    }
    for (const double w : weight) station_weight_.push_back(static_cast<float>(w / sum));
  }
}

namespace {

/// How much of a hill the road feels: all on its stretch, fading over the slope's length beyond it.
double hill_weight(const RoadHill& hill, double at_m) {
  const double before = (hill.from_m - at_m) / hill.length_before_m, behind = (at_m - hill.to_m) / hill.length_behind_m;
  return std::clamp(1.0 - std::max(before, behind), 0.0, 1.0);
}

}  // namespace

void Wind::survey_land(const WindSettings& settings, const std::vector<RoadHill>& hills) {
  for (std::size_t k = 0; k < place_m_.size(); ++k) {
    const double at_m = static_cast<double>(k) * knot_m;
    const Node& node = *place(at_m).node;
    for (std::size_t sector = 0; sector < sectors; ++sector) {
      const double to_rad = rad_from_deg(360.0 * static_cast<double>(sector) / sectors + 180.0);
      const double east = std::sin(to_rad), north = std::cos(to_rad);
      const double along = east * node.heading_sin + north * node.heading_cos,
                   to_left = north * node.heading_sin - east * node.heading_cos;
      double share = 1.0, rise = 0.0;
      for (const Windbreak& belt : settings.shelter) share = std::min(share, shelter_share(belt, at_m, along, to_left));
      for (const RoadHill& hill : hills) {
        const double weight = hill_weight(hill, at_m);
        if (weight == 0.0) continue;
        const Eigen::Vector2d from_crest = place_m_[k] - ground_m(hill.crest_m);
        const double across_m = from_crest.x() * std::sin(hill.across_rad) + from_crest.y() * std::cos(hill.across_rad);
        rise += weight * (hill_factor(hill, across_m, to_rad, settings.rider_height_m) - 1.0);
      }
      land_share_.push_back(static_cast<float>(share * std::max(least_hill_factor, 1.0 + rise)));
      if (!hills.empty()) belt_share_.push_back(static_cast<float>(share));
    }
  }
}

Wind::KnotPlace Wind::knot(double distance_m) const {
  const double last = static_cast<double>(place_m_.size() - 1);
  const double position = std::min(std::max(distance_m / knot_m, 0.0), last);
  const std::size_t before = std::min(static_cast<std::size_t>(position), place_m_.size() - 2);
  return {before, position - static_cast<double>(before)};
}

Eigen::Vector2d Wind::ground_m(double distance_m) const {
  const auto [k, share] = knot(distance_m);
  return place_m_[k] + share * (place_m_[k + 1] - place_m_[k]);
}

Wind::Sector Wind::sector_of(const Eigen::Vector2d& enu_mps) {
  const double sector = std::atan2(-enu_mps.x(), -enu_mps.y()) * (sectors / rad_from_deg(360.0)) + sectors;
  const auto below = static_cast<std::size_t>(sector);
  return {below, sector - static_cast<double>(below)};
}

double Wind::land_share(const std::vector<float>& table, KnotPlace at, Sector from) const {
  const auto turned = [&](std::size_t row) {
    const float* const land = &table[row * sectors];
    return land[from.below % sectors] + from.part * (land[(from.below + 1) % sectors] - land[from.below % sectors]);
  };
  const double here = turned(at.before);
  return here + at.share * (turned(at.before + 1) - here);
}

double Wind::station_share(std::size_t station, double distance_m) const {
  if (station_weight_.empty()) return 1.0;
  const auto [k, share] = knot(distance_m);
  const float here = station_weight_[k * series_.size() + station],
              next = station_weight_[(k + 1) * series_.size() + station];
  return here + share * (next - here);
}

void Wind::look_at(double time_s, Moment& into) const {
  into.enu_mps.resize(series_.size());
  into.gust_scale.resize(series_.size());
  into.carried_m.setZero();
  for (std::size_t s = 0; s < series_.size(); ++s) {
    into.enu_mps[s] = series_[s].enu_at(time_s);
    into.gust_scale[s] = series_[s].gust_scale_at(time_s);
    if (gusts_) into.carried_m += carried_share_[s] * series_[s].carried_at_m(time_s);
  }
}

Eigen::Vector2d Wind::open_enu_mps(double distance_m, const Moment& now) const {
  if (station_weight_.empty()) return now.enu_mps.front();
  Eigen::Vector2d enu_mps(0.0, 0.0);
  for (std::size_t s = 0; s < series_.size(); ++s) enu_mps += station_share(s, distance_m) * now.enu_mps[s];
  return enu_mps;
}

Eigen::Vector2d Wind::open_enu_mps(double distance_m, double time_s) const {
  Moment now;
  look_at(time_s, now);
  return open_enu_mps(distance_m, now);
}

Eigen::Vector2d Wind::mean_enu_mps(double distance_m, double time_s) const {
  Moment now;
  look_at(time_s, now);
  return mean_enu_mps(distance_m, now);
}

Eigen::Vector2d Wind::mean_enu_mps(double distance_m, const Moment& now) const {
  const Eigen::Vector2d open = open_enu_mps(distance_m, now);
  return land_share_.empty() ? open : Eigen::Vector2d(land_share(land_share_, knot(distance_m), sector_of(open)) * open);
}

double Wind::gust_intensity(double distance_m, double time_s) const {
  double scale = 0.0;
  for (std::size_t s = 0; s < series_.size(); ++s) scale += station_share(s, distance_m) * series_[s].gust_scale_at(time_s);
  if (!belt_share_.empty()) {
    const KnotPlace at = knot(distance_m);
    const Sector from = sector_of(open_enu_mps(distance_m, time_s));
    scale *= land_share(belt_share_, at, from) / land_share(land_share_, at, from);
  }
  return std::min(turbulence_intensity(distance_m), largest_intensity) * scale;
}

Eigen::Vector2d Wind::local_enu_mps(double distance_m, double time_s, double left_m) const {
  Moment now;
  look_at(time_s, now);
  return local_enu_mps(distance_m, now, left_m);
}

Eigen::Vector2d Wind::local_enu_mps(double distance_m, const Moment& now, double left_m) const {
  const Eigen::Vector2d open = open_enu_mps(distance_m, now);
  Eigen::Vector2d mean = open, steady = open;  // what gusts are a share of: belts weaken it, hills do not change it
  if (!land_share_.empty()) {
    const KnotPlace at = knot(distance_m);
    const Sector from = sector_of(open);
    mean = land_share(land_share_, at, from) * open;
    steady = belt_share_.empty() ? mean : Eigen::Vector2d(land_share(belt_share_, at, from) * open);
  }
  if (!gusts_) return mean;
  const auto [node, share] = place(distance_m);
  const Eigen::Vector2d in_air_m =
      ground_m(distance_m) + left_m * Eigen::Vector2d(-node->heading_cos, node->heading_sin) - now.carried_m;
  const GustField::Gust gust =
      gusts_->at(in_air_m.dot(gust_axis_), gust_axis_.x() * in_air_m.y() - gust_axis_.y() * in_air_m.x());
  double scale = 0.0;
  for (std::size_t s = 0; s < series_.size(); ++s) scale += station_share(s, distance_m) * now.gust_scale[s];
  const double turbulence =
      node[0].turbulence_intensity + share * (node[1].turbulence_intensity - node[0].turbulence_intensity);
  const double intensity = std::min(turbulence, largest_intensity) * scale;
  const double along = intensity * gust.along, across = gust_across_share * intensity * gust.across;
  return {mean.x() + along * steady.x() - across * steady.y(), mean.y() + along * steady.y() + across * steady.x()};
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

RoadWind Wind::at(double distance_m, double time_s) const { return at(distance_m, mean_enu_mps(distance_m, time_s)); }

Eigen::Vector2d Wind::forecast_enu_mps(double time_s) const { return series_.front().enu_at(time_s); }

double Wind::turbulence_intensity(double distance_m) const {
  const auto [node, share] = place(distance_m);
  return turbulence_intensity(static_cast<std::size_t>(node - nodes_.data()), share);
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
