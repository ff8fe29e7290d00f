#include "after/road_map.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "leewheel/units.hpp"
#include "leewheel/wind.hpp"

namespace leewheel {

namespace {

constexpr double cell_m = 40.0;
constexpr double wgs84_a_m = 6378137.0, wgs84_e2 = 6.69437999014e-3;

/// Metres per degree of longitude and of latitude (radii of curvature of the ellipsoid).
Eigen::Vector2d metres_per_deg_at(double latitude_deg) {
  const double s = std::sin(rad_from_deg(latitude_deg)), w2 = 1.0 - wgs84_e2 * s * s;
  const double prime_m = wgs84_a_m / std::sqrt(w2), meridian_m = prime_m * (1.0 - wgs84_e2) / w2;
  return rad_from_deg(1.0) * Eigen::Vector2d(prime_m * std::cos(rad_from_deg(latitude_deg)), meridian_m);
}

long cell_key(const Eigen::Vector2d& place_m) {
  return static_cast<long>(std::floor(place_m.x() / cell_m)) * 4000037L +
         static_cast<long>(std::floor(place_m.y() / cell_m));
}

bool has_place(const RecordedPoint& p) { return !std::isnan(p.latitude_deg) && !std::isnan(p.longitude_deg); }

}  // namespace

Plane::Plane(double lat_deg, double lon_deg)
    : latitude_deg(lat_deg), longitude_deg(lon_deg), metres_per_deg(metres_per_deg_at(lat_deg)) {}

RoadMap::RoadMap(const Road& road, std::span<const Recording> recordings) {
  length_m_ = road.length_m();
  spacing_m_ = length_m_ / std::max(2.0, std::ceil(length_m_ / map_spacing_m));
  if (road.profile().has_position)
    lay_from_position(road);
  else
    lay_where_it_fits(road, recordings);
}

/// Degree by degree along the road, because lengths and directions of the road are those of the ellipsoid at each place.
void RoadMap::lay_from_position(const Road& road) {
  const RoadProfile& profile = road.profile();
  Eigen::Vector2d at_deg(deg_from_rad(profile.longitude_rad), deg_from_rad(profile.latitude_rad));
  plane_ = Plane(at_deg.y(), at_deg.x());
  const auto steps = static_cast<std::size_t>(std::lround(length_m_ / spacing_m_));
  const double fine_m = 1.0;
  double done_m = 0.0;
  for (std::size_t k = 0; k <= steps; ++k) {
    for (const double to_m = static_cast<double>(k) * spacing_m_; done_m < to_m - 1e-9;) {
      const double step_m = std::min(fine_m, to_m - done_m), middle_m = done_m + 0.5 * step_m;
      const double flat_m = step_m * slope_cosine(road.grade(middle_m)), heading_rad = road.heading_rad(middle_m);
      at_deg += (flat_m * Eigen::Vector2d(std::sin(heading_rad), std::cos(heading_rad)))
                    .cwiseQuotient(metres_per_deg_at(at_deg.y()));
      done_m += step_m;
    }
    places_m_.push_back(plane_.place_m(at_deg.y(), at_deg.x()));
  }
  index();
}

void RoadMap::lay_where_it_fits(const Road& road, std::span<const Recording> recordings) {
  const std::vector<Eigen::Vector2d> grid_m = road_places_enu_m(road);
  for (double at_m = 0.0; at_m <= length_m_ + 1e-6; at_m += spacing_m_) {
    const double position = std::min(at_m / road.spacing_m(), static_cast<double>(grid_m.size() - 1));
    const auto before = std::min(static_cast<std::size_t>(position), grid_m.size() - 2);
    places_m_.push_back(grid_m[before] + (position - static_cast<double>(before)) * (grid_m[before + 1] - grid_m[before]));
  }
  index();
  for (const Recording& recording : recordings)
    if (has_place(recording.points.front())) {
      plane_ = Plane(recording.points.front().latitude_deg, recording.points.front().longitude_deg);
      placed_ = find_start(recordings);
      if (placed_) fit_scale_and_start(recordings);
      return;
    }
}

/// The start of the road is tried at points of the recordings; the one whose road meets most points is kept.
bool RoadMap::find_start(std::span<const Recording> recordings) {
  const std::size_t looks = 60;
  double best = 0.0;
  Eigen::Vector2d best_shift_m = shift_m_;
  for (const Recording& recording : recordings) {
    std::unordered_map<long, bool> met;
    std::vector<Eigen::Vector2d> starts_m;
    for (const RecordedPoint& p : recording.points) {
      if (!has_place(p)) continue;
      const Eigen::Vector2d at_m = plane_.place_m(p.latitude_deg, p.longitude_deg);
      met[cell_key(at_m)] = true;
      if (starts_m.empty() || (at_m - starts_m.back()).norm() > 25.0) starts_m.push_back(at_m);
    }
    for (const Eigen::Vector2d& start_m : starts_m) {
      double found = 0.0;
      for (std::size_t k = 0; k <= looks; ++k) {
        const Eigen::Vector2d at_m = start_m + places_m_[k * (places_m_.size() - 1) / looks];
        bool near = false;
        for (int dx = -1; dx <= 1; ++dx)
          for (int dy = -1; dy <= 1; ++dy) near = near || met.contains(cell_key(at_m + cell_m * Eigen::Vector2d(dx, dy)));
        found += near;
      }
      if (found > best + 0.5) best = found, best_shift_m = -start_m;
    }
  }
  shift_m_ = best_shift_m;
  return best > 0.25 * looks;
}

/// Least squares of points on their nearest places, a few times over; ends of the road hold what straight roads leave open.
void RoadMap::fit_scale_and_start(std::span<const Recording> recordings) {
  for (int round = 0; round < 12; ++round) {
    Eigen::Matrix4d normal = Eigen::Matrix4d::Zero();
    Eigen::Vector4d right = Eigen::Vector4d::Zero();
    const int cells = round < 4 ? 3 : 1;
    for (const Recording& recording : recordings) {
      const std::size_t every = std::max<std::size_t>(1, recording.points.size() / 1000);
      for (std::size_t i = 0; i < recording.points.size(); i += every) {
        if (!has_place(recording.points[i])) continue;
        const Eigen::Vector2d raw_m = plane_.place_m(recording.points[i].latitude_deg, recording.points[i].longitude_deg);
        const Near found = nearest_within(scale_.cwiseProduct(raw_m) + shift_m_, cells);
        if (found.off_m > cells * cell_m || found.distance_m <= 0.0 || found.distance_m >= length_m_) continue;
        const Eigen::Vector2d ahead = direction(found.distance_m), across(ahead.y(), -ahead.x());
        const Eigen::Vector2d road_m = places_m_[static_cast<std::size_t>(found.distance_m / spacing_m_)];
        Eigen::Vector4d row;
        row << across.cwiseProduct(raw_m), across;
        normal += row * row.transpose();
        right += row * across.dot(road_m);
      }
    }
    // Believed beforehand: the scale within 0.3 %, the start within 15 m; weighed as points of 3.5 m.
    const double points = std::max(1.0, normal(2, 2) + normal(3, 3)), per = 0.02 * points * 3.5 * 3.5;
    for (int k = 0; k < 2; ++k) {
      const double scale_weight = per / (0.003 * 0.003), shift_weight = per / (15.0 * 15.0);
      normal(k, k) += scale_weight, right(k) += scale_weight;
      normal(k + 2, k + 2) += shift_weight, right(k + 2) += shift_weight * shift_m_[k];
    }
    for (const Recording& recording : recordings) hold_ends(recording, per / (20.0 * 20.0), normal, right);
    const Eigen::Vector4d solved = normal.ldlt().solve(right);
    scale_ = solved.head<2>().cwiseMax(0.99).cwiseMin(1.01);
    shift_m_ = solved.tail<2>();
  }
}

/// A recording that begins or ends about where the road does tells what a straight road cannot: how far along it is.
void RoadMap::hold_ends(const Recording& recording, double weight, Eigen::Matrix4d& normal, Eigen::Vector4d& right) const {
  constexpr double near_m = 150.0;
  const auto hold = [&](const RecordedPoint& point, const Eigen::Vector2d& end_m) {
    if (!has_place(point) || (place_of(point) - end_m).norm() > near_m) return;
    const Eigen::Vector2d raw_m = plane_.place_m(point.latitude_deg, point.longitude_deg);
    for (int axis = 0; axis < 2; ++axis) {
      Eigen::Vector4d row = Eigen::Vector4d::Zero();
      row[axis] = raw_m[axis], row[axis + 2] = 1.0;
      normal += weight * row * row.transpose();
      right += weight * row * end_m[axis];
    }
  };
  hold(recording.points.front(), places_m_.front());
  hold(recording.points.back(), places_m_.back());
}

void RoadMap::index() {
  for (std::size_t k = 0; k + 1 < places_m_.size(); ++k) cells_[cell_key(places_m_[k])].push_back(k);
}

Eigen::Vector2d RoadMap::place_of(const RecordedPoint& p) const {
  return scale_.cwiseProduct(plane_.place_m(p.latitude_deg, p.longitude_deg)) + shift_m_;
}

Eigen::Vector2d RoadMap::direction(double distance_m) const {
  const auto cell =
      static_cast<std::size_t>(std::clamp(distance_m / spacing_m_, 0.0, static_cast<double>(places_m_.size() - 2)));
  return (places_m_[cell + 1] - places_m_[cell]).normalized();
}

RoadMap::Near RoadMap::in_cell(const Eigen::Vector2d& place_m, std::size_t cell) const {
  const Eigen::Vector2d along = places_m_[cell + 1] - places_m_[cell];
  const double share = std::clamp((place_m - places_m_[cell]).dot(along) / along.squaredNorm(), 0.0, 1.0);
  return {(static_cast<double>(cell) + share) * spacing_m_, (place_m - places_m_[cell] - share * along).norm()};
}

std::vector<std::size_t> RoadMap::hits(const Eigen::Vector2d& place_m, int cells) const {
  std::vector<std::size_t> found;
  for (int dx = -cells; dx <= cells; ++dx)
    for (int dy = -cells; dy <= cells; ++dy)
      if (const auto cell = cells_.find(cell_key(place_m + cell_m * Eigen::Vector2d(dx, dy))); cell != cells_.end())
        found.insert(found.end(), cell->second.begin(), cell->second.end());
  std::sort(found.begin(), found.end());
  return found;
}

RoadMap::Near RoadMap::nearest_within(const Eigen::Vector2d& place_m, int cells) const {
  Near best{0.0, 1e9};
  for (const std::size_t k : hits(place_m, cells))
    if (const Near here = in_cell(place_m, k); here.off_m < best.off_m) best = here;
  return best;
}

std::vector<RoadMap::Near> RoadMap::near(const Eigen::Vector2d& place_m) const {
  const std::vector<std::size_t> hits = this->hits(place_m, 1);
  std::vector<Near> lowest;
  for (std::size_t k = 0; k < hits.size(); ++k) {
    const Near here = in_cell(place_m, hits[k]);
    if (here.off_m > on_road_m) continue;
    const auto beside = [&](std::size_t other) { return in_cell(place_m, other).off_m; };
    if (hits[k] > 0 && beside(hits[k] - 1) < here.off_m) continue;
    if (hits[k] + 2 < places_m_.size() && beside(hits[k] + 1) < here.off_m) continue;
    if (lowest.empty() || here.distance_m - lowest.back().distance_m > 2.0 * spacing_m_) lowest.push_back(here);
  }
  return lowest;
}

RoadMap::Near RoadMap::nearest(const Eigen::Vector2d& place_m, double from_m, double to_m) const {
  const double last = static_cast<double>(places_m_.size() - 2);
  const auto from = static_cast<std::size_t>(std::clamp(std::floor(from_m / spacing_m_), 0.0, last));
  const auto to = static_cast<std::size_t>(std::clamp(std::floor(to_m / spacing_m_), 0.0, last));
  Near best{0.0, 1e9};
  for (std::size_t k = from; k <= to; ++k)
    if (const Near here = in_cell(place_m, k); here.off_m < best.off_m) best = here;
  return best;
}

}  // namespace leewheel
