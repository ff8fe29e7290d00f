#include "pages/debrief_page.hpp"

#include <fmt/format.h>

#include <cmath>

#include "pages/template.hpp"
#include "words/day_clock.hpp"
#include "words/plain_text.hpp"

namespace leewheel {

namespace {

PageList list_of(const std::vector<std::string>& lines) {
  PageList list;
  for (const std::string& line : lines) list.push_back(PageValue(line));
  return list;
}

/// A cell of a table with what stands above it, which a phone shows beside it.
PageValue cell(const std::string& label, const std::string& text) {
  PageData data;
  data["label"] = label, data["text"] = text;
  return PageValue(data);
}

/// One picture, drawn for a screen and for a phone.
template <class Draw>
PageValue picture(const Draw& draw) {
  PageData data;
  data["wide"] = draw(PictureWidth::screen), data["narrow"] = draw(PictureWidth::phone);
  return PageValue(data);
}

std::string signed_s(double s) { return std::lround(s) == 0 ? "0" : fmt::format("{:+.0f}", s); }

PageData rider_data(const Debriefed& d, const RiderDebrief& rider, std::size_t number) {
  PageData data;
  data["number"] = std::to_string(number);
  data["name"] = d.name(rider.rider);
  PageList pictures, factors_list, rows;
  if (!rider.along.distance_m.empty()) {
    pictures.push_back(picture([&](PictureWidth width) { return power_picture(d, rider, width); }));
    pictures.push_back(picture([&](PictureWidth width) { return time_picture(d, rider, width); }));
  }
  for (std::size_t k = 0; k < factors; ++k)
    factors_list.push_back(PageValue(std::string(factor_text(static_cast<Factor>(k)))));
  for (const DebriefStretch& s : rider.stretches) {
    PageData row;
    PageList cells{cell("planned", clock_text(s.planned_s)), cell("ridden", clock_text(s.ridden_s)),
                   cell("W planned", number_text(s.planned_power_W, 0)), cell("W", number_text(s.power_W, 0))};
    for (std::size_t k = 0; k < factors; ++k) {
      const auto factor = static_cast<Factor>(k);
      cells.push_back(cell(factor_text(factor), rider.has_part(factor) ? signed_s(s.part_s[k]) : "–"));
    }
    row["to"] = s.to;
    row["cells"] = PageValue(cells);
    rows.push_back(PageValue(row));
  }
  data["pictures"] = PageValue(pictures);
  data["has_stretches"] = PageValue(!rows.empty());
  data["factors"] = PageValue(factors_list);
  data["stretches"] = PageValue(rows);
  return data;
}

PageList numbers_data(const Debriefed& d) {
  std::vector<NumberRow> rows = strength_rows(d);
  for (const LearnedNumber& number : d.told.numbers) rows.push_back(number_row(d, number));
  PageList list;
  for (const NumberRow& row : rows) {
    PageData data;
    data["what"] = row.what, data["before"] = row.before, data["after"] = row.after, data["sure"] = row.sure;
    data["says"] = row.says;
    list.push_back(PageValue(data));
  }
  return list;
}

std::string day_text(const Debriefed& d) {
  if (d.told.begin_s <= 0.0) return "";
  const DayClock clock(std::chrono::local_seconds{std::chrono::seconds(std::lround(d.told.begin_s))});
  return clock.date() + ", set off at " + clock.at(0.0) + " UTC";
}

}  // namespace

std::string debrief_html(const Debriefed& d) {
  PageData data;
  std::vector<std::string> time, remarks;
  PageList riders;
  for (const RiderDebrief& rider : d.told.riders) {
    time.push_back(d.told.planned ? where_time_went(d, rider)
                                  : fmt::format("{}: ridden in {}.", d.name(rider.rider), clock_text(rider.ridden_s)));
    for (const std::string& remark : recording_remarks(d, rider)) remarks.push_back(remark);
    if (d.told.planned) riders.push_back(PageValue(rider_data(d, rider, riders.size() + 1)));
  }
  for (const std::string& remark : whole_remarks(d)) remarks.push_back(remark);
  if (remarks.empty()) remarks.push_back("Nothing to remark.");
  data["title"] = d.input.scenario.title;
  data["day"] = if_any(day_text(d));
  data["recorded"] = fmt::format("{} of {}", d.told.riders.size(), counted(d.input.scenario.riders.size(), "rider"));
  data["way"] = fmt::format("{:.1f} {}", d.units.way(d.input.scenario.road.length_m()), d.units.way_name());
  data["time"] = PageValue(list_of(time));
  data["planned"] = PageValue(d.told.planned);
  data["gaps"] = PageValue(PageList{picture([&](PictureWidth width) { return gap_picture(d, width); })});
  data["riders"] = PageValue(riders);
  PageList company;
  if (!d.told.company.empty()) company.push_back(picture([&](PictureWidth width) { return company_picture(d, width); }));
  data["company"] = PageValue(company);
  data["waits"] = PageValue(list_of(waits_told(d)));
  data["came_off"] = PageValue(list_of(came_off_told(d)));
  data["numbers"] = PageValue(numbers_data(d));
  data["remarks"] = PageValue(list_of(remarks));
  data["cautions"] = PageValue(list_of({std::begin(debrief_cautions), std::end(debrief_cautions)}));
  data["version"] = std::string(LEEWHEEL_VERSION);
  return filled_page(debrief_template, data);
}

}  // namespace leewheel
