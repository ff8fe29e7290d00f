/// debrief.json: everything that was told, in SI units.

#include <fmt/format.h>

#include <cmath>
#include <filesystem>

#include "io/debrief_files.hpp"
#include "io/json_layouts.hpp"
#include "io/json_number.hpp"
#include "leewheel/units.hpp"
#include "words/day_clock.hpp"

namespace leewheel {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::array<std::string_view, 7> number_names{"drag_area_hoods_m2",     "power_scale", "total_mass_kg",
                                                       "drag_factor_in_company", "rolling",     "wind_speed_mps",
                                                       "wind_from_deg"};

Json parts_json(const RiderDebrief& rider, const TimeParts& parts) {
  Json out;
  for (std::size_t k = 0; k < factors; ++k)
    out[std::string(factor_names[k]) + "_s"] =
        rider.has_part(static_cast<Factor>(k)) ? json_number(parts[k], 1) : Json(nullptr);
  return out;
}

class Writer {
 public:
  Writer(const DebriefInput& input, const Debrief& told, bool heart_rate)
      : input_(input), told_(told), heart_rate_(heart_rate) {}

  Json all() const {
    Json out{{"layout_version", json_layout::debrief}, {"title", input_.scenario.title}, {"planned", told_.planned}};
    out["start_utc"] = Json(nullptr);
    if (told_.begin_s > 0.0)
      out["start_utc"] =
          DayClock(std::chrono::local_seconds{std::chrono::seconds(std::lround(told_.begin_s))}).iso(0.0) + "Z";
    out["not_recorded"] = names(told_.unrecorded);
    for (const auto* list : {"riders", "numbers", "together", "came_off"}) out[list] = Json::array();
    for (const RiderDebrief& rider : told_.riders) out["riders"].push_back(rider_json(rider));
    for (const LearnedNumber& number : told_.numbers) out["numbers"].push_back(number_json(number));
    for (const CompanySpan& s : told_.company)
      out["together"].push_back({{"riders", names({s.a, s.b})},
                                 {"from_s", json_number(s.from_s, 0)},
                                 {"to_s", json_number(s.to_s, 0)},
                                 {"from_m", json_number(s.from_m, 0)},
                                 {"to_m", json_number(s.to_m, 0)}});
    for (const DebriefCameOff& c : told_.came_off)
      out["came_off"].push_back({{"rider", name(c.rider)},
                                 {"from", names(c.from)},
                                 {"at_m", json_number(c.at_m, 0)},
                                 {"time_s", json_number(c.time_s, 0)},
                                 {"grade", json_number(c.grade, 4)},
                                 {"head_wind_mps", json_number(c.head_mps, 2)},
                                 {"power_minute_before_W", json_number(c.power_minute_W, 0)},
                                 {"together_again_s", json_number(c.back_s, 0)},
                                 {"together_again_with", std::isnan(c.back_s) ? Json(nullptr) : Json(name(c.back_with))}});
    out["fit"] = {{"blocks", told_.blocks}, {"misfit", json_number(told_.misfit, 2)}};
    return out;
  }

 private:
  const std::string& name(std::size_t rider) const { return input_.scenario.riders[rider].name; }
  Json names(const std::vector<std::size_t>& riders) const {
    Json list = Json::array();
    for (const std::size_t rider : riders) list.push_back(name(rider));
    return list;
  }

  Json recording_json(const RiderDebrief& rider) const {
    const RecordingNotes& n = rider.notes;
    return {{"file", std::filesystem::path(input_.recordings[rider.recording].file).filename().string()},
            {"points", input_.recordings[rider.recording].points.size()},
            {"interval_s", json_number(n.facts.interval_s, 1)},
            {"power_missing_share", json_number(n.facts.power_missing_share, 3)},
            {"on_road_share", json_number(n.on_road_share, 3)},
            {"points_off_road", n.off_points},
            {"lost_s", json_number(n.lost_s, 0)},
            {"clock_late_s", json_number(n.clock_shift_s, 1)},
            {"clock_compared", n.clock_compared},
            {"start_delay_s", json_number(n.start_delay_s, 0)},
            {"elevation_offset_m", json_number(n.elevation_offset_m, 1)},
            {"elevation_drift_m_an_hour", json_number(n.elevation_drift_mph, 1)},
            {"learned_from", n.teaches}};
  }

  Json stretch_json(const RiderDebrief& rider, const DebriefStretch& s) const {
    Json out{{"from", s.from},
             {"to", s.to},
             {"from_m", json_number(s.from_m, 0)},
             {"to_m", json_number(s.to_m, 0)},
             {"planned_s", json_number(s.planned_s, 1)},
             {"ridden_s", json_number(s.ridden_s, 1)},
             {"planned_stood_s", json_number(s.planned_stood_s, 0)},
             {"stood_s", json_number(s.stood_s, 0)},
             {"planned_power_W", json_number(s.planned_power_W, 0)},
             {"power_W", json_number(s.power_W, 0)},
             {"alone_share", json_number(s.alone_share, 3)}};
    out["later_by"] = parts_json(rider, s.part_s);
    return out;
  }

  Json rider_json(const RiderDebrief& rider) const {
    Json out{{"name", name(rider.rider)}, {"recording", recording_json(rider)}};
    out.update({{"from_m", json_number(rider.from_m, 0)},
                {"to_m", json_number(rider.to_m, 0)},
                {"planned_s", told_.planned ? json_number(rider.planned_s, 1) : Json(nullptr)},
                {"ridden_s", json_number(rider.ridden_s, 1)},
                {"planned_stood_s", json_number(rider.planned_stood_s, 0)},
                {"stood_s", json_number(rider.stood_s, 0)},
                {"planned_power_W", json_number(rider.planned_power_W, 0)},
                {"power_W", json_number(rider.power_W, 0)},
                {"used_alone_s", json_number(rider.alone_s, 0)}});
    if (told_.planned) {
      out["later_by"] = parts_json(rider, rider.part_s);
      out["later_by_sd"] = parts_json(rider, rider.part_sd_s);
      out["power_share_of_way"] = json_number(rider.power_share, 3);
      out["told"] = Json::array();
      for (std::size_t k = 0; k < factors; ++k)
        if (rider.told[k]) out["told"].push_back(factor_names[k]);
    }
    out["stretches"] = Json::array();
    for (const DebriefStretch& s : rider.stretches) out["stretches"].push_back(stretch_json(rider, s));
    out["stood"] = Json::array();
    for (const DebriefStand& s : rider.stands)
      out["stood"].push_back({{"at_m", json_number(s.at_m, 0)},
                              {"from_s", json_number(s.from_s, 0)},
                              {"stood_s", json_number(s.stood_s, 0)},
                              {"planned_s", json_number(s.planned_s, 0)},
                              {"until_came", names(s.until)}});
    out["critical_power"] = strength_json(rider.strength);
    if (heart_rate_ && rider.heart.quiet == HeartQuiet::told)
      out["heart_rise"] = {{"rise_s", rider.heart.rise_s}, {"assumed_s", rider.heart.assumed_s}};
    return out;
  }

  Json strength_json(const StrengthTold& s) const {
    static constexpr const char* kinds[] = {"nothing", "at least", "all-out"};
    Json out{{"told", kinds[static_cast<std::size_t>(s.kind)]}};
    if (s.kind == StrengthTold::Kind::none) return out;
    if (s.kind == StrengthTold::Kind::all_out) out["how_sure"] = how_sure_names[static_cast<std::size_t>(s.sure)];
    out.update({{"critical_power_W", json_number(s.critical_power_W, 1)},
                {"sd_W", s.kind == StrengthTold::Kind::all_out ? json_number(s.sd_W, 1) : Json(nullptr)},
                {"over_s", json_number(s.over_s, 0)},
                {"from_m", json_number(s.from_m, 0)},
                {"to_m", json_number(s.to_m, 0)}});
    return out;
  }

  Json number_json(const LearnedNumber& n) const {
    const bool angle = n.what == Number::wind_from;
    const auto shown = [&](double value) { return json_number(angle ? deg_from_rad(value) : value, angle ? 1 : 4); };
    Json out{{"number", number_names[static_cast<std::size_t>(n.what)]}};
    if (n.what == Number::rolling)
      out["surface"] = surface_names[n.of];
    else if (n.what >= Number::wind_speed)
      out["hour"] = n.of;
    else
      out["rider"] = name(n.of);
    out.update({{"before", shown(n.before)},
                {"before_sd", shown(n.before_sd)},
                {"after", n.wants == Missing::nothing ? shown(n.after) : Json(nullptr)},
                {"after_sd", n.wants == Missing::nothing ? shown(n.after_sd) : Json(nullptr)},
                {"how_sure", how_sure_names[static_cast<std::size_t>(n.sure)]}});
    if (n.with) {
      const LearnedNumber& other = told_.numbers[*n.with];
      out["together_with"] = number_names[static_cast<std::size_t>(other.what)];
      out["this_alone"] = json_number(n.alone_value, 4);
      out["or_the_other"] = json_number(n.other_value, 4);
    }
    static constexpr const char* wants[] = {"", "four minutes alone", "four minutes that can be used", "a value that can be",
                                            "all numbers of the ride that can be"};
    if (n.wants != Missing::nothing) out["wants"] = wants[static_cast<std::size_t>(n.wants)];
    return out;
  }

  const DebriefInput& input_;
  const Debrief& told_;
  bool heart_rate_;
};

}  // namespace

std::string debrief_json(const DebriefInput& input, const Debrief& told, bool heart_rate) {
  return json_text(Writer(input, told, heart_rate).all()) + "\n";
}

}  // namespace leewheel
