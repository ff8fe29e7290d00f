#include "io/what_if_json.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstring>
#include <nlohmann/json.hpp>
#include <string_view>

#include "io/json_number.hpp"

namespace leewheel {

namespace {

static_assert(std::endian::native == std::endian::little, "the page reads little-endian arrays");

using Json = nlohmann::ordered_json;

std::string base64(std::string_view bytes) {
  constexpr const char* letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  std::string text;
  for (std::size_t k = 0; k < bytes.size(); k += 3) {
    const auto byte = [&](std::size_t n) {
      return k + n < bytes.size() ? static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[k + n])) : 0u;
    };
    const std::uint32_t three = byte(0) << 16 | byte(1) << 8 | byte(2);
    for (std::size_t n = 0; n < 4; ++n) text += n <= bytes.size() - k ? letters[three >> (18 - 6 * n) & 63] : '=';
  }
  return text;
}

/// Values in steps of `step`, rounded and kept within what the type holds.
template <class Stored>
class Packed {
 public:
  explicit Packed(double step) : step_(step) {}
  void add(double value) {
    const double steps = std::isfinite(value) ? std::round(value / step_) : 0.0;
    values_.push_back(static_cast<Stored>(std::clamp(steps, static_cast<double>(std::numeric_limits<Stored>::lowest()),
                                                     static_cast<double>(std::numeric_limits<Stored>::max()))));
  }
  std::string text() const {
    return base64({reinterpret_cast<const char*>(values_.data()), values_.size() * sizeof(Stored)});
  }

 private:
  double step_;
  std::vector<Stored> values_;
};

constexpr double place_step_m = 0.02, power_step_W = 0.025;

/// Places as steps from the sample before; each is the difference of two rounded places, so that errors do not add up.
Json places(const std::vector<RideSample>& samples) {
  Packed<std::uint16_t> steps(1.0);
  Json first = Json::array();
  std::vector<double> before;
  for (const RideSample& s : samples)
    for (std::size_t i = 0; i < s.distance_m.size(); ++i) {
      const double at = std::round(s.distance_m[i] / place_step_m);
      if (before.size() <= i) before.push_back(at), first.push_back(at);
      steps.add(at - before[i]);
      before[i] = std::max(before[i], at);  // nobody rolls back
    }
  return {{"first", first}, {"steps", steps.text()}};
}

template <class Stored, class Value>
std::string column(const RecordedRide& ride, double step, Value value) {
  Packed<Stored> packed(step);
  for (std::size_t k = 0; k < ride.samples.size(); ++k)
    for (std::size_t i = 0; i < ride.finish_s.size(); ++i) packed.add(value(ride.samples[k], ride.worth[k], i));
  return packed.text();
}

/// Power alone and power saved by piece of road: each rider's, then the mean's.
Json strips(const RecordedRide& ride) {
  Packed<std::int16_t> alone(power_step_W), saved(power_step_W);
  const auto add = [&](const std::vector<SavedPiece>& pieces) {
    for (const SavedPiece& piece : pieces) alone.add(piece.alone_W), saved.add(piece.saved_W);
  };
  for (std::size_t i = 0; i < ride.finish_s.size(); ++i) add(ride.saved.of(i));
  add(ride.saved.mean());
  return {{"alone", alone.text()}, {"saved", saved.text()}};
}

Json numbers(const std::vector<double>& values, double per, int decimals) {
  Json list = Json::array();
  for (const double value : values) list.push_back(json_number(value / per, decimals));
  return list;
}

Json ride_json(const Scenario& scenario, const RecordedRide& ride, const std::vector<Caption>& captions) {
  using S = RideSample;
  using W = std::vector<Worth>;
  Packed<std::uint32_t> times(0.1);
  for (const RideSample& sample : ride.samples) times.add(sample.time_s);
  const auto power = [](const S& s, const W&, std::size_t i) { return s.power_W[i]; };
  const auto saved = [](const S& s, const W&, std::size_t i) { return s.alone_power_W[i] - s.power_W[i]; };
  const auto left = [&](const S& s, const W&, std::size_t i) { return s.wbal_J[i] / scenario.riders[i].w_prime_J; };
  Json told = Json::array();
  for (const Caption& caption : captions) told.push_back({{"t", json_number(caption.time_s, 1)}, {"words", caption.words}});
  return {{"time", times.text()},
          {"place", places(ride.samples)},
          {"side", column<std::int8_t>(ride, 0.05, [](const S& s, const W&, std::size_t i) { return s.lateral_m[i]; })},
          {"power", column<std::uint16_t>(ride, power_step_W, power)},
          {"saved", column<std::int16_t>(ride, power_step_W, saved)},
          {"wbal", column<std::uint8_t>(ride, 0.005, left)},
          {"group", column<std::int16_t>(ride, 1.0, [](const S& s, const W&, std::size_t i) { return s.group_id[i]; })},
          {"role", column<std::uint8_t>(ride, 1.0, [](const S& s, const W&, std::size_t i) { return s.role[i]; })},
          {"worth", column<std::uint8_t>(ride, 0.5, [](const S&, const W& w, std::size_t i) { return w[i].saved_W; })},
          {"aside", column<std::int8_t>(ride, 0.01, [](const S&, const W& w, std::size_t i) { return w[i].aside_m; })},
          {"strip", strips(ride)},
          {"finish_s", numbers(ride.finish_s, 1.0, 1)},
          {"mean_W", numbers(ride.mean_power_W, 1.0, 1)},
          {"work_kJ", numbers(ride.pedal_J, 1e3, 1)},
          {"saved_kJ", numbers(ride.saved_J, 1e3, 1)},
          {"captions", told}};
}

Json road_json(const Road& road) {
  constexpr std::size_t heights = 400;
  Json elevation = Json::array(), landmarks = Json::array();
  for (std::size_t k = 0; k <= heights; ++k)
    elevation.push_back(json_number(road.elevation_m(road.length_m() * static_cast<double>(k) / heights), 1));
  for (const Landmark& mark : road.landmarks())
    landmarks.push_back({{"name", mark.name}, {"m", json_number(mark.distance_m, 0)}});
  return {{"length_m", json_number(road.length_m(), 1)},
          {"width_m", json_number(road.width_m(0.5 * road.length_m()), 1)},
          {"elevation_m", elevation},
          {"landmarks", landmarks}};
}

}  // namespace

std::string what_if_json(const Scenario& scenario, const WhatIfs& rides,
                         const std::array<std::array<std::vector<Caption>, company_cases>, wind_cases.size()>& captions) {
  Json all{{"road", road_json(scenario.road)}, {"riders", Json::array()}};
  double scale_W = 0.0;
  for (const RiderSettings& rider : scenario.riders) all["riders"].push_back(rider.name);
  Json ridden = Json::array();
  for (std::size_t wind = 0; wind < wind_cases.size(); ++wind) {
    ridden.push_back(Json::array());
    for (std::size_t company = 0; company < company_cases; ++company) {
      scale_W = std::max(scale_W, rides.rides[wind][company].saved.scale_W());
      ridden.back().push_back(ride_json(scenario, rides.rides[wind][company], captions[wind][company]));
    }
  }
  all["scale_W"] = scale_W, all["pieces"] = SavedAlong::pieces, all["place_step_m"] = place_step_m,
  all["power_step_W"] = power_step_W;
  all["rides"] = ridden;
  std::string text = all.dump();
  for (std::size_t at = 0; (at = text.find('<', at)) != std::string::npos; at += 6) text.replace(at, 1, "\\u003c");
  return text;
}

}  // namespace leewheel
