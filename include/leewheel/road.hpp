#pragma once
/// The road: one sampled line, whether it came from a recorded track or from a list of stretches.
/// `distance_m` runs along the road surface (what a wheel rolls); grade is rise over run (0.08 is 8 %).

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leewheel {

/// Sine and cosine of the slope at a grade (rise over run). Written out, for compilers differ in whether they see it in sin(atan(x)).
inline double slope_sine(double grade) { return grade / std::sqrt(grade * grade + 1.0); }
inline double slope_cosine(double grade) { return 1.0 / std::sqrt(grade * grade + 1.0); }

/// How open the land beside the road is to the wind; roughness and wind share of each class: wind.hpp.
enum class Exposure : std::uint8_t { open_ridge, open_slope, scattered_trees, houses, wood };
inline constexpr std::array<std::string_view, 5> exposure_names{"open_ridge", "open_slope", "scattered_trees", "houses",
                                                                "wood"};

enum class Surface : std::uint8_t { smooth_asphalt, worn_asphalt, chip_seal, gravel };
inline constexpr std::array<std::string_view, 4> surface_names{"smooth_asphalt", "worn_asphalt", "chip_seal", "gravel"};

/// Rolling coefficient Crr of a surface (dimensionless); table with sources in road.cpp.
double rolling_coefficient(Surface surface);

/// A name at a distance; every output gives each rider's time, power and W' there.
struct Landmark {
  std::string name;
  double distance_m = 0.0;
  bool water = false;  ///< a tap, a spring or a shop is there
  bool operator==(const Landmark&) const = default;
};

/// One piece of a described road, in order.
struct Stretch {
  double length_m = 0.0;       ///< along the surface, > 0
  double grade = 0.0;          ///< rise over run, -0.35 to 0.35
  double heading_rad = 0.0;    ///< direction of travel at its start, clockwise from north; used if `has_heading`
  bool has_heading = false;    ///< false: continues in the direction at the end of the last stretch
  double bend_radius_m = 0.0;  ///< 0 = straight, > 0 bends left, < 0 bends right
  Exposure exposure_left = Exposure::open_slope;
  Exposure exposure_right = Exposure::open_slope;
  Surface surface = Surface::worn_asphalt;
  double width_m = 5.5;  ///< whole road, > 0
  int abreast = 2;       ///< riders allowed side by side (local rules decide)
  bool closed = false;   ///< to traffic: the whole width may be used
  std::string name;      ///< optional
};

/// Values on a uniform grid; all vectors have the same length, at least 2.
struct RoadProfile {
  double spacing_m = 1.0;
  std::vector<double> elevation_m;
  std::vector<double> heading_rad;  ///< clockwise from north
  std::vector<double> rolling;      ///< Crr
  std::vector<double> width_m;
  std::vector<Exposure> exposure_left, exposure_right;
  std::vector<std::uint8_t> abreast;
  std::vector<std::uint8_t> closed;  ///< 1 where closed to traffic; may be empty: open throughout
  std::vector<Landmark> landmarks;   ///< sorted by distance
  std::vector<Landmark> named{};     ///< where stretches that have a name begin: places to speak of, no landmarks
  double latitude_rad = 0.0;         ///< of the start; used if `has_position`
  double longitude_rad = 0.0;
  bool has_position = false;
  bool operator==(const RoadProfile&) const = default;
};

struct RoadFacts {
  double length_m, ascent_m, descent_m;
  double mean_grade;           ///< (last elevation - first) over length
  double steepest_100m_grade;  ///< largest mean grade over any 100 m (whole road if shorter)
  double steepest_at_m;        ///< where those 100 m begin
};

/// A copy shares what it was sampled to, so that it costs next to nothing.
class Road {
 public:
  explicit Road(RoadProfile profile);  ///< asserts on vectors of unequal length

  double length_m() const { return sampled_->length_m; }
  double spacing_m() const { return profile().spacing_m; }
  const RoadProfile& profile() const { return sampled_->profile; }
  const std::vector<Landmark>& landmarks() const { return profile().landmarks; }
  RoadFacts facts() const;

  // Each look-up costs O(1); distances outside the road take the value at its nearer end.
  double elevation_m(double distance_m) const;  ///< linear between grid points, so its rise is exact
  double grade(double distance_m) const;        ///< rise over run of the grid cell
  double heading_rad(double distance_m) const;
  double curvature_1pm(double distance_m) const;  ///< > 0 bends left; averaged over 10 m
  double rolling(double distance_m) const;
  double width_m(double distance_m) const;
  Exposure exposure_left(double distance_m) const;
  Exposure exposure_right(double distance_m) const;
  int abreast(double distance_m) const;
  bool closed(double distance_m) const;  ///< to traffic

  bool operator==(const Road& other) const { return sampled_ == other.sampled_ || profile() == other.profile(); }

 private:
  std::size_t cell(double distance_m) const;
  struct Sampled {
    RoadProfile profile;
    std::vector<double> curvature_1pm;
    double length_m;
  };
  std::shared_ptr<const Sampled> sampled_;
};

/// The way between two landmarks, start and finish included.
struct RoadStretch {
  std::string from, to;
  double from_m, to_m;
};
std::vector<RoadStretch> stretches_of(const Road& road);

/// Index of the stretch that holds a place; what lies before the first or beyond the last belongs to those.
std::size_t stretch_at(std::span<const RoadStretch> stretches, double distance_m);

/// The landmark beside a place, by its index: the nearest within 50 m (assumed).
std::optional<std::size_t> landmark_near(const Road& road, double distance_m);

/// The sampled road of a list of stretches. Asserts on an empty list; ranges are the reader's duty.
RoadProfile profile_from_stretches(const std::vector<Stretch>& stretches, double start_elevation_m, double spacing_m = 1.0);

}  // namespace leewheel
