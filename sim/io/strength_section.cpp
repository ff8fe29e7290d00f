#include "io/strength_section.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "io/plain_number.hpp"
#include "leewheel/climb_power.hpp"
#include "leewheel/strength.hpp"

namespace leewheel {

namespace {

/// A power held for so long, as a key; `held_s` 0: critical power itself.
struct PowerKey {
  const char* key;
  StrengthSource source;
  double held_s;
  bool per_kg;
};
constexpr PowerKey power_keys[] = {{"critical_power_W", StrengthSource::critical_power, 0.0, false},
                                   {"critical_power_W_per_kg", StrengthSource::critical_power, 0.0, true},
                                   {"power_60min_W", StrengthSource::power_60min, 3600.0, false},
                                   {"power_60min_W_per_kg", StrengthSource::power_60min, 3600.0, true},
                                   {"power_20min_W", StrengthSource::power_20min, 1200.0, false},
                                   {"power_20min_W_per_kg", StrengthSource::power_20min, 1200.0, true}};

/// "35:00", "1:02:30" or "35 min" in seconds.
std::optional<double> duration_in_s(std::string_view text) {
  text = trimmed(text);
  if (text.ends_with("min")) {
    const std::optional<double> minutes = number_in(text.substr(0, text.size() - 3));
    return minutes ? std::optional(60.0 * *minutes) : std::nullopt;
  }
  double total_s = 0.0;
  int parts = 0;
  for (std::size_t from = 0; from <= text.size(); ++parts) {
    const std::size_t end = std::min(text.find(':', from), text.size());
    const std::optional<double> part = number_in(text.substr(from, end - from));
    if (!part || *part < 0.0 || (parts > 0 && *part >= 60.0)) return std::nullopt;
    total_s = 60.0 * total_s + *part;
    from = end + 1;
  }
  return parts == 2 || parts == 3 ? std::optional(total_s) : std::nullopt;
}

bool read_length(const YamlValue& value, double& length_m) {
  std::string text;
  if (!value.text(text)) return false;
  const std::optional<double> found = distance_in_m(text);
  if (found && *found >= 500.0 && *found <= 100e3) return length_m = *found, true;
  value.refuse("a distance from 500 m to 100 km, such as 8 km");
  return false;
}

bool read_time(const YamlValue& value, double& time_s) {
  std::string text;
  if (!value.text(text)) return false;
  const std::optional<double> found = duration_in_s(text);
  if (found && *found >= 120.0 && *found <= 6.0 * 3600.0) return time_s = *found, true;
  value.refuse("a time from 2:00 to 6:00:00, such as 35:00");
  return false;
}

void read_climb(const YamlValue& value, ReadRider& rider) {
  if (!value.given()) return;
  YamlMap map(value);
  RiddenClimb climb{};
  double grade_percent = 0.0;
  bool good = read_length(map.require("distance", "the length of the climb, such as 8 km"), climb.length_m);
  good &= map.require("grade_percent", "its mean grade").number({1.0, 25.0}, grade_percent);
  good &= read_time(map.require("time", "the time taken, such as 35:00"), climb.time_s);
  if (!good) return;
  climb.grade = grade_percent / 100.0;
  const std::optional<double> power_W = power_for_climb_W(rider.settings, climb);
  if (!power_W)
    return value.fault("found a climb that takes less than 20 W or more than 900 W, expected what this rider rode");
  rider.basis = {.power = StrengthSource::climb,
                 .held_W = *power_W,
                 .climb_m = climb.length_m,
                 .climb_grade = climb.grade,
                 .climb_s = climb.time_s};
  rider.settings.critical_power_W = critical_power_from_W(*power_W, climb.time_s, rider.settings.w_prime_J);
  rider.settings.critical_power_spread = climb_spread;
}

void take_power(const YamlValue& value, const PowerKey& key, double power, ReadRider& rider) {
  RiderSettings& s = rider.settings;
  const double held_W = key.per_kg ? power * s.body_mass_kg : power;
  rider.basis = {.power = key.source, .per_kg = key.per_kg, .held_W = held_W};
  s.critical_power_W = key.held_s > 0.0 ? critical_power_from_W(held_W, key.held_s, s.w_prime_J) : held_W;
  const double spread = key.held_s > 0.0 ? power_of_a_time_spread : 0.0;
  s.critical_power_spread = key.per_kg ? std::hypot(spread, per_kg_spread) : spread;
  const bool made = key.held_s > 0.0 || key.per_kg;
  if (made && (s.critical_power_W < 20.0 || s.critical_power_W > 700.0))
    value.refuse(
        fmt::format("a power that makes a critical power from 20 to 700 W; this makes {:.0f} W", s.critical_power_W));
}

/// The commonest names of the commonest number: which key it is here.
void tell_other_names(YamlMap& map) {
  constexpr std::string_view names[] = {"ftp", "ftp_W", "FTP", "FTP_W", "threshold_power_W", "threshold_W"};
  if (!map.value().is_map()) return;
  for (const YamlNode& key : map.value().node()->keys)
    if (std::find(std::begin(names), std::end(names), key.scalar) != std::end(names))
      map[key.scalar].fault(
          "unknown key, expected power_60min_W, the power held for an hour, or power_20min_W, that of twenty minutes");
}

void read_power(YamlMap& map, ReadRider& rider) {
  tell_other_names(map);
  std::vector<YamlValue> ways;
  for (const PowerKey& key : power_keys) {
    const YamlValue value = map[key.key];
    if (!value.given()) continue;
    ways.push_back(value);
    double power = 0.0;
    if (value.number(key.per_kg ? Range{0.0, 10.0, true} : Range{0.0, 700.0, true}, power))
      take_power(value, key, power, rider);
  }
  const YamlValue climb = map["climb"], like = map["as_strong_as"];
  if (climb.given()) ways.push_back(climb);
  read_climb(climb, rider);
  if (std::string name; like.text(name)) {
    ways.push_back(like);
    rider.basis = {.power = StrengthSource::as_strong_as, .like = name};
    rider.as_strong_as = {like};
  } else if (!ways.empty()) {
    rider.as_strong_as.clear();
  }
  for (std::size_t k = 1; k < ways.size(); ++k)
    ways[k].fault("found beside " + ways.front().field() + ", expected one way of saying how strong the rider is");
}

}  // namespace

void read_strength(YamlMap& map, ReadRider& rider) {
  RiderSettings& s = rider.settings;
  for (const auto& f : rider_fields())
    if (f.member != &RiderSettings::critical_power_W && f.member != &RiderSettings::critical_power_spread)
      map[f.name].number({f.lowest, f.highest, f.lowest_excluded}, s.*f.member);
  if (map["w_prime_J"].given()) {
    rider.w_prime_given = true;
    if (!map["w_prime_spread"].given()) s.w_prime_spread = 0.0;
  }
  read_power(map, rider);
  rider.basis.w_prime_assumed = !rider.w_prime_given;
  map["critical_power_spread"].number({0.0, 0.5}, s.critical_power_spread);
}

namespace {

/// The index of the rider who is as strong as whom, once that one is known.
std::optional<std::size_t> rider_called(const std::vector<ReadRider>& riders, const std::string& name) {
  for (std::size_t k = 0; k < riders.size(); ++k)
    if (riders[k].settings.name == name) return k;
  return std::nullopt;
}

void make_as_strong(ReadRider& rider, const ReadRider& other) {
  RiderSettings& s = rider.settings;
  const double heavier = s.total_mass_kg() / other.settings.total_mass_kg();
  s.critical_power_W = heavier * other.settings.critical_power_W;
  s.critical_power_spread = std::hypot(other.settings.critical_power_spread, as_strong_as_spread);
  if (!rider.w_prime_given) {
    s.w_prime_J = heavier * other.settings.w_prime_J;
    s.w_prime_spread = std::hypot(other.settings.w_prime_spread, as_strong_as_spread);
    rider.basis.w_prime_assumed = other.basis.w_prime_assumed;
    rider.w_prime_given = other.w_prime_given;
  }
  rider.as_strong_as.clear();
}

}  // namespace

void settle_as_strong_as(std::vector<ReadRider>& riders) {
  std::vector<std::string> names;
  for (const ReadRider& rider : riders) names.push_back(rider.settings.name);
  for (ReadRider& rider : riders) {
    if (rider.as_strong_as.empty()) continue;
    const std::string& name = rider.basis.like;
    if (rider_called(riders, name) && name != rider.settings.name) continue;
    const std::string nearest = nearest_name(name, names);
    rider.as_strong_as.front().refuse(nearest.empty() || nearest == rider.settings.name
                                          ? fmt::format("another rider: {}", fmt::join(names, ", "))
                                          : "'" + nearest + "'");
    rider.as_strong_as.clear();
  }
  for (bool changed = true; changed;) {
    changed = false;
    for (ReadRider& rider : riders) {
      if (rider.as_strong_as.empty()) continue;
      const ReadRider& other = riders[*rider_called(riders, rider.basis.like)];
      if (!other.as_strong_as.empty()) continue;
      make_as_strong(rider, other);
      changed = true;
    }
  }
  for (ReadRider& rider : riders)
    if (!rider.as_strong_as.empty())
      rider.as_strong_as.front().refuse("a rider whose strength is known; these riders are only as strong as one another");
}

}  // namespace leewheel
