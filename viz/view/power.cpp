/// A rider's power: its parts, its bar, and a sentence about it.

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "viz/view/view.hpp"
#include "words/plain_text.hpp"

namespace leewheel::view {

PowerSplit power_split(const RiderView& r) {
  PowerSplit split{r.gravity_W, r.air_W, r.rolling_W, r.kinetic_W, 0.0, r.saved_W};
  split.losses_W = r.power_W - split.gravity_W - split.air_W - split.rolling_W - split.speed_W;
  return split;
}

std::vector<BarPiece> power_bar(const RiderView& rider) {
  const PowerSplit split = power_split(rider);
  const double parts[] = {split.gravity_W, split.air_W, split.rolling_W, split.speed_W, split.losses_W};
  double asked_W = 0.0;
  for (const double part : parts) asked_W += std::max(0.0, part);
  std::vector<BarPiece> pieces;
  if (rider.power_W <= 0.0 || asked_W <= 0.0) return pieces;
  double from_W = 0.0;
  for (std::size_t k = 0; k < std::size(parts); ++k) {
    if (parts[k] <= 0.0) continue;
    const double to_W = from_W + parts[k] * rider.power_W / asked_W;
    pieces.push_back({k, from_W, to_W});
    from_W = to_W;
  }
  return pieces;
}

std::string why_words(const RiderView& r, const View& view, Units units) {
  if (r.finished)
    return fmt::format("{} is home: {:.0f} kJ ridden, {:.0f} kJ saved.", r.name, r.pedal_J / 1e3, r.saved_J / 1e3);
  if (r.role == Role::waiting)
    return fmt::format("{} waits for the others, {} so far.", r.name, minutes_seconds_text(r.waited_s));
  const std::string motion = fmt::format("{} at {} on {}", r.name, speed_text(r.speed_mps, units), grade_text(r.grade));
  if (r.power_W < 1.0) return fmt::format("{}: not pedalling.", motion);
  const WholeWatts watts = whole_watts(r);
  const std::string shares =
      fmt::format("{}: climbing takes {}\xC2\xA0% and the air {}\xC2\xA0% of {}\xC2\xA0W.", motion,
                  whole_text(100 * r.gravity_W / r.power_W), whole_text(100 * r.air_W / r.power_W), watts.now);
  if (watts.saved < 0)
    return fmt::format("{} Company costs {}\xC2\xA0W here: alone it would take {}\xC2\xA0W.", shares, -watts.saved,
                       watts.alone);
  if (watts.saved == 0) return fmt::format("{} Drafting saves less than a watt here.", shares);
  const std::string wheel = r.wheel_of ? view.riders[*r.wheel_of].name + "'s wheel" : "The company";
  return fmt::format("{} {} saves {}\xC2\xA0W: alone it would take {}\xC2\xA0W.", shares, wheel, watts.saved, watts.alone);
}

}  // namespace leewheel::view
