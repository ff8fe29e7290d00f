/// The program's own defaults, set beside what was measured.

#include <algorithm>
#include <array>
#include <optional>

#include "evidence/given.hpp"
#include "evidence/kinds.hpp"
#include "leewheel/groups.hpp"
#include "leewheel/ride.hpp"
#include "leewheel/rider.hpp"
#include "leewheel/tactics.hpp"
#include "leewheel/wind.hpp"

namespace leewheel::evidence {
namespace {

template <class Settings>
std::optional<double> value_in(std::span<const NumberField<Settings>> fields, const std::string& name) {
  for (const auto& field : fields)
    if (field.name == name) return Settings{}.*field.member;
  return std::nullopt;
}

template <class Settings>
void names_in(std::span<const NumberField<Settings>> fields, std::vector<std::string>& names) {
  for (const auto& field : fields) names.emplace_back(field.name);
}

std::optional<double> default_of(const std::string& name) {
  for (const auto& found : {value_in(rider_fields(), name), value_in(tactics_fields(), name), value_in(group_fields(), name),
                            value_in(ride_fields(), name), value_in(wind_fields(), name)})
    if (found) return found;
  std::optional<double> found;
  for (std::size_t n = 0; n < wake_law_names.size() && !found; ++n)
    found = std::visit([&](const auto& law) { return value_in(law.fields(), name); }, wake_law(n));
  return found;
}

std::vector<std::string> all_names() {
  std::vector<std::string> names;
  names_in(rider_fields(), names);
  names_in(tactics_fields(), names);
  names_in(group_fields(), names);
  names_in(ride_fields(), names);
  names_in(wind_fields(), names);
  for (std::size_t n = 0; n < wake_law_names.size(); ++n)
    std::visit([&](const auto& law) { names_in(law.fields(), names); }, wake_law(n));
  return names;
}

Work read_setting(YamlMap& given) {
  std::string name;
  const YamlValue value = given.require("name", "the name of a setting");
  value.text(name);
  const std::optional<double> found = default_of(name);
  if (!name.empty() && !found) {
    const std::string nearest = nearest_name(name, all_names());
    value.refuse(nearest.empty() ? "the name of a setting as scenarios have it" : nearest);
  }
  return [value = found.value_or(0.0)](const WakeLaw&) -> Quantities { return {{"value", {value}}}; };
}

Work read_surface(YamlMap& given) {
  Surface surface = Surface::smooth_asphalt;
  given.require("surface", "a surface").choice(surface_names, surface);
  return [=](const WakeLaw&) -> Quantities { return {{"rolling", {rolling_coefficient(surface)}}}; };
}

}  // namespace

std::vector<Kind> setting_kinds() {
  return {{"setting", "a default of the program", {"value"}, read_setting},
          {"surface", "rolling coefficient of a surface", {"rolling"}, read_surface}};
}

}  // namespace leewheel::evidence
