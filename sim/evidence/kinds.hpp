#pragma once
/// The kinds of rows: what each needs, what it works out. One source file a subject.

#include <functional>
#include <span>
#include <string_view>
#include <vector>

#include "evidence/row.hpp"
#include "io/yaml_reader.hpp"

namespace leewheel::evidence {

struct Kind {
  std::string_view name;
  std::string_view about;                    ///< one line
  std::vector<std::string_view> quantities;  ///< names it may be asked for
  Work (*read)(YamlMap& given);              ///< reads what it needs, faults and all; the work is called only without faults
};

std::span<const Kind> kinds();
const Kind* kind_named(std::string_view name);

std::vector<Kind> power_kinds();
std::vector<Kind> motion_kinds();
std::vector<Kind> air_kinds();
std::vector<Kind> wind_kinds();
std::vector<Kind> wake_kinds();
std::vector<Kind> strength_kinds();
std::vector<Kind> group_kinds();
std::vector<Kind> group_ride_kinds();
std::vector<Kind> company_kinds();
std::vector<Kind> setting_kinds();

}  // namespace leewheel::evidence
