#pragma once
/// Colours of the screen, made in OKLCH (Ottosson 2020, "A perceptual color space for image processing") so that equal
/// steps look equal. Nothing is told by colour alone. Contrast is that of WCAG 2.1 (W3C 2018): text has at least 4.5 : 1
/// against whatever it stands on, and the colours of groups stay apart for protan, deutan and tritan eyes (tested).

#include <array>
#include <cstdint>

namespace leewheel::view {

struct Rgb {
  std::uint8_t r = 0, g = 0, b = 0, a = 255;
  bool operator==(const Rgb&) const = default;
};

/// Perceptual coordinates of an opaque colour.
struct Oklab {
  double lightness, green_red, blue_yellow;
};

Rgb from_oklch(double lightness, double chroma, double hue_deg);  ///< out of gamut: chroma is lowered until it fits
Oklab to_oklab(Rgb colour);
Rgb mix(Rgb from, Rgb to, double share);  ///< straight line in OKLab
Rgb faded(Rgb colour, double opacity);
double contrast(Rgb a, Rgb b);    ///< 1 to 21
double difference(Rgb a, Rgb b);  ///< distance in OKLab; about 0.02 is just seen

enum class Eyes { protan, deutan, tritan };
Rgb as_seen_by(
    Eyes eyes,
    Rgb colour);  ///< full dichromacy, Machado, Oliveira & Fernandes 2009, IEEE TVCG 15:1291 (matrices from memory)

struct Palette {
  Rgb back, panel, raised;  ///< window, panels, headers and label plates
  Rgb line, text, quiet;
  Rgb land, stroke, road;
  Rgb chosen, on_chosen;  ///< the chosen rider: fill, and text on that fill
  Rgb warning, ghost;
  Rgb wake;                   ///< the deepest wake; shades run from `road` to this
  std::array<Rgb, 5> groups;  ///< fill and text of groups, used in turn
  std::array<Rgb, 5> parts;   ///< gravity, air, rolling, change of speed, losses

  Rgb group(std::int32_t id) const;  ///< riders alone get the quiet text colour
  Rgb shade(double depth) const;     ///< of the wake: 0 no wake, 1 the deepest
};

/// How deep a wake is shaded: by its share of drag, from none to 30 % of the drag alone, or by the watts saved.
double depth_of_share(double drag_share);
double depth_of_watts(double saved_W);
inline constexpr double deepest_share = 0.3, deepest_W = 100.0;  ///< fixed over a whole ride, and the same in every ride

const Palette& palette(bool light);

}  // namespace leewheel::view
