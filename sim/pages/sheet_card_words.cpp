#include <algorithm>
#include <cmath>

#include "pages/sheet_page.hpp"
#include "words/turn_words.hpp"

namespace leewheel {

namespace {

double ascent_after_m(const Page& page, std::size_t stretch) {
  double ascent_m = 0.0;
  for (std::size_t k = stretch + 1; k < page.sheet.stretches.size(); ++k) ascent_m += page.sheet.stretches[k].ascent_m;
  return ascent_m;
}

std::string stretch_name(const Page& page, std::size_t k) {
  return fmt::format("{} to {}", page.sheet.stretches[k].from, page.sheet.stretches[k].to);
}

constexpr double little_wbal = 0.3;  // below it W' decides how hard a rider may still go (assumed)

double in_tens(double value) { return std::round(value / 10.0) * 10.0; }

}  // namespace

const char* effort_word(double share) {
  return share < 0.60 ? "easy" : share < 0.80 ? "steady" : share < 0.95 ? "firm" : share < 1.05 ? "hard" : "very hard";
}

double mean_effort(const Page& page, std::size_t i) { return page.effort(i, page.sheet.ride.riders[i].mean_power_W); }

std::string left_text(const Page& page, std::size_t i, std::size_t k) {
  const RiderResult& ride = page.sheet.ride.riders[i];
  const SheetRidden* const at = page.ridden(i, k);
  if (!at || !ride.finished || k + 1 >= page.sheet.stretches.size()) return "";
  double work_J = 0.0, riding_s = 0.0;
  for (std::size_t j = k + 1; j < page.ridden(i).size(); ++j) {
    work_J += page.ridden(i)[j].pedal_J;
    riding_s += page.ridden(i)[j].riding_s;
  }
  const double wbal_share = std::max(0.0, at->wbal_go_on_J) / page.scenario().riders[i].w_prime_J;
  return fmt::format("{}, {} up, {} riding, {:.0f} % of your work{}", page.way(page.scenario().road.length_m() - at->to_m),
                     page.climb(ascent_after_m(page, k)), clock_text(riding_s),
                     100.0 * work_J / std::max(1.0, ride.ledger.pedal_J),
                     wbal_share < little_wbal ? fmt::format("; W′ {:.0f} %", 100.0 * wbal_share) : "");
}

std::string sit_in_text(const Page& page, std::size_t i) {
  std::vector<std::pair<double, std::size_t>> worth;
  for (std::size_t k = 0; k < page.ridden(i).size(); ++k)
    if (const SheetRidden& r = page.ridden(i)[k]; r.saved_W() >= pays_W && wheel_to_follow(page, i, k))
      worth.emplace_back(-r.saved_W(), k);
  std::sort(worth.begin(), worth.end());
  if (worth.empty()) return "nowhere: no wheel of the plan saves you 5 W";
  worth.resize(std::min<std::size_t>(3, worth.size()));
  std::ranges::sort(worth, {}, &std::pair<double, std::size_t>::second);  // in the order of the road
  std::vector<std::string> parts;
  for (const auto& [less_W, k] : worth) parts.push_back(fmt::format("{} ({:.0f} W)", stretch_name(page, k), -less_W));
  return enumerated(parts);
}

std::string ease_text(const Page& page, std::size_t i) {
  const double mean = mean_effort(page, i);
  std::vector<std::string> parts;
  for (std::size_t k = 0; k < page.ridden(i).size(); ++k) {
    const SheetRidden& r = page.ridden(i)[k];
    const double effort = page.effort(i, r.power_W());
    if (r.riding_s > 0.0 && effort < mean - 0.05 && parts.size() < 3)
      parts.push_back(fmt::format("{} ({:.0f} W, {})", stretch_name(page, k), r.power_W(), effort_word(effort)));
  }
  return enumerated(parts);
}

std::string turn_text(const Page& page, std::size_t i) {
  const RiderFacts& facts = page.sheet.riders[i].facts;
  std::vector<std::string> parts;
  bool in_line = false;
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k) {
    const double turn_s = planned_turn_s(page, i, k);
    in_line = in_line || rides_in_line(page, i, k);
    if (turn_s > 0.0)
      parts.push_back(fmt::format("{} ({})", stretch_name(page, k),
                                  std::isinf(turn_s) ? "all the way" : turn_length(turn_s) + " a turn"));
  }
  if (parts.empty())
    return in_line ? "none planned for you: stay on the wheel and tell the others" : "none: you ride at your own pace";
  return fmt::format("{}; about {} in front in all", enumerated(parts),
                     minutes_text(60.0 * std::ceil(facts.front_s / 60.0)));
}

std::string regroup_text(const Page& page, std::size_t i) {
  return page.group() && page.sheet.ride.riders[i].waited_s < 10.0 ? "the others wait for you, do not chase" : "";
}

std::string energy_text(const Page& page, std::size_t i) {
  return fmt::format("about {:.0f} kcal", in_tens(energy_kcal(page.sheet.ride.riders[i].ledger.pedal_J)));
}

std::string energy_range(const Page& page, std::size_t i) {
  const auto& work = page.sheet.riders[i].work_J;
  if (!work) return "";
  return figures_range(SheetRange{in_tens(energy_kcal(work->low)), in_tens(energy_kcal(work->high)),
                                  in_tens(energy_kcal(work->middle)), in_tens(energy_kcal(work->ends_error))});
}

std::string food_text(const Page& page, std::size_t i) {
  const RiderResult& ridden = page.sheet.ride.riders[i];
  const double riding_s = ridden.riding_s(), hours = ridden.finish_time_s / 3600.0;
  const double litres = sweat_lph(ridden.mean_power_W, page.scenario().air.temperature_C) * riding_s / 3600.0;
  const std::string food = hours > 1.0 ? fmt::format("eat {:.0f} to {:.0f} g of carbohydrate", 5.0 * std::round(6.0 * hours),
                                                     5.0 * std::round(12.0 * hours))
                                       : std::string("start fed, little more");
  return fmt::format("{}; drink {:.1f} to {:.1f} {}, to thirst", food, page.units.litres(0.7 * litres),
                     page.units.litres(1.3 * litres), page.units.litres_name());
}

double sweat_lph(double power_W, double temperature_C) {
  const double heat_W = power_W * (1.0 / gross_efficiency - 1.0);
  const double share = std::clamp(0.35 + (temperature_C - 5.0) * (0.9 - 0.35) / 30.0, 0.35, 0.9);
  return std::clamp(heat_W * share * 3600.0 / 2.43e6, 0.4, 1.8);
}

}  // namespace leewheel
