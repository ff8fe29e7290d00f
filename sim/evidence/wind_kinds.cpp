/// Wind near the ground, by wind.hpp, hill.hpp, gust.hpp and the closed forms of the book.

#include <array>
#include <cmath>

#include "evidence/closed_forms.hpp"
#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "leewheel/gust.hpp"
#include "leewheel/hill.hpp"
#include "leewheel/road.hpp"
#include "leewheel/units.hpp"
#include "leewheel/wind.hpp"
#include "leewheel/windbreak.hpp"
#include "model/land.hpp"

namespace leewheel::evidence {
namespace {

constexpr double m_per_ft = 0.3048;
constexpr Range height{0.0, 1e4, true};

Work read_log_law(YamlMap& given) {
  const double height_m = needed(given, "height_m", height);
  const std::vector<double> roughness_m = number_list(given.require("roughness_m", "numbers"), {0.0, 100.0, true});
  const double displacement_m = optional(given, "displacement_m", {0.0, 100.0}, 0.0);
  const double reference_m = optional(given, "reference_m", height, 10.0);
  for (const double z0_m : roughness_m)
    if (!(std::min(height_m, reference_m) - displacement_m > z0_m))
      given.value().fault("found a height below displacement_m + roughness_m, where the log law ends");
  return [=](const WakeLaw&) -> Quantities {
    Quantity ratio{"ratio", {}};
    for (const double z0_m : roughness_m) ratio.values.push_back(log_law_ratio(height_m, z0_m, displacement_m, reference_m));
    return {ratio};
  };
}

Work read_power_law(YamlMap& given) {
  const double height_m = needed(given, "height_m", height);
  const double exponent = optional(given, "exponent", {0.0, 1.0}, 1.0 / 7.0);
  const double reference_m = optional(given, "reference_m", height, 10.0);
  return [=](const WakeLaw&) -> Quantities { return {{"ratio", {power_law_ratio(height_m, exponent, reference_m)}}}; };
}

Work read_exposure(YamlMap& given) {
  Exposure exposure = Exposure::open_slope;
  given.require("exposure", "an exposure class").choice(exposure_names, exposure);
  const double height_m = optional(given, "height_m", {0.1, 10.0}, 1.2);
  return [=](const WakeLaw&) -> Quantities {
    const ExposureAir& air = exposure_air(exposure);
    return {{"roughness_m", {air.roughness_m}},
            {"ratio", {rider_height_ratio(exposure, height_m)}},
            {"turbulence_percent", {100.0 * exposure_intensity(exposure, height_m)}},
            {"gust_factor", {three_second_gust(exposure_intensity(exposure, height_m))}}};
  };
}

Work read_terrain(YamlMap& given) {
  const std::vector<double> roughness_m = number_list(given.require("roughness_m", "numbers"), {0.0, 9.0, true});
  const double height_m = optional(given, "height_m", {1.0, 500.0}, 10.0);
  return [=](const WakeLaw&) -> Quantities {
    Quantity k_r{"terrain_factor", {}}, c_r{"roughness_factor", {}}, I_v{"turbulence_intensity", {}},
        gust{"gust_factor", {}};
    for (const double z0_m : roughness_m) {
      k_r.values.push_back(terrain_factor(z0_m));
      c_r.values.push_back(roughness_factor(height_m, z0_m));
      I_v.values.push_back(standard_turbulence_intensity(height_m, z0_m));
      gust.values.push_back(gust_factor(I_v.values.back()));
    }
    return {k_r, c_r, I_v, gust};
  };
}

Work read_orography(YamlMap& given) {
  HillSection hill;
  hill.height_m = needed(given, "hill_height_m", positive);
  hill.upwind_length_m = needed(given, "upwind_length_m", positive);
  hill.downwind_length_m = optional(given, "downwind_length_m", positive, hill.upwind_length_m);
  hill.cliff = yes_no(given, "cliff", false);
  hill.downwind_height_m = optional(given, "downwind_height_m", not_negative, hill.height_m);
  const double height_m = needed(given, "height_m", height);
  const std::vector<double> from_crest_m = number_list(given["from_crest_m"], any_number);
  return [=](const WakeLaw&) -> Quantities {
    Quantity standard{"orography_factor", {}}, shape{"linear_shape", {}}, ours{"hill_wind_factor", {}};
    for (const double x_m : from_crest_m.empty() ? std::vector<double>{0.0} : from_crest_m) {
      standard.values.push_back(orography_factor(hill, x_m, height_m));
      shape.values.push_back(linear_hill_shape(hill, x_m));
      ours.values.push_back(hill_wind_factor(hill, x_m, height_m));
    }
    return {standard, shape, ours};
  };
}

Work read_crest(YamlMap& given) {
  static constexpr std::array<std::string_view, 3> shapes{"ridge", "hill", "escarpment"};
  HillShape shape = HillShape::ridge;
  given.require("shape", "ridge, hill or escarpment").choice(shapes, shape);
  const double hill_height_m = needed(given, "hill_height_m", positive),
               half_length_m = needed(given, "half_length_m", positive);
  const double height_m = needed(given, "height_m", height);
  return [=](const WakeLaw&) -> Quantities {
    return {{"speed_up", {crest_speed_up(shape, hill_height_m, half_length_m, height_m)}}};
  };
}

Work read_dryden(YamlMap& given) {
  const double height_ft = needed(given, "height_ft", {0.0, 1000.0, true});
  return [=](const WakeLaw&) -> Quantities {
    return {{"length_ft", {dryden_length_m(height_ft * m_per_ft) / m_per_ft}},
            {"intensity", {dryden_intensity(height_ft * m_per_ft)}}};
  };
}

Work read_gust_step(YamlMap& given) {
  const double length_m = optional(given, "length_m", positive, gust_length_m);
  const double air_speed_mps = needed(given, "air_speed_mps", {0.0, 60.0});
  const double step_s = needed(given, "step_s", positive);
  return [=](const WakeLaw&) -> Quantities {
    const GustStep step = gust_step(length_m, air_speed_mps, step_s);
    return {{"carry", {step.carry}},
            {"noise", {step.noise}},
            {"variance", {step.noise * step.noise / (1.0 - step.carry * step.carry)}}};
  };
}

Work read_gust_length(YamlMap& given) {
  const std::vector<double> apart_m = number_list(given["apart_m"], not_negative);
  return [=](const WakeLaw&) -> Quantities {
    Quantity correlation{"correlation", {}};
    for (const double d_m : apart_m) correlation.values.push_back(gust_correlation(d_m, gust_length_m));
    return {{"length_m", {gust_length_m}}, correlation};
  };
}

Work read_beaufort(YamlMap& given) {
  const std::vector<double> speed_mps = number_list(given.require("speed_mps", "numbers"), {0.0, 100.0});
  return [=](const WakeLaw&) -> Quantities {
    Quantity force{"force", {}};
    for (const double mps : speed_mps) force.values.push_back(beaufort_force(mps));
    return {force};
  };
}

Work read_windbreak(YamlMap& given) {
  ShelterKind kind = ShelterKind::conifer_row;
  given.require("shelter", "a kind of shelter").choice(windbreak_kind_names, kind);
  const std::vector<double> heights = number_list(given.require("heights_downwind", "numbers"), {0.0, 100.0});
  return [=](const WakeLaw&) -> Quantities {
    Quantity share{"open_wind_percent", {}};
    for (const double h : heights) share.values.push_back(100.0 * shelter_share(kind, h));
    return {share};
  };
}

Work read_triangle(YamlMap& given) {
  const double speed_mps = needed(given, "speed_mps", {0.0, 60.0, true});
  const GivenWind wind = read_wind(given);
  return [=](const WakeLaw&) -> Quantities {
    const ApparentWind air = apparent_wind(speed_mps, {wind.along_mps, wind.cross_mps});
    return {{"headwind_mps", {-wind.along_mps}},
            {"crosswind_mps", {wind.cross_mps}},
            {"air_speed_mps", {air.speed_mps}},
            {"yaw_deg", {deg_from_rad(air.yaw_rad)}},
            {"force_factor", {air.speed_mps * air.along_mps / (speed_mps * speed_mps)}}};
  };
}

}  // namespace

std::vector<Kind> wind_kinds() {
  return {
      {"log_law", "wind at a height over the wind at a reference height, log law", {"ratio"}, read_log_law},
      {"power_law", "the same by the power law", {"ratio"}, read_power_law},
      {"exposure",
       "what an exposure class makes of a forecast; gust_factor is that of three seconds in ten minutes",
       {"roughness_m", "ratio", "turbulence_percent", "gust_factor"},
       read_exposure},
      {"terrain",
       "roughness and turbulence by EN 1991-1-4",
       {"terrain_factor", "roughness_factor", "turbulence_intensity", "gust_factor"},
       read_terrain},
      {"orography",
       "what a hill makes of the wind: by EN 1991-1-4, Annex A.3, by linear theory over that at the crest, and ours",
       {"orography_factor", "linear_shape", "hill_wind_factor"},
       read_orography},
      {"crest", "speed-up at a crest", {"speed_up"}, read_crest},
      {"dryden", "length and strength of gusts near the ground, heights in feet", {"length_ft", "intensity"}, read_dryden},
      {"gust_step", "one step of a gust along the road", {"carry", "noise", "variance"}, read_gust_step},
      {"gust_length", "length scale of gusts at a rider", {"length_m", "correlation"}, read_gust_length},
      {"beaufort", "force of a wind speed", {"force"}, read_beaufort},
      {"shelter", "share of the open wind behind a windbreak", {"open_wind_percent"}, read_windbreak},
      {"wind_triangle",
       "the air a rider meets",
       {"headwind_mps", "crosswind_mps", "air_speed_mps", "yaw_deg", "force_factor"},
       read_triangle}};
}

}  // namespace leewheel::evidence
