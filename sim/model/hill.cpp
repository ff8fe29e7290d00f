#include "leewheel/hill.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include <Eigen/Core>

#include "leewheel/wind.hpp"

namespace leewheel {
namespace {

// The curves of EN 1991-1-4, Annex A.3. q = z/L_e.
double crest_value(double q) { return (((0.1552 * q - 0.8575) * q + 1.8133) * q - 1.9115) * q + 1.0124; }
double upwind_decay(double q) { return (0.3542 * q - 1.0577) * q + 2.6456; }
double downwind_decay(double q) { return (-0.3056 * q + 1.0212) * q - 1.7637; }

double behind_cliff(double x_over_Le, double q) {
  const double l = std::log10(x_over_Le), p = std::log10(std::max(q, 1e-6));
  const double A = ((-1.3420 * p - 0.8222) * p + 0.4609) * p - 0.0791;
  const double B = ((-1.0196 * p - 0.8910) * p + 0.5343) * p - 0.1156;
  const double C = ((0.8030 * p + 0.4236) * p - 0.5738) * p + 0.1606;
  return std::max(0.0, (A * l + B) * l + C);
}

double orographic_location_factor(const HillSection& hill, double x_m, double effective_length_m, double q) {
  if (q > 2.0) return 0.0;
  if (x_m <= 0.0) {
    const double u = x_m / hill.upwind_length_m;
    return u < -1.5 ? 0.0 : crest_value(q) * std::exp(upwind_decay(q) * u);
  }
  if (!hill.cliff) {
    const double u = x_m / hill.downwind_length_m;
    return u > 2.0 ? 0.0 : crest_value(q) * std::exp(downwind_decay(q) * u);
  }
  const double u = x_m / effective_length_m;
  if (u > 3.5) return 0.0;
  if (u >= 0.1) return behind_cliff(u, q);
  return crest_value(q) + u / 0.1 * (behind_cliff(0.1, q) - crest_value(q));
}

}  // namespace

double orography_factor(const HillSection& hill, double from_crest_m, double height_m) {
  assert(hill.height_m >= 0.0 && hill.upwind_length_m > 0.0 && (hill.cliff || hill.downwind_length_m > 0.0) &&
         height_m > 0.0);
  const double slope = hill.height_m / hill.upwind_length_m;
  if (slope < 0.05) return 1.0;
  const double effective_length_m = slope < 0.3 ? hill.upwind_length_m : hill.height_m / 0.3;
  const double s = orographic_location_factor(hill, from_crest_m, effective_length_m, height_m / effective_length_m);
  return 1.0 + (slope < 0.3 ? 2.0 * slope : 0.6) * std::max(0.0, s);
}

double linear_hill_shape(const HillSection& hill, double from_crest_m) {
  const double L_u = hill.upwind_length_m, L_d = hill.downwind_length_m, round_m = 0.25 * L_u;
  const double s_u = hill.height_m / L_u, s_d = hill.cliff ? 0.0 : hill.downwind_height_m / L_d;
  const auto square = [&](double x) { return x * x + round_m * round_m; };
  const auto R = [&](double x) {
    return s_u * std::log(square(x + L_u) / square(x)) + s_d * std::log(square(x - L_d) / square(x));
  };
  return R(from_crest_m) / R(0.0);
}

double hill_wind_factor(const HillSection& hill, double from_crest_m, double height_m) {
  const double crest_rise = orography_factor(hill, 0.0, height_m) - 1.0;
  if (crest_rise <= 0.0) return 1.0;
  double shape = linear_hill_shape(hill, from_crest_m);
  if (from_crest_m > 0.0 && !hill.cliff) {
    const double slope = std::min(hill.downwind_height_m / hill.downwind_length_m, separating_slope);
    const double u = from_crest_m / (lee_shelter_at * hill.downwind_length_m);
    shape -= lee_shelter_per_slope * slope * u * std::exp(1.0 - u);
  }
  return std::max(least_hill_factor,
                  1.0 + std::min(orography_factor(hill, from_crest_m, height_m) - 1.0, crest_rise * shape));
}

namespace {

constexpr double profile_step_m = 25.0, profile_window_m = 200.0, least_rise_m = 15.0;  // assumed

/// The road every 25 m: distance along it, elevation smoothed over the window, and the place on the ground.
struct Profile {
  std::vector<double> at_m, elevation_m;
  std::vector<Eigen::Vector2d> place_m;
  std::size_t last() const { return at_m.size() - 1; }
};

Profile profile_of(const Road& road) {
  Profile p;
  const std::vector<Eigen::Vector2d> places = road_places_enu_m(road);
  const auto steps = static_cast<std::size_t>(std::max(2.0, std::ceil(road.length_m() / profile_step_m)));
  for (std::size_t k = 0; k <= steps; ++k) {
    const double x = road.length_m() * static_cast<double>(k) / static_cast<double>(steps);
    double sum = 0.0;
    for (int part = -4; part <= 4; ++part) sum += road.elevation_m(x + 0.125 * part * profile_window_m);
    p.at_m.push_back(x);
    p.elevation_m.push_back(sum / 9.0);
    p.place_m.push_back(places[std::min(places.size() - 1, static_cast<std::size_t>(std::lround(x / road.spacing_m())))]);
  }
  return p;
}

/// One side of a crest: the foot of its slope, that slope's height and length, and the lowest point before the road climbs
/// above the crest again.
struct Side {
  std::size_t foot, lowest;
  double height_m, length_m;
};

Side side_of(const Profile& p, std::size_t crest, int towards) {
  Side side{crest, crest, 0.0, profile_step_m};
  double steepest = 0.0;
  for (std::size_t k = crest; (towards < 0 ? k > 0 : k < p.last());) {
    k = towards < 0 ? k - 1 : k + 1;
    if (p.elevation_m[k] > p.elevation_m[crest]) break;
    if (p.elevation_m[k] < p.elevation_m[side.lowest]) side.lowest = k;
    const double fall_m = p.elevation_m[crest] - p.elevation_m[k],
                 away_m = std::max((p.place_m[crest] - p.place_m[k]).norm(), profile_step_m);
    if (fall_m < least_rise_m || fall_m / away_m <= steepest) continue;
    steepest = fall_m / away_m;
    side.foot = k, side.height_m = fall_m, side.length_m = away_m;
  }
  return side;
}

bool highest_nearby(const Profile& p, std::size_t k) {
  return (k == 0 || p.elevation_m[k] > p.elevation_m[k - 1]) && (k == p.last() || p.elevation_m[k] >= p.elevation_m[k + 1]);
}

}  // namespace

std::vector<RoadHill> hills_of_road(const Road& road) {
  const Profile p = profile_of(road);
  std::vector<RoadHill> hills;
  for (std::size_t crest = 0; crest <= p.last(); ++crest) {
    if (!highest_nearby(p, crest)) continue;
    const Side before = side_of(p, crest, -1), behind = side_of(p, crest, +1);
    const bool risen = before.height_m > 0.0, falls = behind.height_m > 0.0;
    if ((!risen && crest != 0) || (!falls && crest != p.last()) || (!risen && !falls)) continue;
    const Eigen::Vector2d way = risen ? Eigen::Vector2d(p.place_m[crest] - p.place_m[before.foot])
                                      : Eigen::Vector2d(p.place_m[behind.foot] - p.place_m[crest]);
    if (way.norm() < 1.0) continue;
    hills.push_back({.crest_m = p.at_m[crest],
                     .height_before_m = risen ? before.height_m : 0.0,
                     .length_before_m = before.length_m,
                     .height_behind_m = falls ? behind.height_m : 0.0,
                     .length_behind_m = behind.length_m,
                     .across_rad = std::atan2(way.x(), way.y()),
                     .from_m = p.at_m[before.lowest],
                     .to_m = p.at_m[behind.lowest]});
  }
  return hills;
}

namespace {

/// The hill as a wind meets it that makes an angle of cosine `up` with the way across, up the slope before the crest or behind.
HillSection section_of(const RoadHill& hill, bool climbs, double up) {
  const double before_m = hill.length_before_m / up, behind_m = hill.length_behind_m / up;
  return {.height_m = climbs ? hill.height_before_m : hill.height_behind_m,
          .upwind_length_m = climbs ? before_m : behind_m,
          .downwind_length_m = climbs ? behind_m : before_m,
          .cliff = hill.cliff,
          .downwind_height_m = climbs ? hill.height_behind_m : hill.height_before_m};
}

constexpr double along_the_ridge = 0.02;  // cosine below which a wind does not cross it

}  // namespace

double hill_factor(const RoadHill& hill, double across_m, double to_rad, double height_m) {
  const double cosine = std::cos(to_rad - hill.across_rad), up = std::abs(cosine);
  const bool climbs = cosine > 0.0;
  if (up < along_the_ridge || (hill.cliff && !climbs)) return 1.0;
  const HillSection section = section_of(hill, climbs, up);
  return section.height_m > 0.0 ? hill_wind_factor(section, across_m / cosine, height_m) : 1.0;
}

bool may_separate(const RoadHill& hill, double to_rad) {
  const double cosine = std::cos(to_rad - hill.across_rad), up = std::abs(cosine);
  if (up < along_the_ridge) return false;
  const HillSection section = section_of(hill, cosine > 0.0, up);
  if (hill.cliff)  // off the cliff, whose slope is the one before the crest as the road goes
    return cosine < 0.0 && hill.height_before_m / (hill.length_before_m / up) > separating_slope;
  return section.downwind_height_m / section.downwind_length_m > separating_slope;
}

}  // namespace leewheel
