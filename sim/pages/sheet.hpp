#pragma once
/// The plan sheet: a ride as one HTML file for a phone and for paper. Plain HTML, SVG and CSS: no scripts, no request to
/// anywhere. Well-formed as XML too. The values come from rides; here they become words, tables and pictures.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"
#include "leewheel/ride_report.hpp"
#include "leewheel/wind_outlook.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

using SheetRange = Middle80;
using SheetRidden = StretchRidden;
using SheetRider = RiderReport;

/// The way between two landmarks, with its wind.
struct SheetStretch : StretchReport {
  double head_mps = 0.0, from_left_mps = 0.0;      ///< mean wind at the rider; > 0 against, > 0 from the left
  double gust_mps = 0.0, gust_side_force_N = 0.0;  ///< the most on it
};

struct Sheet {
  const Scenario& scenario;
  RideResult ride;
  Outlook wind;  ///< for the first rider of the order
  std::vector<SheetStretch> stretches;
  std::vector<SheetRider> riders;  ///< in the order of the scenario
  std::size_t days = 0;            ///< drawn and ridden
  std::optional<SheetRange> last_home_s;
  double all_home_share = 0.0;  ///< of the days
  std::string why_this_plan;    ///< a sentence, when the plan was looked for
  std::vector<std::vector<std::uint32_t>> groups_at_start{};
};

struct SheetOptions {
  bool pocket = false;  ///< a card for the captain and each rider, to print, cut and fold
  ShownUnits units;
};

std::string sheet_html(const Sheet& sheet, const SheetOptions& options);

/// What a body loses as sweat (L/h) at a power and air temperature: the heat beside the work (gross efficiency 0.198,
/// Moseley & Jeukendrup 2001), of which the part that must be sweated off grows from 0.35 at 5 degrees to 0.9 at 35
/// (assumed), 2.43 MJ a litre (latent heat of sweat, from memory); kept within 0.4 to 1.8 L/h (docs/evidence.md).
double sweat_lph(double power_W, double temperature_C);

}  // namespace leewheel
