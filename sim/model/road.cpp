#include "leewheel/road.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <utility>

namespace leewheel {
namespace {

constexpr double full_turn_rad = 2.0 * std::numbers::pi;

// The smaller turn from one heading to another, -pi to pi: correct across north.
double turn_rad(double from_rad, double to_rad) { return std::remainder(to_rad - from_rad, full_turn_rad); }

double wrapped_rad(double heading_rad) {
  const double rest_rad = std::fmod(heading_rad, full_turn_rad);
  return rest_rad < 0.0 ? std::min(rest_rad + full_turn_rad, std::nextafter(full_turn_rad, 0.0)) : rest_rad;
}

// Value at `position` (in cells) of what is linear between the nodes, taken in cell i and held beyond its ends.
double between_nodes(const std::vector<double>& values, std::size_t i, double position) {
  const double share = std::clamp(position - static_cast<double>(i), 0.0, 1.0);
  return values[i] + share * (values[i + 1] - values[i]);
}

// Grade (rise over run) of a rise over a length along the surface.
double grade_of(double rise_m, double length_m) {
  assert(std::abs(rise_m) < length_m);
  return rise_m / std::sqrt((length_m - rise_m) * (length_m + rise_m));
}

// Left turn per metre at each node, over the 10 m around it (less at the ends).
std::vector<double> mean_curvature_1pm(const RoadProfile& profile) {
  constexpr double half_window_m = 5.0;
  const std::size_t nodes = profile.heading_rad.size();
  std::vector<double> turned_rad(nodes, 0.0);  // clockwise since the start, without the jump at north
  for (std::size_t i = 1; i < nodes; ++i)
    turned_rad[i] = turned_rad[i - 1] + turn_rad(profile.heading_rad[i - 1], profile.heading_rad[i]);

  const auto half = std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(half_window_m / profile.spacing_m)));
  std::vector<double> curvature_1pm(nodes);
  for (std::size_t i = 0; i < nodes; ++i) {
    const std::size_t from = i > half ? i - half : 0;
    const std::size_t to = std::min(i + half, nodes - 1);
    curvature_1pm[i] = -(turned_rad[to] - turned_rad[from]) / (static_cast<double>(to - from) * profile.spacing_m);
  }
  return curvature_1pm;
}

struct StretchStart {
  double distance_m, elevation_m, heading_rad;
};

double heading_along_rad(const Stretch& stretch, const StretchStart& start, double distance_m) {
  if (stretch.bend_radius_m == 0.0) return start.heading_rad;
  return start.heading_rad - (distance_m - start.distance_m) / stretch.bend_radius_m;  // left: against the clock
}

double elevation_along_m(const Stretch& stretch, const StretchStart& start, double distance_m) {
  return start.elevation_m + (distance_m - start.distance_m) * slope_sine(stretch.grade);
}

// Where each stretch begins, and the end of the road as one more.
std::vector<StretchStart> stretch_starts(const std::vector<Stretch>& stretches, double start_elevation_m) {
  std::vector<StretchStart> starts{{0.0, start_elevation_m, 0.0}};
  for (const Stretch& stretch : stretches) {
    StretchStart& start = starts.back();
    if (stretch.has_heading) start.heading_rad = stretch.heading_rad;
    const double end_m = start.distance_m + stretch.length_m;
    starts.push_back({end_m, elevation_along_m(stretch, start, end_m), heading_along_rad(stretch, start, end_m)});
  }
  return starts;
}

}  // namespace

double rolling_coefficient(Surface surface) {
  switch (surface) {
    case Surface::smooth_asphalt: return 0.004;  // general knowledge, from memory; Martin et al. 1998: 0.0032 on race tyres
    case Surface::worn_asphalt: return 0.005;    // assumed, between smooth asphalt and chip seal
    case Surface::chip_seal: return 0.007;       // general knowledge, from memory: 0.006-0.008
    case Surface::gravel: return 0.012;          // general knowledge, from memory: 0.008-0.015
  }
  assert(false);
  return 0.005;
}

Road::Road(RoadProfile profile) {
  const std::size_t nodes = profile.elevation_m.size();
  assert(nodes >= 2 && profile.spacing_m > 0.0);
  assert(profile.heading_rad.size() == nodes && profile.rolling.size() == nodes && profile.width_m.size() == nodes);
  assert(profile.exposure_left.size() == nodes && profile.exposure_right.size() == nodes);
  assert(profile.abreast.size() == nodes && (profile.closed.empty() || profile.closed.size() == nodes));
  const double length_m = static_cast<double>(nodes - 1) * profile.spacing_m;
  std::vector<double> curvature_1pm = mean_curvature_1pm(profile);
  sampled_ = std::make_shared<const Sampled>(Sampled{std::move(profile), std::move(curvature_1pm), length_m});
}

std::size_t Road::cell(double distance_m) const {
  if (!(distance_m > 0.0)) return 0;
  const std::size_t last = profile().elevation_m.size() - 2;
  return distance_m >= length_m() ? last : std::min(static_cast<std::size_t>(distance_m / profile().spacing_m), last);
}

double Road::elevation_m(double distance_m) const {
  return between_nodes(profile().elevation_m, cell(distance_m), distance_m / profile().spacing_m);
}

double Road::grade(double distance_m) const {
  const std::size_t i = cell(distance_m);
  return grade_of(profile().elevation_m[i + 1] - profile().elevation_m[i], profile().spacing_m);
}

double Road::heading_rad(double distance_m) const {
  const std::size_t i = cell(distance_m);
  const double share = std::clamp(distance_m / profile().spacing_m - static_cast<double>(i), 0.0, 1.0);
  const double from_rad = profile().heading_rad[i];
  return wrapped_rad(from_rad + share * turn_rad(from_rad, profile().heading_rad[i + 1]));
}

double Road::curvature_1pm(double distance_m) const {
  return between_nodes(sampled_->curvature_1pm, cell(distance_m), distance_m / profile().spacing_m);
}

double Road::rolling(double distance_m) const { return profile().rolling[cell(distance_m)]; }
double Road::width_m(double distance_m) const { return profile().width_m[cell(distance_m)]; }
Exposure Road::exposure_left(double distance_m) const { return profile().exposure_left[cell(distance_m)]; }
Exposure Road::exposure_right(double distance_m) const { return profile().exposure_right[cell(distance_m)]; }
int Road::abreast(double distance_m) const { return profile().abreast[cell(distance_m)]; }
bool Road::closed(double distance_m) const { return !profile().closed.empty() && profile().closed[cell(distance_m)] != 0; }

RoadFacts Road::facts() const {
  const std::vector<double>& z_m = profile().elevation_m;
  RoadFacts facts{.length_m = length_m(),
                  .ascent_m = 0.0,
                  .descent_m = 0.0,
                  .mean_grade = (z_m.back() - z_m.front()) / length_m(),
                  .steepest_100m_grade = 0.0,
                  .steepest_at_m = 0.0};
  for (std::size_t i = 1; i < z_m.size(); ++i) {
    const double rise_m = z_m[i] - z_m[i - 1];
    (rise_m > 0.0 ? facts.ascent_m : facts.descent_m) += std::abs(rise_m);
  }

  // Elevation is linear between nodes, so the steepest window begins or ends on a node.
  const double window_m = std::min(100.0, length_m());
  double largest_rise_m = -window_m;
  const auto consider = [&](double from_m) {
    const double rise_m = elevation_m(from_m + window_m) - elevation_m(from_m);
    if (rise_m > largest_rise_m) largest_rise_m = rise_m, facts.steepest_at_m = from_m;
  };
  for (std::size_t i = 0; i < z_m.size(); ++i) {
    const double node_m = static_cast<double>(i) * profile().spacing_m;
    if (node_m + window_m <= length_m()) consider(node_m);
    if (node_m >= window_m) consider(node_m - window_m);
  }
  facts.steepest_100m_grade = grade_of(largest_rise_m, window_m);
  return facts;
}

RoadProfile profile_from_stretches(const std::vector<Stretch>& stretches, double start_elevation_m, double spacing_m) {
  assert(!stretches.empty() && spacing_m > 0.0);
  const std::vector<StretchStart> starts = stretch_starts(stretches, start_elevation_m);
  const double length_m = starts.back().distance_m;
  assert(length_m > 0.0);

  // The grid is stretched or squeezed a little so that its last node is the end of the road.
  const auto cells = std::max<std::size_t>(1, static_cast<std::size_t>(std::lround(length_m / spacing_m)));
  RoadProfile profile;
  profile.spacing_m = length_m / static_cast<double>(cells);
  std::size_t k = 0;
  for (std::size_t i = 0; i <= cells; ++i) {
    const double distance_m = i == cells ? length_m : static_cast<double>(i) * profile.spacing_m;
    while (k + 1 < stretches.size() && distance_m >= starts[k + 1].distance_m) ++k;
    const Stretch& stretch = stretches[k];
    profile.elevation_m.push_back(elevation_along_m(stretch, starts[k], distance_m));
    profile.heading_rad.push_back(wrapped_rad(heading_along_rad(stretch, starts[k], distance_m)));
    profile.rolling.push_back(rolling_coefficient(stretch.surface));
    profile.width_m.push_back(stretch.width_m);
    profile.exposure_left.push_back(stretch.exposure_left);
    profile.exposure_right.push_back(stretch.exposure_right);
    profile.abreast.push_back(static_cast<std::uint8_t>(stretch.abreast));
    profile.closed.push_back(stretch.closed ? 1 : 0);
  }
  return profile;
}

std::vector<RoadStretch> stretches_of(const Road& road) {
  std::vector<RoadStretch> stretches;
  std::string from = "start";
  double from_m = 0.0;
  for (const Landmark& mark : road.landmarks()) {
    if (mark.distance_m <= from_m || mark.distance_m >= road.length_m()) continue;
    stretches.push_back({from, mark.name, from_m, mark.distance_m});
    from = mark.name;
    from_m = mark.distance_m;
  }
  stretches.push_back({from, "finish", from_m, road.length_m()});
  return stretches;
}

std::size_t stretch_at(std::span<const RoadStretch> stretches, double distance_m) {
  std::size_t k = 0;
  while (k + 1 < stretches.size() && distance_m >= stretches[k].to_m) ++k;
  return k;
}

std::optional<std::size_t> landmark_near(const Road& road, double distance_m) {
  double least_m = 50.0;
  std::optional<std::size_t> nearest;
  for (std::size_t k = 0; k < road.landmarks().size(); ++k)
    if (const double apart_m = std::abs(road.landmarks()[k].distance_m - distance_m); apart_m < least_m)
      least_m = apart_m, nearest = k;
  return nearest;
}

}  // namespace leewheel
