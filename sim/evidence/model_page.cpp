#include "evidence/model_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include "evidence/report.hpp"
#include "evidence/wake_setup.hpp"
#include "io/yaml_reader.hpp"
#include "leewheel/motion.hpp"
#include "leewheel/rider.hpp"

namespace leewheel::evidence {
namespace {

/// Why a coefficient is held, unless its own source says so.
std::string held_text(const FittedCoefficient& c) {
  const std::string_view source = c.field->source;
  const bool said = source.find("chosen") != source.npos || source.find("assumed") != source.npos;
  return c.held() && !said ? fmt::format("; {}", c.held_because) : "";
}

std::string coefficients_table(const Fit& fit) {
  std::string out = "| coefficient | shipped | fit | rounding | meaning | source |\n|---|---|---|---|---|---|\n";
  for (const FittedCoefficient& c : fit.coefficients)
    out += fmt::format("| `{}` | {:.4g} | {} | {} | {} | {}{} |\n", c.field->name, c.shipped,
                       c.held() ? "held" : fmt::format("{:.4g}", c.fitted),
                       c.held() ? "-" : fmt::format("{:.3g}", c.rounding), c.field->meaning, c.field->source, held_text(c));
  return out + fmt::format(
                   "\nFit over {} published numbers by `leewheel evidence --fit`; half the weighted sum of squares {:.2f}, "
                   "with the "
                   "shipped values {:.2f} points squared.\n",
                   fit.values, fit.cost_fitted, fit.cost_shipped);
}

std::string residuals_table(const Fit& fit) {
  std::string out = "| series | values | rms, points | greatest |\n|---|---|---|---|\n";
  for (const Spread& s : fit.with_shipped)
    out += fmt::format("| {} | {} | {:.2f} | {:.2f} |\n", s.title, s.points, s.rms, s.greatest);
  return out;
}

/// A rider on a wheel, as most watts are asked for: default rider, one wheel ahead.
struct Case {
  double speed_mps, grade;
  double gap_m = 0.5, turbulence = 0.05, headwind_mps = 0.0, wake_scale = 1.0;
  RoadLoad load;

  Case(double v, double g) : speed_mps(v), grade(g) {
    const RiderSettings rider;
    load.mass_kg = rider.total_mass_kg();
    load.drag_area_m2 = rider.drag_area_hoods_m2;
    load.wheel_drag_area_m2 = rider.wheel_drag_area_m2;
    load.rolling = 0.005;
    load.efficiency = rider.drivetrain_efficiency;
    load.density_kgpm3 = 1.2;
    load.grade = g;
  }
  double power_W() const {
    WakeSetup setup = line_of(2, gap_m, load.drag_area_m2, speed_mps, turbulence);
    setup.wind.along_mps = -headwind_mps;
    SuperposedWakes settings;
    settings.wake_scale = wake_scale;
    RoadLoad behind = load;
    behind.wind_along_mps = -headwind_mps;
    behind.drag_factor = factors_of(setup, settings).drag[1];
    return road_power(behind, speed_mps).crank_W;
  }
};

/// One named uncertainty: its spread (one standard deviation or what a careful person would allow), as a change to the case.
struct Uncertainty {
  const char* name;
  const char* spread;
  std::function<void(Case&, double sign)> change;
};

std::vector<Uncertainty> uncertainties() {
  return {{"drafting", "`wake_scale` ± 0.15", [](Case& c, double s) { c.wake_scale += 0.15 * s; }},
          {"turbulence that mixes the wake", "5 % times or over 1.5",
           [](Case& c, double s) { c.turbulence *= std::pow(1.5, s); }},
          {"gap kept", "0.5 ± 0.3 m", [](Case& c, double s) { c.gap_m += 0.3 * s; }},
          {"drag area", "± 7 %", [](Case& c, double s) { c.load.drag_area_m2 *= 1.0 + 0.07 * s; }},
          {"rolling", "Crr ± 0.001", [](Case& c, double s) { c.load.rolling += 0.001 * s; }},
          {"mass", "± 1 kg", [](Case& c, double s) { c.load.mass_kg += s; }},
          {"grade", "± 0.2 points", [](Case& c, double s) { c.load.grade += 0.002 * s; }},
          {"wind along the road", "± 1 m/s at the rider", [](Case& c, double s) { c.headwind_mps += s; }},
          {"air density", "± 1 %", [](Case& c, double s) { c.load.density_kgpm3 *= 1.0 + 0.01 * s; }},
          {"drivetrain", "efficiency ± 0.01", [](Case& c, double s) { c.load.efficiency -= 0.01 * s; }}};
}

std::string errors_table(const Fit&) {
  constexpr double speeds_mps[] = {6.0, 10.0, 14.0}, grades[] = {0.0, 0.04, 0.08};
  std::string head = "| error in watts | spread |", rule = "|---|---|", power = "| *power needed, W* | |";
  std::vector<Case> cases;
  for (const double grade : grades)
    for (const double v : speeds_mps) {
      cases.emplace_back(v, grade);
      head += fmt::format(" {:g} m/s, {:g} % |", v, 100.0 * grade);
      rule += "---|";
      power += fmt::format(" {:.0f} |", cases.back().power_W());
    }
  std::string out = head + "\n" + rule + "\n" + power + "\n";
  std::vector<double> squares(cases.size(), 0.0);
  for (const Uncertainty& u : uncertainties()) {
    out += fmt::format("| {} | {} |", u.name, u.spread);
    for (std::size_t k = 0; k < cases.size(); ++k) {
      Case up = cases[k], down = cases[k];
      u.change(up, 1.0);
      u.change(down, -1.0);
      const double error_W = 0.5 * std::abs(up.power_W() - down.power_W());
      squares[k] += error_W * error_W;
      out += fmt::format(" {:.1f} |", error_W);
    }
    out += "\n";
  }
  out += "| **all, root of the sum of squares** | |";
  for (const double square : squares) out += fmt::format(" **{:.0f}** |", std::sqrt(square));
  return out + "\n";
}

}  // namespace

std::string with_fresh_tables(const std::string& path, const Fit& fit) {
  static const std::map<std::string, std::function<std::string(const Fit&)>> tables{
      {"coefficients", coefficients_table}, {"residuals", residuals_table}, {"errors", errors_table}};
  constexpr std::string_view begin = "<!-- table: ", close = " -->\n", end = "<!-- end of table -->";
  const std::string page = read_whole_file(path, 10 << 20);
  std::string fresh;
  std::size_t at = 0;
  for (std::size_t found; (found = page.find(begin, at)) != std::string::npos;) {
    const int line = 1 + static_cast<int>(std::count(page.begin(), page.begin() + static_cast<std::ptrdiff_t>(found), '\n'));
    const std::size_t name_at = found + begin.size(), name_end = page.find(close, name_at);
    const std::string name = name_end == std::string::npos ? "" : page.substr(name_at, name_end - name_at);
    const auto table = tables.find(name);
    if (table == tables.end())
      throw InputFault(
          {path, line, 0, "table", fmt::format("found '{}', expected coefficients, errors or residuals", shown(name))});
    const std::size_t ends = page.find(end, name_end);
    if (ends == std::string::npos)
      throw InputFault({path, line, 0, "table", "found no end of the table, expected <!-- end of table -->"});
    fresh += page.substr(at, name_end + close.size() - at) + "\n" + table->second(fit) + "\n" + std::string(end);
    at = ends + end.size();
  }
  return fresh + page.substr(at);
}

}  // namespace leewheel::evidence
