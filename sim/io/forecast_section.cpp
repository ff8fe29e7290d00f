#include "io/forecast_section.hpp"

#include <fmt/format.h>

#include <cctype>
#include <cmath>

#include "leewheel/compass.hpp"

namespace leewheel {

namespace {

constexpr Range speed_mps_range{0.0, 40.0}, speed_kmh_range{0.0, 144.0};
constexpr Range gust_mps_range{0.0, 80.0}, gust_kmh_range{0.0, 288.0};
constexpr const char* direction_meaning = "where the wind comes from, clockwise from north";

/// "west-south-west", "West South-West" and "wsw" all become "wsw".
std::string letters_of(std::string_view text) {
  std::string lower;
  for (const char c : text)
    if (c != '-' && c != ' ' && c != '_') lower += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  std::string letters;
  for (std::size_t at = 0; at < lower.size();) {
    bool found = false;
    for (const std::string_view word : {"north", "east", "south", "west"})
      if (lower.compare(at, word.size(), word) == 0) {
        letters += word.front();
        at += word.size();
        found = true;
        break;
      }
    if (!found) letters += lower[at++];
  }
  return letters;
}

std::string lower_case(std::string_view text) {
  std::string lower(text);
  for (char& c : lower) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return lower;
}

/// Degrees or a point of the compass.
bool read_direction(const YamlValue& value, double& from_rad) {
  if (!value.given()) return false;
  double from_deg = 0.0;
  if (value.is_number()) {
    if (!value.number({0.0, 360.0}, from_deg)) return false;
    from_rad = rad_from_deg(from_deg);
    return true;
  }
  std::string text;
  if (!value.text(text)) return false;
  const std::string letters = letters_of(text);
  std::vector<std::string> words;
  for (std::size_t k = 0; k < compass_points.size(); ++k) {
    if (lower_case(compass_points[k]) == letters) {
      from_rad = rad_from_deg(22.5 * static_cast<double>(k));
      return true;
    }
    words.emplace_back(compass_points[k]);
  }
  for (const char* word : {"north", "east", "south", "west", "north-east", "south-east", "south-west", "north-west"})
    words.emplace_back(word);
  const std::string nearest = text.size() > 3 ? nearest_name(lower_case(text), words) : "";
  value.refuse(nearest.empty() ? fmt::format("degrees from north (0 to 360) or one of {}", listed(compass_points))
                               : fmt::format("degrees or a point of the compass, such as '{}'", nearest));
  return false;
}

/// Speed, direction and gusts, as a forecast's line and the short form have them.
void read_wind_of(YamlMap& map, ForecastPoint& point) {
  double speed_kmh = 0.0, gust = 0.0;
  map.one_of("speed_mps", "speed_kmh");
  map["speed_mps"].number(speed_mps_range, point.speed_mps);
  if (map["speed_kmh"].number(speed_kmh_range, speed_kmh)) point.speed_mps = mps_from_kmh(speed_kmh);
  const YamlValue from = map["from"], from_deg = map["from_deg"];
  double degrees = 0.0;
  if (from.given() && from_deg.given()) map.value().fault("found both from and from_deg, expected one of them");
  if (from.given())
    read_direction(from, point.from_rad);
  else if (map.require("from_deg", direction_meaning).number({0.0, 360.0}, degrees))
    point.from_rad = rad_from_deg(degrees);
  const YamlValue mps = map["gusts_mps"], kmh = map["gusts_kmh"];
  if (mps.given() && kmh.given()) map.value().fault("found both gusts_mps and gusts_kmh, expected one of them");
  if (mps.number(gust_mps_range, gust)) point.gust_mps = gust;
  if (kmh.number(gust_kmh_range, gust)) point.gust_mps = mps_from_kmh(gust);
  if (point.gust_mps && *point.gust_mps < point.speed_mps)
    (kmh.given() ? kmh : mps)
        .refuse(kmh.given() ? fmt::format("at least the speed, which is {:g} km/h", kmh_from_mps(point.speed_mps))
                            : fmt::format("at least the speed, which is {:g} m/s", point.speed_mps));
}

/// By the clock (`time`), or after the start; below 0 it is before the start.
void read_time(YamlMap& map, const StartTime& start, std::optional<double> after_s, ForecastPoint& point) {
  const YamlValue by_clock = map["time"], after_start_s = map["time_s"], after_start_min = map["time_min"];
  if (by_clock.given() && (after_start_s.given() || after_start_min.given()))
    by_clock.fault("found beside time_min or time_s, expected one of them");
  if (by_clock.given()) {
    read_clock_time(by_clock, start, after_s, point.time_s);
    return;
  }
  double time_min = 0.0;
  map.one_of("time_min", "time_s");
  after_start_s.number({-7 * 86400.0, 7 * 86400.0}, point.time_s);
  if (after_start_min.number({-7 * 1440.0, 7 * 1440.0}, time_min)) point.time_s = 60.0 * time_min;
}

ForecastPoint read_forecast_point(const YamlValue& item, const StartTime& start, std::optional<double> after_s) {
  YamlMap map(item);
  ForecastPoint point;
  double temperature_C = 0.0, pressure_hPa = 0.0, humidity_percent = 0.0;
  read_time(map, start, after_s, point);
  read_wind_of(map, point);
  if (map["temperature_C"].number({-30.0, 50.0}, temperature_C)) point.temperature_C = temperature_C;
  if (map["pressure_hPa"].number({450.0, 1100.0}, pressure_hPa)) point.pressure_Pa = 100.0 * pressure_hPa;
  if (map["humidity_percent"].number({0.0, 100.0}, humidity_percent)) point.humidity_fraction = humidity_percent / 100.0;
  return point;
}

}  // namespace

std::vector<ForecastPoint> read_points(const std::vector<YamlValue>& items, const StartTime& start) {
  std::vector<ForecastPoint> forecast;
  for (const YamlValue& item : items) {
    const std::size_t faults_before = item.file().faults().count();
    const std::optional<double> after_s = forecast.empty() ? std::nullopt : std::optional(forecast.back().time_s);
    forecast.push_back(read_forecast_point(item, start, after_s));
    const bool good = item.file().faults().count() == faults_before;
    if (good && forecast.size() > 1 && forecast.back().time_s <= forecast[forecast.size() - 2].time_s)
      item.fault(fmt::format("found time {:g} s after {:g} s, expected rising times", forecast.back().time_s,
                             forecast[forecast.size() - 2].time_s));
  }
  return forecast;
}

namespace {

/// A list, or the name of a CSV file. Empty when it was a fault.
std::vector<ForecastPoint> read_forecast(const YamlValue& value, const StartTime& start) {
  if (value.given() && value.node()->kind == YamlNode::Kind::scalar) {
    std::string path;
    return value.neighbour(path) ? read_forecast_csv(path, start, value.file().faults()) : std::vector<ForecastPoint>{};
  }
  const std::vector<ForecastPoint> forecast = read_points(value.items(), start);
  if (value.is_list() && forecast.empty()) value.fault("found an empty list, expected at least one time");
  return forecast;
}

}  // namespace

void read_forecast_or_short(YamlMap& map, const StartTime& start, std::vector<ForecastPoint>& into) {
  bool short_form = false;
  for (const char* key : {"from", "from_deg", "speed_mps", "speed_kmh", "gusts_mps", "gusts_kmh"})
    short_form |= map[key].given();
  const YamlValue list = map["forecast"];
  if (short_form && list.given()) list.fault("found beside a wind in short form (from, speed), expected one way");
  if (short_form) {
    ForecastPoint point;
    read_wind_of(map, point);
    into = {point};
    return;
  }
  std::vector<ForecastPoint> forecast =
      read_forecast(map.require("forecast", "a list of times, speeds and directions"), start);
  if (!forecast.empty()) into = std::move(forecast);
}

}  // namespace leewheel
