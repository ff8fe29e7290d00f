/// debrief_stretches.csv.

#include "io/csv.hpp"
#include "io/debrief_files.hpp"

namespace leewheel {

std::string debrief_stretches_csv(const DebriefInput& input, const Debrief& told) {
  std::vector<std::string> head{
      "rider",           "from",    "to",         "from_m", "to_m", "planned_s", "ridden_s", "planned_stood_s", "stood_s",
      "planned_power_W", "power_W", "alone_share"};
  for (const std::string_view factor : factor_names) head.push_back(std::string(factor) + "_s");
  std::string text = csv_row(head);
  for (const RiderDebrief& rider : told.riders)
    for (const DebriefStretch& s : rider.stretches) {
      std::vector<std::string> cells{csv_cell(input.scenario.riders[rider.rider].name),
                                     csv_cell(s.from),
                                     csv_cell(s.to),
                                     csv_cell(s.from_m, 0),
                                     csv_cell(s.to_m, 0),
                                     csv_cell(s.planned_s, 1),
                                     csv_cell(s.ridden_s, 1),
                                     csv_cell(s.planned_stood_s, 0),
                                     csv_cell(s.stood_s, 0),
                                     csv_cell(s.planned_power_W, 0),
                                     csv_cell(s.power_W, 0),
                                     csv_cell(s.alone_share, 3)};
      for (std::size_t k = 0; k < factors; ++k)
        cells.push_back(rider.has_part(static_cast<Factor>(k)) ? csv_cell(s.part_s[k], 1) : "");
      text += csv_row(cells);
    }
  return text;
}

}  // namespace leewheel
