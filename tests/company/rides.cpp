#include "company/rides.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "leewheel/units.hpp"

using namespace leewheel;

namespace company {

namespace {

/// What only the ride itself tells, second by second.
struct Watched {
  RideResult result;
  std::vector<double> waiting_s;
  std::size_t groups_at_end;
};

std::size_t groups_in(const RideSample& sample) {
  std::set<float> groups;
  std::size_t lone = 0;
  for (const float id : sample.group_id)
    if (id < 0.0f)
      ++lone;
    else
      groups.insert(id);
  return groups.size() + lone;
}

Watched watched(const Scenario& s) {
  Watched seen{{}, std::vector<double>(s.riders.size(), 0.0), 0};
  Ride ride(s);
  RideSample sample;
  const auto second = static_cast<std::uint64_t>(std::max(1.0, std::round(1.0 / s.ride.step_s)));
  bool someone_home = false;
  while (ride.end() == RideEnd::riding) {
    ride.step();
    if (ride.tick() % second != 0) continue;
    ride.sample(sample);
    for (std::size_t i = 0; i < s.riders.size(); ++i) {
      seen.waiting_s[i] += sample.role[i] == static_cast<float>(Role::waiting);
      someone_home = someone_home || sample.role[i] == static_cast<float>(Role::finished);
    }
    if (!someone_home) seen.groups_at_end = groups_in(sample);
  }
  seen.result = ride.result();
  return seen;
}

}  // namespace

double Company::slowest_over_alone() const {
  double worst = 0.0;
  for (const InCompany& r : riders) worst = std::max(worst, r.over_alone);
  return worst;
}

double Company::last_over_weakest() const {
  double last_s = 0.0;
  for (const InCompany& r : riders) last_s = std::max(last_s, r.home_s);
  return last_s / weakest().alone_s;
}

double Company::mean_power_over_plan() const {
  double sum = 0.0;
  for (const InCompany& r : riders) sum += r.power_over_plan;
  return sum / static_cast<double>(riders.size());
}

const InCompany& Company::weakest() const {
  return *std::max_element(riders.begin(), riders.end(),
                           [](const InCompany& a, const InCompany& b) { return a.alone_s < b.alone_s; });
}

namespace {

/// What one rider's time alone is at a mean power, from rides at three efforts.
class AloneAt {
 public:
  AloneAt(const Scenario& s, std::size_t i) {
    for (std::size_t k = 0; k < efforts.size(); ++k) {
      Scenario solo = alone(s, i);
      solo.riders[0].target_effort *= efforts[k];
      const RiderResult r = ride_to_end(solo, {.notes_debts = false}).riders[0];
      log_W_[k] = std::log(r.mean_power_W);
      log_s_[k] = std::log(r.finish_time_s);
    }
  }
  double time_s(double mean_W) const {
    const double x = std::log(mean_W);
    const std::size_t k = x < log_W_[1] ? 0 : 1;
    const double share = (x - log_W_[k]) / (log_W_[k + 1] - log_W_[k]);
    return std::exp(log_s_[k] + share * (log_s_[k + 1] - log_s_[k]));
  }

 private:
  static constexpr std::array efforts{0.96, 1.0, 1.04};
  std::array<double, 3> log_W_{}, log_s_{};
};

bool are_equal(const std::vector<RiderSettings>& riders) {
  return std::ranges::all_of(riders,
                             [&](const RiderSettings& r) { return r.critical_power_W == riders[0].critical_power_W; });
}

}  // namespace

Company ride_company(const Scenario& s) {
  const Watched seen = watched(s);
  Company company{seen.result.end, {}, seen.groups_at_end, 0.0, 0.0};
  const auto count = static_cast<double>(s.riders.size());
  double slowest_s = 0.0, mean_W = 0.0;
  for (std::size_t i = 0; i < s.riders.size(); ++i) {
    const RiderResult& r = seen.result.riders[i];
    const RiderSettings& settings = s.riders[i];
    const double alone_s = ride_to_end(alone(s, i), {.notes_debts = false}).riders[0].finish_time_s;
    const double riding_s = r.finish_time_s - seen.waiting_s[i];
    company.riders.push_back({riding_s / alone_s, r.finish_time_s / alone_s,
                              r.mean_power_W / (settings.target_effort * settings.critical_power_W),
                              r.wbal_least_J / settings.w_prime_J, r.wbal_end_J / settings.w_prime_J, alone_s,
                              r.finish_time_s});
    company.mean_home_s += r.finish_time_s / count;
    mean_W += r.ledger.pedal_J / riding_s / count;
    slowest_s = std::max(slowest_s, riding_s);
  }
  if (are_equal(s.riders) && s.ride.kind != RideKind::race)  // whose power is no matter of a plan's effort
    company.over_equal_power = slowest_s / AloneAt(s, 0).time_s(mean_W);
  return company;
}

std::vector<RiderSettings> riders_of(const std::vector<double>& critical_power_W) {
  std::vector<RiderSettings> riders(critical_power_W.size());
  for (std::size_t k = 0; k < riders.size(); ++k) {
    riders[k].name = std::string("rider ") + static_cast<char>('a' + k / 10) + static_cast<char>('0' + k % 10);
    riders[k].body_mass_kg = 72.0;
    riders[k].w_prime_J = 18000.0;
    riders[k].critical_power_W = critical_power_W[k];
  }
  return riders;
}

Scenario as_shipped(const Road& road, const std::vector<RiderSettings>& riders, RideKind kind) {
  Scenario s{"", "", "", road, AirState{}, 0.0, standard_gravity_mps2, {}, riders, {}, {}, {}, {}, {}};
  s.ride.kind = kind;
  return s;
}

Road waves(const std::vector<double>& grades_percent, double each_m, double length_m) {
  std::vector<Stretch> stretches;
  while (static_cast<double>(stretches.size()) * each_m < length_m) {
    Stretch stretch;
    stretch.length_m = each_m;
    stretch.grade = 0.01 * grades_percent[stretches.size() % grades_percent.size()];
    stretch.width_m = 6.5;
    stretches.push_back(stretch);
  }
  return Road(profile_from_stretches(stretches, 200.0));
}

Road mixed_road() {
  struct Piece {
    double length_m, grade_percent;
    Exposure exposure;
  };
  std::vector<Stretch> stretches;
  for (const Piece& piece : {Piece{900, 0.4, Exposure::houses},
                             {1300, 2.2, Exposure::open_slope},
                             {350, 7.5, Exposure::wood},
                             {420, -4.5, Exposure::wood},
                             {800, 1.0, Exposure::open_ridge},
                             {260, 9.5, Exposure::scattered_trees},
                             {700, -2.0, Exposure::open_slope},
                             {1500, 4.0, Exposure::open_slope},
                             {300, -6.0, Exposure::wood},
                             {1800, 0.2, Exposure::open_ridge},
                             {600, 6.5, Exposure::wood}}) {
    Stretch stretch;
    stretch.length_m = piece.length_m;
    stretch.grade = 0.01 * piece.grade_percent;
    stretch.exposure_left = stretch.exposure_right = piece.exposure;
    stretch.width_m = 6.5;
    stretches.push_back(stretch);
  }
  return Road(profile_from_stretches(stretches, 200.0));
}

}  // namespace company
