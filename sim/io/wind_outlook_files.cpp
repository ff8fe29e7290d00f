#include "io/wind_outlook_files.hpp"

#include "io/csv.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"

namespace leewheel {

namespace {

struct OutlookColumn {
  const char* name;
  int csv_decimals;
  double (*value)(const OutlookRow&);
};
constexpr OutlookColumn columns[] = {
    {"distance_m", 1, [](const OutlookRow& r) { return r.distance_m; }},
    {"time_s", 1, [](const OutlookRow& r) { return r.time_s; }},
    {"speed_mps", 3, [](const OutlookRow& r) { return r.speed_mps; }},
    {"open_mps", 3, [](const OutlookRow& r) { return r.open_mps; }},
    {"open_from_deg", 1, [](const OutlookRow& r) { return deg_from_rad(r.open_from_rad); }},
    {"rider_mps", 3, [](const OutlookRow& r) { return r.rider_mps; }},
    {"head_mps", 3, [](const OutlookRow& r) { return r.head_mps; }},
    {"from_left_mps", 3, [](const OutlookRow& r) { return r.from_left_mps; }},
    {"yaw_deg", 2, [](const OutlookRow& r) { return deg_from_rad(r.yaw_rad); }},
    {"air_mps", 3, [](const OutlookRow& r) { return r.air_mps; }},
    {"gust_intensity", 3, [](const OutlookRow& r) { return r.gust_intensity; }},
    {"gust_least_mps", 3, [](const OutlookRow& r) { return r.gust_least_mps; }},
    {"gust_mps", 3, [](const OutlookRow& r) { return r.gust_mps; }},
    {"side_force_N", 2, [](const OutlookRow& r) { return r.side_force_N; }},
    {"gust_side_force_N", 2, [](const OutlookRow& r) { return r.gust_side_force_N; }},
    {"land_share", 3, [](const OutlookRow& r) { return r.land_share; }},
    {"hill_share", 3, [](const OutlookRow& r) { return r.hill_share; }},
};
constexpr int json_decimals = 3;

std::string_view name_of(Exposure exposure) { return exposure_names[static_cast<std::size_t>(exposure)]; }

}  // namespace

std::string outlook_json(const Scenario& scenario, const Outlook& outlook) {
  using Json = nlohmann::ordered_json;
  Json json{{"layout_version", json_layout::wind},
            {"title", scenario.title},
            {"times_of", outlook.rider},
            {"gusts_in_ride", outlook.gusty},
            {"rows", Json::array()}};
  for (const OutlookRow& r : outlook.rows) {
    Json row;
    for (const OutlookColumn& column : columns) row[column.name] = json_number(column.value(r), json_decimals);
    row["exposure_left"] = name_of(r.exposure_left);
    row["exposure_right"] = name_of(r.exposure_right);
    json["rows"].push_back(std::move(row));
  }
  return json_text(json) + "\n";
}

std::string outlook_csv(const Outlook& outlook) {
  std::vector<std::string> cells;
  for (const OutlookColumn& column : columns) cells.emplace_back(column.name);
  cells.insert(cells.end(), {"exposure_left", "exposure_right"});
  std::string text = csv_row(cells);
  for (const OutlookRow& r : outlook.rows) {
    cells.clear();
    for (const OutlookColumn& column : columns) cells.push_back(csv_cell(column.value(r), column.csv_decimals));
    cells.insert(cells.end(), {csv_cell(name_of(r.exposure_left)), csv_cell(name_of(r.exposure_right))});
    text += csv_row(cells);
  }
  return text;
}

}  // namespace leewheel
