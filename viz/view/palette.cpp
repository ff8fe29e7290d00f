#include "viz/view/palette.hpp"

#include <algorithm>
#include <cmath>

#include "leewheel/units.hpp"

namespace leewheel::view {
namespace {

struct Linear {
  double r, g, b;
};

double to_linear(std::uint8_t value) {
  const double v = value / 255.0;
  return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}

std::uint8_t to_srgb(double linear) {
  const double v = std::clamp(linear, 0.0, 1.0);
  return static_cast<std::uint8_t>(std::lround(255.0 * (v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055)));
}

Linear linear_of(Rgb c) { return {to_linear(c.r), to_linear(c.g), to_linear(c.b)}; }
Rgb srgb_of(Linear c) { return {to_srgb(c.r), to_srgb(c.g), to_srgb(c.b)}; }

Linear linear_of(Oklab lab) {
  const auto cube = [](double x) { return x * x * x; };
  const double l = cube(lab.lightness + 0.3963377774 * lab.green_red + 0.2158037573 * lab.blue_yellow);
  const double m = cube(lab.lightness - 0.1055613458 * lab.green_red - 0.0638541728 * lab.blue_yellow);
  const double s = cube(lab.lightness - 0.0894841775 * lab.green_red - 1.2914855480 * lab.blue_yellow);
  return {4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s, -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
          -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s};
}

bool shown(Linear c) {
  const auto inside = [](double v) { return v > -1e-3 && v < 1.001; };
  return inside(c.r) && inside(c.g) && inside(c.b);
}

double luminance(Rgb c) {
  const Linear l = linear_of(c);
  return 0.2126 * l.r + 0.7152 * l.g + 0.0722 * l.b;
}

Palette dark_palette() {
  Palette p;
  p.back = from_oklch(0.17, 0.015, 260);
  p.panel = from_oklch(0.215, 0.016, 260);
  p.raised = from_oklch(0.27, 0.018, 260);
  p.line = from_oklch(0.42, 0.02, 260);
  p.text = from_oklch(0.94, 0.01, 260);
  p.quiet = from_oklch(0.77, 0.02, 260);
  p.land = from_oklch(0.33, 0.022, 240);
  p.stroke = from_oklch(0.56, 0.03, 240);
  p.road = from_oklch(0.25, 0.008, 260);
  p.chosen = from_oklch(0.88, 0.16, 92);
  p.on_chosen = from_oklch(0.2, 0.03, 92);
  p.warning = from_oklch(0.74, 0.16, 40);
  p.ghost = from_oklch(0.83, 0.02, 300);
  p.wake = from_oklch(0.56, 0.12, 235);
  p.groups = {from_oklch(0.93, 0.15, 182), from_oklch(0.61, 0.15, 55), from_oklch(0.77, 0.10, 173),
              from_oklch(0.71, 0.16, 301), from_oklch(0.56, 0.05, 247)};
  p.parts = {from_oklch(0.68, 0.10, 60), from_oklch(0.70, 0.12, 240), from_oklch(0.84, 0.07, 110),
             from_oklch(0.74, 0.10, 330), from_oklch(0.62, 0.02, 260)};
  return p;
}

Palette light_palette() {
  Palette p;
  p.back = from_oklch(0.93, 0.008, 90);
  p.panel = from_oklch(0.985, 0.004, 90);
  p.raised = from_oklch(0.95, 0.008, 90);
  p.line = from_oklch(0.78, 0.012, 90);
  p.text = from_oklch(0.24, 0.02, 260);
  p.quiet = from_oklch(0.45, 0.02, 260);
  p.land = from_oklch(0.88, 0.018, 110);
  p.stroke = from_oklch(0.66, 0.03, 110);
  p.road = from_oklch(0.955, 0.004, 260);
  p.chosen = from_oklch(0.48, 0.17, 12);
  p.on_chosen = from_oklch(0.99, 0.005, 12);
  p.warning = from_oklch(0.49, 0.16, 38);
  p.ghost = from_oklch(0.42, 0.04, 300);
  p.wake = from_oklch(0.66, 0.11, 235);
  p.groups = {from_oklch(0.60, 0.13, 204), from_oklch(0.30, 0.15, 35), from_oklch(0.48, 0.11, 271),
              from_oklch(0.60, 0.13, 74), from_oklch(0.30, 0.15, 284)};
  p.parts = {from_oklch(0.56, 0.11, 60), from_oklch(0.60, 0.12, 240), from_oklch(0.64, 0.10, 120),
             from_oklch(0.60, 0.12, 330), from_oklch(0.66, 0.02, 260)};
  return p;
}

}  // namespace

Rgb from_oklch(double lightness, double chroma, double hue_deg) {
  const double hue_rad = rad_from_deg(hue_deg);
  for (;; chroma = std::max(0.0, chroma - 0.002)) {
    const Linear c = linear_of(Oklab{lightness, chroma * std::cos(hue_rad), chroma * std::sin(hue_rad)});
    if (shown(c) || chroma == 0.0) return srgb_of(c);
  }
}

Oklab to_oklab(Rgb colour) {
  const Linear c = linear_of(colour);
  const double l = std::cbrt(0.4122214708 * c.r + 0.5363325363 * c.g + 0.0514459929 * c.b);
  const double m = std::cbrt(0.2119034982 * c.r + 0.6806995451 * c.g + 0.1073969566 * c.b);
  const double s = std::cbrt(0.0883024619 * c.r + 0.2817188376 * c.g + 0.6299787005 * c.b);
  return {0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s, 1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
          0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

Rgb mix(Rgb from, Rgb to, double share) {
  const Oklab a = to_oklab(from), b = to_oklab(to);
  return srgb_of(linear_of(Oklab{std::lerp(a.lightness, b.lightness, share), std::lerp(a.green_red, b.green_red, share),
                                 std::lerp(a.blue_yellow, b.blue_yellow, share)}));
}

Rgb faded(Rgb colour, double opacity) {
  colour.a = static_cast<std::uint8_t>(std::lround(255 * std::clamp(opacity, 0.0, 1.0)));
  return colour;
}

double contrast(Rgb a, Rgb b) {
  const auto [low, high] = std::minmax({luminance(a), luminance(b)});
  return (high + 0.05) / (low + 0.05);
}

double difference(Rgb a, Rgb b) {
  const Oklab p = to_oklab(a), q = to_oklab(b);
  return std::hypot(p.lightness - q.lightness, p.green_red - q.green_red, p.blue_yellow - q.blue_yellow);
}

Rgb as_seen_by(Eyes eyes, Rgb colour) {
  static constexpr double matrices[3][9] = {
      {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
      {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881},
      {1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900}};
  const double* m = matrices[static_cast<int>(eyes)];
  const Linear c = linear_of(colour);
  return srgb_of(Linear{m[0] * c.r + m[1] * c.g + m[2] * c.b, m[3] * c.r + m[4] * c.g + m[5] * c.b,
                        m[6] * c.r + m[7] * c.g + m[8] * c.b});
}

Rgb Palette::group(std::int32_t id) const { return id < 0 ? quiet : groups[static_cast<std::size_t>(id) % groups.size()]; }

Rgb Palette::shade(double depth) const {
  // Sixty-four steps, mixed once a theme: the wake asks thousands of times a frame.
  static constexpr int steps = 64;
  thread_local struct {
    Rgb road, wake;
    std::array<Rgb, steps + 1> shades;
  } ramp{};
  if (!(ramp.road == road && ramp.wake == wake)) {
    ramp.road = road, ramp.wake = wake;
    for (int i = 0; i <= steps; ++i) ramp.shades[i] = mix(road, wake, double(i) / steps);
  }
  return ramp.shades[static_cast<std::size_t>(std::lround(std::clamp(depth, 0.0, 1.0) * steps))];
}

double depth_of_share(double drag_share) { return std::clamp((1.0 - drag_share) / (1.0 - deepest_share), 0.0, 1.0); }
double depth_of_watts(double saved_W) { return std::clamp(saved_W / deepest_W, 0.0, 1.0); }

const Palette& palette(bool light) {
  static const Palette dark_one = dark_palette(), light_one = light_palette();
  return light ? light_one : dark_one;
}

}  // namespace leewheel::view
