#pragma once
/// The plan sheet: a ride as one HTML file for a phone and for paper. Plain HTML, SVG and CSS: no scripts, no request to
/// anywhere. Well-formed as XML too. The values come from whoever rode; here they become words, tables and pictures.

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "leewheel/ride.hpp"
#include "leewheel/wind_outlook.hpp"
#include "words/shown_units.hpp"

namespace leewheel {

/// Lowest and highest of the middle 80 % of the drawn days.
struct SheetRange {
  double low, high;
};

/// The way between two landmarks.
struct SheetStretch {
  std::string from, to;
  double from_m = 0.0, to_m = 0.0, grade = 0.0, ascent_m = 0.0;
  double head_mps = 0.0, from_left_mps = 0.0;       ///< mean wind at the rider; > 0 against, > 0 from the left
  double gust_mps = 0.0, gust_side_force_N = 0.0;   ///< the most on it
  double steepest_grade = 0.0, lowest_grade = 0.0;  ///< over 100 m
  double line_share = 0.0;                          ///< of riding time, all riders: in a line of two or more
  double saved_W = 0.0;                             ///< mean over riders and riding time
  double front_speed_mps = 0.0;                     ///< of whoever rides first in the largest group
  double front_power_W = 0.0;
  bool in_a_line() const { return line_share >= 0.5; }
  std::vector<std::vector<std::uint32_t>> groups;  ///< once three quarters are ridden: from the first on the road
};

/// One rider on one stretch, standing apart.
struct SheetRidden {
  double riding_s = 0.0, waiting_s = 0.0, front_s = 0.0, follow_s = 0.0;
  double pedal_J = 0.0, alone_J = 0.0;  ///< work done, and work of the same motion without the others' lee
  double wbal_end_J = 0.0;
  std::size_t turns = 0;  ///< spells of 10 s or more in front of others
  double power_W() const { return riding_s > 0.0 ? pedal_J / riding_s : 0.0; }
  double saved_W() const { return riding_s > 0.0 ? (alone_J - pedal_J) / riding_s : 0.0; }
};

struct SheetRider {
  std::vector<SheetRidden> stretches;                 ///< as in Sheet::stretches
  std::vector<std::optional<SheetRange>> arrives_s;   ///< by landmark, the finish last; nothing when too few days arrived
  std::vector<std::optional<SheetRange>> power_W;     ///< by stretch, while riding
  std::vector<std::optional<SheetRange>> wbal_share;  ///< of the day's store, at the end of each stretch
  std::optional<SheetRange> mean_power_W, work_J;     ///< of the whole ride
  std::optional<SheetRange> wbal_least_share;
  double home_share = 0.0;     ///< of the days
  double dropped_share = 0.0;  ///< of the days, dropped from a group at least once
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
};

struct SheetOptions {
  bool pocket = false;  ///< one small card a rider, four on a page of A4
  ShownUnits units;
};

std::string sheet_html(const Sheet& sheet, const SheetOptions& options);

/// What a body loses as sweat (L/h) at a power and air temperature: the heat beside the work (gross efficiency 0.198,
/// Moseley & Jeukendrup 2001), of which the part that must be sweated off grows from 0.35 at 5 degrees to 0.9 at 35
/// (assumed), 2.43 MJ a litre (latent heat of sweat, from memory); kept within 0.4 to 1.8 L/h (docs/evidence.md).
double sweat_lph(double power_W, double temperature_C);

}  // namespace leewheel
