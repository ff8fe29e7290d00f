#include "io/learned_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>

#include "leewheel/units.hpp"
#include "words/day_clock.hpp"

namespace leewheel {

namespace {

std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : text) out += c == '"' || c == '\\' ? std::string("\\") + c : std::string(1, c);
  return out + '"';
}

std::string file_name(const std::string& path) { return std::filesystem::path(path).filename().string(); }

std::string date_of(const Debrief& told) {
  if (told.begin_s <= 0.0) return "";
  const std::chrono::local_seconds start{std::chrono::seconds(std::lround(told.begin_s))};
  return DayClock(start).iso(0.0).substr(0, 10);
}

/// What a learned number changes in a rider of a scenario.
std::string laid_over(const LearnedEntry& entry, const RiderSettings& rider) {
  const std::string from = fmt::format("  # ± {:.3g}, before {:.4g} ± {:.2g}; {}\n", entry.sd, entry.before, entry.before_sd,
                                       entry.rests_on.empty() ? entry.recording : entry.rests_on);
  if (entry.number == "drag_area_hoods_m2") {
    const double share = entry.value / rider.drag_area_hoods_m2;
    return fmt::format(
        "    drag_area_hoods_m2: {:.4f}{}    drag_area_drops_m2: {:.4f}  # by the same share\n"
        "    drag_area_upright_m2: {:.4f}  # by the same share\n",
        entry.value, from, share * rider.drag_area_drops_m2, share * rider.drag_area_upright_m2);
  }
  if (entry.number == "total_mass_kg")
    return fmt::format("    body_mass_kg: {:.1f}{}", entry.value - rider.kit_mass_kg - rider.bike_mass_kg, from);
  if (entry.number == "critical_power_W") return fmt::format("    critical_power_W: {:.0f}{}", entry.value, from);
  return "";
}

}  // namespace

std::vector<LearnedEntry> learned_entries(const DebriefInput& input, const Debrief& told) {
  static constexpr const char* names[] = {"drag_area_hoods_m2",     "power_scale", "total_mass_kg",
                                          "drag_factor_in_company", "rolling",     "wind_speed_mps",
                                          "wind_from_deg"};
  std::vector<LearnedEntry> entries;
  std::vector<std::string> file(input.scenario.riders.size());
  std::string all;
  for (std::size_t k = 0; k < input.recordings.size(); ++k) {
    file[input.recorded[k]] = file_name(input.recordings[k].file);
    all += (k > 0 ? ", " : "") + file_name(input.recordings[k].file);
  }
  for (const LearnedNumber& n : told.numbers) {
    if (n.wants != Missing::nothing) continue;  // has no value worth keeping
    const bool own = n.what <= Number::company;
    std::string name = names[static_cast<std::size_t>(n.what)];
    if (n.what == Number::rolling) name += "_" + std::string(surface_names[n.of]);
    if (n.what >= Number::wind_speed && n.of > 0) name += fmt::format("_after_{}h", n.of);
    const double unit = n.what == Number::wind_from ? deg_from_rad(1.0) : 1.0;
    entries.push_back({own ? input.scenario.riders[n.of].name : "", name, unit * n.after, unit * n.after_sd, unit * n.before,
                       unit * n.before_sd, std::string(how_sure_names[static_cast<std::size_t>(n.sure)]),
                       own ? file[n.of] : all});
  }
  for (const RiderDebrief& rider : told.riders) {
    const StrengthTold& s = rider.strength;
    if (s.kind == StrengthTold::Kind::none) continue;
    const RiderSettings& settings = input.scenario.riders[rider.rider];
    const bool all_out = s.kind == StrengthTold::Kind::all_out;
    entries.push_back({settings.name, "critical_power_W", s.critical_power_W, all_out ? s.sd_W : 0.0,
                       settings.critical_power_W, s.before_sd_W,
                       all_out ? std::string(how_sure_names[static_cast<std::size_t>(s.sure)]) : "at least",
                       file[rider.rider]});
  }
  return entries;
}

namespace {

std::string yaml_of(const std::vector<LearnedEntry>& entries, const std::vector<RiderSettings>& settings,
                    const std::string& title, const std::string& date) {
  std::string text =
      "# Learned by leewheel. Lay it over a scenario with  learned: {file: learned.yaml}\n"
      "# Spreads are one standard deviation. Under riders stands only what was learned.\n";
  text += fmt::format("ride: {{title: {}, date: {}}}\n", quoted(title), quoted(date));
  std::string riders;
  for (const RiderSettings& rider : settings) {
    std::string own;
    for (const LearnedEntry& e : entries)
      if (e.rider == rider.name && e.how_sure == "learned") own += laid_over(e, rider);
    if (!own.empty()) riders += fmt::format("  - name: {}\n{}", quoted(rider.name), own);
  }
  text += riders.empty() ? "riders: []\n" : "riders:\n" + riders;
  text += entries.empty() ? "numbers: []\n" : "numbers:\n";
  for (const LearnedEntry& e : entries)
    text +=
        fmt::format("  - {{{}number: {}, value: {:.6g}, {}before: {:.6g}, before_sd: {:.4g}, how_sure: {}, {}: {}}}\n",
                    e.rider.empty() ? "" : fmt::format("rider: {}, ", quoted(e.rider)), e.number, e.value,
                    e.sd > 0.0 ? fmt::format("sd: {:.4g}, ", e.sd) : "", e.before, e.before_sd, e.how_sure,
                    e.rests_on.empty() ? "recording" : "rests_on", quoted(e.rests_on.empty() ? e.recording : e.rests_on));
  return text;
}

}  // namespace

std::string learned_yaml(const DebriefInput& input, const Debrief& told) {
  return yaml_of(learned_entries(input, told), input.scenario.riders, input.scenario.title, date_of(told));
}

std::string kept_yaml(const LearnedWeeks& kept, const std::vector<RiderSettings>& riders) {
  return yaml_of(kept.numbers, riders, "several rides", kept.date);
}

LearnedFile read_learned(const std::string& path, Faults& faults) {
  LearnedFile learned;
  YamlFile file(path, faults);
  if (!file.readable()) return learned;
  YamlMap root(file.root());
  YamlMap ride(root.require("ride", "a learned.yaml of leewheel debrief, which names its ride"));
  ride["title"].text(learned.title);
  const YamlValue date = ride["date"];
  if (date.given() && date.node()->scalar.size() > 0) date.text(learned.date);
  (void)root["riders"];
  for (const YamlValue& item : root.require("numbers", "the numbers of a ride").items()) {
    YamlMap map(item);
    LearnedEntry entry;
    map["rider"].text(entry.rider);
    map.require("number", "the name of a number").text(entry.number);
    map.require("value", "a number").number({}, entry.value);
    map["sd"].number({0.0}, entry.sd);
    map["before"].number({}, entry.before);
    map["before_sd"].number({0.0}, entry.before_sd);
    map.require("how_sure", "how sure it is").text(entry.how_sure);
    const YamlValue recording = map["recording"];
    if (recording.given() && !recording.node()->scalar.empty()) recording.text(entry.recording);
    map["rests_on"].text(entry.rests_on);
    learned.numbers.push_back(std::move(entry));
  }
  return learned;
}

void lay_learned(const YamlValue& value, std::vector<RiderSettings>& riders) {
  if (!value.given()) return;
  YamlMap map(value);
  std::string path;
  if (!map.require("file", "the name of a file").neighbour(path)) return;
  YamlFile file(path, value.file().faults());
  if (!file.readable()) return;
  YamlMap root(file.root());
  (void)root["ride"], (void)root["numbers"];
  for (const YamlValue& item : root.require("riders", "a list of riders").items()) {
    YamlMap one(item);
    std::string name;
    one.require("name", "a name").name(name);
    RiderSettings elsewhere;
    const auto found = std::find_if(riders.begin(), riders.end(), [&](const RiderSettings& r) { return r.name == name; });
    one.numbers(rider_fields(), found == riders.end() ? elsewhere : *found);
  }
}

}  // namespace leewheel
