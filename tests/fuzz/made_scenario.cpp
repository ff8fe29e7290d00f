#include "fuzz/made_scenario.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <vector>

#include "fuzz/bytes.hpp"
#include "leewheel/scenario.hpp"

using namespace leewheel;

namespace fuzz {

namespace {

constexpr std::array<std::string_view, 2> off_on{"off", "on"}, no_yes{"no", "yes"};

/// One after the other in braces or brackets.
std::string listed(const std::vector<std::string>& parts, std::string_view open, std::string_view close) {
  return fmt::format("{}{}{}", open, fmt::join(parts, ", "), close);
}
std::string map(const std::vector<std::string>& parts) { return listed(parts, "{", "}"); }
std::string list(const std::vector<std::string>& parts) { return listed(parts, "[", "]"); }

/// A value of a table: most near what it is by default, some anywhere in the range.
template <class Settings>
std::string number(Bytes& bytes, const NumberField<Settings>& field) {
  const Settings usual{};
  double low = field.lowest, high = std::min(field.highest, 1e4);
  if (!bytes.one_in(4)) {
    low = std::max(low, 0.5 * usual.*field.member);
    high = std::max(low, std::min(high, 2.0 * usual.*field.member + 0.01));
  }
  double value = bytes.between(low, high);
  if (field.lowest_excluded && value <= field.lowest) value = field.lowest + 1e-3 * (high - field.lowest) + 1e-6;
  return fmt::format("{}: {:.9g}", field.name, value);
}

/// Up to `most` numbers of a table, each once.
template <class Fields>
void add_numbers(Bytes& bytes, const Fields& fields, std::size_t most, std::vector<std::string>& parts) {
  std::vector<std::size_t> chosen;
  for (std::size_t k = bytes.below(most + 1); k > 0; --k) chosen.push_back(bytes.word() % fields.size());
  std::sort(chosen.begin(), chosen.end());
  chosen.erase(std::unique(chosen.begin(), chosen.end()), chosen.end());
  for (const std::size_t k : chosen) parts.push_back(number(bytes, fields[k]));
}

template <class Fields>
std::string numbers(Bytes& bytes, const Fields& fields, std::size_t most) {
  std::vector<std::string> parts;
  add_numbers(bytes, fields, most, parts);
  return map(parts);
}

std::string stretch(Bytes& bytes, bool first) {
  std::vector<std::string> parts{
      fmt::format("length_m: {:.6g}", bytes.one_in(8) ? bytes.between(0.5, 5000.0) : bytes.between(60.0, 500.0)),
      fmt::format("grade_percent: {:.6g}", bytes.one_in(8) ? bytes.between(-35.0, 35.0) : bytes.between(-8.0, 10.0)),
      fmt::format("exposure: {{left: {}, right: {}}}", bytes.one_of(exposure_names), bytes.one_of(exposure_names)),
      fmt::format("surface: {}", bytes.one_of(surface_names)),
      fmt::format("width_m: {:.6g}", bytes.between(2.5, 8.0)),
      fmt::format("abreast: {}", 1 + bytes.below(4)),
      fmt::format("closed: {}", bytes.one_of(no_yes))};
  if (first || bytes.one_in(3)) parts.push_back(fmt::format("heading_deg: {:.6g}", bytes.between(0.0, 359.0)));
  if (bytes.one_in(3))
    parts.push_back(fmt::format("bend_radius_m: {:.6g}", bytes.between(5.0, 300.0) * (bytes.one_in(2) ? -1.0 : 1.0)));
  return map(parts);
}

std::string road(Bytes& bytes) {
  std::vector<std::string> stretches;
  const std::size_t count = 1 + bytes.below(6);
  for (std::size_t k = 0; k < count; ++k) stretches.push_back(stretch(bytes, k == 0));
  return map({fmt::format("start_elevation_m: {:.6g}", bytes.between(0.0, 2500.0)), "stretches: " + list(stretches)});
}

std::string wind(Bytes& bytes) {
  std::vector<std::string> points;
  double time_min = 0.0;
  for (std::size_t k = 1 + bytes.below(3); k > 0; --k, time_min += 0.3) {
    const double speed_mps = bytes.one_in(8) ? bytes.between(0.0, 40.0) : bytes.between(0.0, 12.0);
    points.push_back(map({fmt::format("time_min: {:.6g}", time_min), fmt::format("speed_mps: {:.6g}", speed_mps),
                          fmt::format("gusts_mps: {:.6g}", speed_mps * (1.0 + bytes.between(0.0, 0.9))),
                          fmt::format("from_deg: {:.6g}", bytes.between(0.0, 360.0)),
                          fmt::format("temperature_C: {:.6g}", bytes.between(-20.0, 45.0))}));
  }
  std::vector<std::string> parts{"forecast: " + list(points), fmt::format("gusts: {}", bytes.one_of(off_on)),
                                 fmt::format("yaw_drag: {}", bytes.one_of(off_on))};
  if (bytes.one_in(4)) parts.push_back("hills: from_road");
  if (bytes.one_in(4))
    parts.push_back(fmt::format("windbreaks: [{{side: {}, kind: {}, height_m: {:.6g}, distance_m: {:.6g}}}]",
                                bytes.one_of(windbreak_side_names), bytes.one_of(windbreak_kind_names),
                                bytes.between(0.1, 60.0), bytes.between(0.0, 300.0)));
  add_numbers(bytes, wind_fields(), 2, parts);
  return map(parts);
}

std::string rider(Bytes& bytes, std::size_t k) {
  const double critical_W = bytes.one_in(8) ? bytes.between(1.0, 690.0) : bytes.between(110.0, 400.0);
  std::vector<std::string> parts{
      fmt::format("name: rider {}", static_cast<char>('a' + k)), fmt::format("critical_power_W: {:.6g}", critical_W),
      fmt::format("peak_power_W: {:.6g}", critical_W + bytes.between(5.0, 1200.0)),
      fmt::format("w_prime_J: {:.6g}", bytes.one_in(8) ? bytes.between(1.0, 1e5) : bytes.between(5e3, 3e4))};
  std::vector<NumberField<RiderSettings>> others;
  for (const NumberField<RiderSettings>& field : rider_fields()) {
    const std::string_view name = field.name;
    if (name != "critical_power_W" && name != "peak_power_W" && name != "w_prime_J") others.push_back(field);
  }
  add_numbers(bytes, others, 4, parts);
  if (bytes.one_in(4))
    parts.push_back(fmt::format("plan: [{{from_m: 0, effort: {:.6g}}}, {{from_m: 20, power_W: {:.6g}}}]",
                                bytes.between(0.2, 1.5), bytes.between(20.0, 300.0)));
  return map(parts);
}

std::string ride(Bytes& bytes) {
  std::vector<std::string> parts{
      fmt::format("kind: {}", bytes.one_of(ride_kind_names)),
      fmt::format("formation: {}", bytes.one_of(formation_names)),
      fmt::format("recovery_law: {}", bytes.one_of(recovery_law_names)),
      fmt::format("keep: {}", bytes.one_in(2) ? "left" : "right"),
      fmt::format("closed_road: {}", bytes.one_of(no_yes)),
      fmt::format("fatigue: {}", bytes.one_of(no_yes)),
      fmt::format("start_abreast: {}", 1 + bytes.below(4)),
      fmt::format("seed: {}", bytes.byte()),
      fmt::format("start_speed_mps: {:.6g}", bytes.between(0.0, 12.0)),
      fmt::format("start_gap_m: {:.6g}", bytes.between(0.1, 4.0)),
      fmt::format("step_s: {}", bytes.one_of(std::array{"0.1", "0.1", "0.05", "0.25", "0.5", "1"}))};
  if (bytes.one_in(3)) parts.push_back(fmt::format("regroup_at: [{:.6g}]", bytes.between(1.0, 50.0)));
  if (bytes.one_in(4))
    parts.push_back(
        fmt::format("stops: [{{at: {:.6g}, stop_min: {:.6g}}}]", bytes.between(1.0, 50.0), bytes.between(0.1, 1.0)));
  return map(parts);
}

std::string wake(Bytes& bytes) {
  const std::size_t law = bytes.below(wake_law_names.size());
  std::vector<std::string> parts{fmt::format("law: {}", wake_law_names[law])};
  std::visit([&](const auto& own) { add_numbers(bytes, own.fields(), 2, parts); }, wake_law(law));
  return map(parts);
}

}  // namespace

std::string made_scenario(std::string_view from) {
  Bytes bytes(from);
  std::vector<std::string> riders;
  const std::size_t count = 1 + (bytes.one_in(8) ? bytes.below(24) : bytes.below(8));
  std::string text = "title: made of bytes\nride: " + ride(bytes) + "\nroad: " + road(bytes) + "\n";
  for (std::size_t k = 0; k < count; ++k) riders.push_back("  - " + rider(bytes, k));
  text += fmt::format("riders:\n{}\n", fmt::join(riders, "\n"));
  text += "wind: " + wind(bytes) + "\n";
  text += fmt::format("air: {{temperature_C: {:.6g}, pressure_hPa: {:.6g}}}\n", bytes.between(-30.0, 50.0),
                      bytes.between(650.0, 1050.0));
  if (bytes.one_in(4)) text += "heat: yes\n";
  text += "behaviour: " + numbers(bytes, tactics_fields(), 4) + "\n";
  text += "groups: " + numbers(bytes, group_fields(), 1) + "\n";
  text += "wake: " + wake(bytes) + "\n";
  return text;
}

}  // namespace fuzz
