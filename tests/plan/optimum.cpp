#include "optimum.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace leewheel::optimum {

namespace {

constexpr double step_m = 10.0, slowest_mps = 1.2, fastest_mps = 24.0, power_step_W = 2.5, falling_step_W = 20.0;
constexpr double falling_grade = -0.01;
constexpr std::size_t speeds = 40, stores = 90;
constexpr double never_s = std::numeric_limits<double>::infinity();

/// The road every 10 m, and the rider.
struct Road10 {
  std::vector<double> slope, wind_along_mps, wind_cross_mps, rolling, limit_mps;
};

/// Speed allowed by bends and descents, with the way to brake (the scenario's comfortable braking).
std::vector<double> limits_of(const Scenario& s, std::size_t steps) {
  std::vector<double> limit(steps + 1, fastest_mps);
  for (std::size_t k = 0; k <= steps; ++k) {
    for (double x = step_m * static_cast<double>(k); x < step_m * static_cast<double>(k + 1); x += 1.0)
      if (const double bend = std::abs(s.road.curvature_1pm(x)); bend > 0.0)
        limit[k] = std::min(limit[k], std::sqrt(s.tactics.cornering_mps2 / bend));
    limit[k] = std::min(limit[k], s.tactics.descent_speed_mps);
  }
  for (std::size_t k = steps; k-- > 0;)
    limit[k] = std::min(limit[k], std::sqrt(limit[k + 1] * limit[k + 1] + 2.0 * s.tactics.comfort_braking_mps2 * step_m));
  return limit;
}

Road10 road_of(const Scenario& s, const std::vector<double>& passed_s) {
  const auto steps = static_cast<std::size_t>(std::floor(s.road.length_m() / step_m + 1e-9));
  Road10 road;
  road.limit_mps = limits_of(s, steps);
  const Wind wind(s.wind, s.road);
  for (std::size_t k = 0; k < steps; ++k) {
    const double x = step_m * static_cast<double>(k), mid_m = x + 0.5 * step_m;
    road.slope.push_back((s.road.elevation_m(x + step_m) - s.road.elevation_m(x)) / step_m);
    road.rolling.push_back(s.road.rolling(mid_m));
    const auto air = wind.at(mid_m, passed_s[std::min(k, passed_s.size() - 1)]);
    road.wind_along_mps.push_back(air.along_mps);
    road.wind_cross_mps.push_back(air.cross_mps);
  }
  return road;
}

/// What one power makes of a piece begun at one speed: W' after it is `keeps` times what is missing before, and less `spends`.
struct Through {
  double time_s = never_s, end_mps = 0.0, keeps = 1.0, spends_J = 0.0;
  std::array<std::pair<double, double>, 8> crests{};  ///< `keeps` and `spends_J` up to where the road begins to fall
  std::size_t crest_count = 0;
};

struct Rider {
  double mass_kg, area_m2, half_density, eta, critical_W, w_prime_J, gravity;
};

double against_N(const Rider& r, const Road10& road, std::size_t k, double v) {
  const double cosine = 1.0 / std::sqrt(1.0 + road.slope[k] * road.slope[k]), along = v - road.wind_along_mps[k];
  const double air_N =
      r.half_density * r.area_m2 * along * std::sqrt(along * along + road.wind_cross_mps[k] * road.wind_cross_mps[k]);
  return air_N + r.mass_kg * r.gravity * (road.rolling[k] * cosine + road.slope[k]) + 0.091 + 0.0087 * v;
}

/// One step by the midpoint rule in kinetic energy; the power is cut where the speed is limited.
bool step(const Rider& r, const Road10& road, std::size_t k, double length_m, double power_W, double& v, Through& t) {
  double end = v;
  for (int round = 0; round < 4; ++round) {
    const double mid = 0.5 * (v + end);
    const double square = v * v + 2.0 * length_m * (r.eta * power_W / mid - against_N(r, road, k, mid)) / r.mass_kg;
    if (square < 0.25 * slowest_mps * slowest_mps) return false;
    end = std::sqrt(square);
  }
  double given_W = power_W;
  if (end > road.limit_mps[k + 1]) {
    end = road.limit_mps[k + 1];
    const double mid = 0.5 * (v + end);
    given_W = std::clamp((against_N(r, road, k, mid) + r.mass_kg * (end * end - v * v) / (2.0 * length_m)) * mid / r.eta,
                         0.0, power_W);
  }
  const double lasts_s = 2.0 * length_m / (v + end), below_W = r.critical_W - given_W;
  t.time_s += lasts_s;
  if (below_W > 0.0) {
    const double keeps = std::exp(-below_W / r.w_prime_J * lasts_s);  // differential law of recovery
    t.keeps *= keeps;
    t.spends_J *= keeps;
  } else {
    t.spends_J -= below_W * lasts_s;
  }
  v = end;
  return true;
}

double speed_at(std::size_t i) {
  return slowest_mps * std::pow(fastest_mps / slowest_mps, static_cast<double>(i) / (speeds - 1.0));
}
double place_of_speed(double v) {
  return std::clamp(std::log(v / slowest_mps) / std::log(fastest_mps / slowest_mps) * (speeds - 1.0), 0.0, speeds - 1.0);
}

/// Time to go by speed and missing W' at the beginning of a piece.
using Table = std::vector<double>;

double looked_up(const Table& table, double speed_place, double store_place) {
  const auto i = std::min(static_cast<std::size_t>(speed_place), speeds - 2),
             j = std::min(static_cast<std::size_t>(store_place), stores - 2);
  const double a = speed_place - static_cast<double>(i), b = store_place - static_cast<double>(j);
  const auto at = [&](std::size_t p, std::size_t q) { return table[p * stores + q]; };
  const double low = at(i, j) + b * (at(i, j + 1) - at(i, j)), high = at(i + 1, j) + b * (at(i + 1, j + 1) - at(i + 1, j));
  return low + a * (high - low);
}

class Problem {
 public:
  Problem(const Scenario& solo, const std::vector<Piece>& pieces, const std::vector<double>& passed_s)
      : pieces_(pieces), road_(road_of(solo, passed_s)) {
    const RiderSettings& s = solo.riders[0];
    rider_ = {s.total_mass_kg(),
              s.drag_area_hoods_m2 + s.wheel_drag_area_m2,
              0.5 * air_density_kgpm3(solo.air),
              s.drivetrain_efficiency,
              s.critical_power_W,
              s.w_prime_J,
              solo.gravity_mps2};
    for (const Piece& piece : pieces_) lowest_J_ = std::min(lowest_J_, piece.floor_J);
  }
  std::vector<Powers> solve(double start_mps) {
    tables_.assign(pieces_.size() + 1, Table(speeds * stores, 0.0));
    for (std::size_t k = pieces_.size(); k-- > 0;)
      tbb::parallel_for(std::size_t{0}, speeds, [&](std::size_t i) { fill(k, i); });
    std::vector<Powers> powers;
    double v = start_mps, store_J = rider_.w_prime_J;
    for (std::size_t k = 0; k < pieces_.size(); ++k) {
      double best_s = never_s;
      Powers best_W{pieces_[k].least_W, pieces_[k].least_W};
      for (const Powers& power : powers_of(k)) {
        const double s = time_by(k, through(k, power, v), store_J);
        if (s < best_s) best_s = s, best_W = power;
      }
      const Through t = through(k, best_W, v);
      powers.push_back(best_W);
      store_J = after_J(t, store_J);
      v = t.end_mps;
    }
    return powers;
  }

 private:
  double store_of(std::size_t j) const {
    return lowest_J_ + (rider_.w_prime_J - lowest_J_) * static_cast<double>(j) / (stores - 1.0);
  }
  double after_J(const Through& t, double store_J) const {
    return rider_.w_prime_J - (rider_.w_prime_J - store_J) * t.keeps - t.spends_J;
  }
  std::vector<Powers> powers_of(std::size_t k) const {
    const Piece& piece = pieces_[k];
    std::vector<Powers> powers;
    for (double p = piece.least_W; p < piece.most_W + power_step_W; p += power_step_W) {
      const double rising_W = std::min(p, piece.most_W);
      if (!piece.by_rule) powers.push_back({rising_W, rising_W});
      for (double q = 0.0; piece.by_rule && q <= piece.most_W; q += falling_step_W) powers.push_back({rising_W, q});
    }
    return powers;
  }
  Through through(std::size_t k, const Powers& powers, double v) const {
    Through t;
    t.time_s = 0.0;
    const auto first = static_cast<std::size_t>(std::lround(pieces_[k].from_m / step_m));
    const auto end = std::min(static_cast<std::size_t>(std::lround(pieces_[k].to_m / step_m)), road_.slope.size());
    for (std::size_t n = first; n < end; ++n) {
      const bool crest = n > first && road_.slope[n] < falling_grade && road_.slope[n - 1] >= falling_grade;
      if (crest && t.crest_count < t.crests.size()) t.crests[t.crest_count++] = {t.keeps, t.spends_J};
      const double power_W = road_.slope[n] < falling_grade ? powers.falling_W : powers.rising_W;
      const int parts = v < 2.5 ? 8 : v < 5.0 ? 4 : 1;  // slow riders take on another speed within metres
      for (int part = 0; part < parts; ++part)
        if (!step(rider_, road_, n, step_m / parts, power_W, v, t)) {
          t.time_s = never_s;
          return t;
        }
    }
    t.end_mps = v;
    return t;
  }
  double time_by(std::size_t k, const Through& t, double store_J) const {
    const double after = after_J(t, store_J);
    if (!std::isfinite(t.time_s) || (after < pieces_[k].floor_J && after < store_J)) return never_s;
    for (std::size_t c = 0; c < t.crest_count; ++c) {
      const double there_J = rider_.w_prime_J - (rider_.w_prime_J - store_J) * t.crests[c].first - t.crests[c].second;
      if (there_J < pieces_[k].floor_J && there_J < store_J) return never_s;
    }
    const double place = (after - lowest_J_) / (rider_.w_prime_J - lowest_J_) * (stores - 1.0);
    return place < 0.0 ? never_s : t.time_s + looked_up(tables_[k + 1], place_of_speed(t.end_mps), place);
  }
  void fill(std::size_t k, std::size_t i) {
    std::vector<Through> ways;
    for (const Powers& power : powers_of(k)) ways.push_back(through(k, power, speed_at(i)));
    for (std::size_t j = 0; j < stores; ++j) {
      double best_s = 1e7;  // no way: finite, so that what is between two places stays a number
      for (const Through& way : ways) best_s = std::min(best_s, time_by(k, way, store_of(j)));
      tables_[k][i * stores + j] = best_s;
    }
  }
  const std::vector<Piece>& pieces_;
  Road10 road_;
  Rider rider_;
  double lowest_J_ = 1e12;
  std::vector<Table> tables_;
};

}  // namespace

bool falls(const Road& road, double from_m) {
  return (road.elevation_m(from_m + step_m) - road.elevation_m(from_m)) / step_m < falling_grade;
}

std::vector<Powers> quickest_W(const Scenario& solo, const std::vector<Piece>& pieces, const std::vector<double>& passed_s) {
  return Problem(solo, pieces, passed_s).solve(solo.ride.start_speed_mps);
}

}  // namespace leewheel::optimum
