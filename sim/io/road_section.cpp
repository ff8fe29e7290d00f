/// Which road a scenario means.

#include "io/road_section.hpp"

#include "io/file_kind.hpp"
#include "io/road_parts.hpp"
#include "io/track_import.hpp"

namespace leewheel {

namespace {

constexpr const char* track_keys[] = {"smoothing_m", "from_km", "to_km", "reverse", "bridge_gaps"};

bool read_track_options(YamlMap& map, TrackOptions& options) {
  const std::size_t faults_before = map.value().file().faults().count();
  double smoothing_m = 0.0, from_km = 0.0, to_km = 0.0;
  if (map["smoothing_m"].number({5.0, 1000.0}, smoothing_m)) options.smoothing_m = smoothing_m;
  if (map["from_km"].number({0.0, 1e5}, from_km)) options.from_m = 1e3 * from_km;
  if (map["to_km"].number({0.0, 1e5, true}, to_km)) options.to_m = 1e3 * to_km;
  map["reverse"].choice(no_yes, options.reverse);
  map["bridge_gaps"].choice(no_yes, options.bridge_gaps);
  return map.value().file().faults().count() == faults_before;
}

std::optional<NamedRoad> road_of_track(const YamlValue& track, YamlMap& map) {
  std::string path;
  TrackOptions options;
  const bool good = read_track_options(map, options);
  if (!track.neighbour(path) || !good) return std::nullopt;
  try {
    RoadProfile profile = import_track(path, options).profile;
    std::vector<Landmark> places = profile.landmarks;
    return NamedRoad{std::move(profile), std::move(places), true};
  } catch (const InputFault& fault) {
    for (const Fault& one : fault.faults()) track.file().faults().add(one);
    return std::nullopt;
  }
}

std::optional<NamedRoad> road_of_file(const YamlValue& file) {
  std::string path;
  if (!file.neighbour(path)) return std::nullopt;
  if (!is_track_file(path)) return read_road_file(path, file.file().faults());
  file.refuse("a road in YAML; a recorded track is given as track: instead of file:");
  return std::nullopt;
}

}  // namespace

std::optional<NamedRoad> read_road_part(const YamlValue& value) {
  if (!value.given()) return std::nullopt;
  YamlMap map(value);
  if (!value.is_map()) return std::nullopt;
  const YamlValue file = map["file"], track = map["track"];
  for (const char* key : track_keys)
    if (!track.given() && map[key].given()) map[key].fault("found without track, expected beside it only");
  if (!file.given() && !track.given()) return read_described_road(map);
  std::optional<NamedRoad> road;
  if (map.one_of("file", "track")) road = file.given() ? road_of_file(file) : road_of_track(track, map);
  NamedRoad unknown = stand_in_road();
  read_marks(map, road ? *road : unknown);
  return road;
}

}  // namespace leewheel
