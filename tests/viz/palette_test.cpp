#include "viz/view/palette.hpp"

#include <catch2/catch.hpp>

using namespace leewheel::view;

namespace {
constexpr double text_contrast = 4.5;     // WCAG 2.1, success criterion 1.4.3 (W3C 2018)
constexpr double graphic_contrast = 3.0;  // WCAG 2.1, success criterion 1.4.11 (W3C 2018)
}  // namespace

TEST_CASE("contrast is 21 between black and white and 1 between equals", "[palette]") {
  CHECK(contrast({0, 0, 0}, {255, 255, 255}) == Approx(21.0));
  CHECK(contrast({90, 20, 70}, {90, 20, 70}) == Approx(1.0));
}

TEST_CASE("OKLCH comes back from the screen's bytes", "[palette]") {
  const Oklab lab = to_oklab(from_oklch(0.6, 0.1, 90));
  CHECK(lab.lightness == Approx(0.6).margin(0.003));  // bytes hold about 0.002
  CHECK(lab.blue_yellow == Approx(0.1).margin(0.004));
  CHECK(lab.green_red == Approx(0.0).margin(0.004));
}

TEST_CASE("every text stands off everything it is written on, light and dark", "[palette]") {
  for (const bool light : {false, true}) {
    const Palette& p = palette(light);
    INFO((light ? "light" : "dark"));
    for (const Rgb back : {p.back, p.panel, p.raised, p.land, p.road}) {
      CHECK(contrast(p.text, back) >= text_contrast);
    }
    for (const Rgb back : {p.back, p.panel, p.raised}) {
      CHECK(contrast(p.quiet, back) >= text_contrast);
      CHECK(contrast(p.warning, back) >= text_contrast);
      CHECK(contrast(p.chosen, back) >= text_contrast);
      CHECK(contrast(p.ghost, back) >= text_contrast);
    }
    CHECK(contrast(p.on_chosen, p.chosen) >= text_contrast);
  }
}

TEST_CASE("marks of groups and parts of power stand off their ground", "[palette]") {
  for (const bool light : {false, true}) {
    const Palette& p = palette(light);
    for (std::size_t k = 0; k < p.groups.size(); ++k) {
      INFO((light ? "light group " : "dark group ") << k);
      CHECK(contrast(p.groups[k], p.panel) >= graphic_contrast);
      CHECK(contrast(p.groups[k], p.road) >= graphic_contrast);
    }
    for (std::size_t k = 0; k < 4; ++k) {
      INFO((light ? "light part " : "dark part ") << k);
      CHECK(contrast(p.parts[k], p.panel) >= graphic_contrast);
    }
  }
}

TEST_CASE("groups and the chosen rider stay apart for every kind of colour vision", "[palette]") {
  // 0.12 in OKLab is about six just-seen steps; groups carry numbers too.
  constexpr double apart = 0.12;
  for (const bool light : {false, true}) {
    const Palette& p = palette(light);
    std::vector<Rgb> marks(p.groups.begin(), p.groups.end());
    marks.push_back(p.chosen);
    for (std::size_t a = 0; a < marks.size(); ++a) {
      for (std::size_t b = a + 1; b < marks.size(); ++b) {
        INFO((light ? "light " : "dark ") << a << " and " << b);
        CHECK(difference(marks[a], marks[b]) >= apart);
        for (const Eyes eyes : {Eyes::protan, Eyes::deutan, Eyes::tritan}) {
          INFO("eyes " << static_cast<int>(eyes));
          CHECK(difference(as_seen_by(eyes, marks[a]), as_seen_by(eyes, marks[b])) >= apart);
        }
      }
    }
  }
}

TEST_CASE("the wake darkens or lightens in even steps and only one way", "[palette]") {
  for (const bool light : {false, true}) {
    const Palette& p = palette(light);
    const double whole = difference(p.shade(0.0), p.shade(1.0));
    for (int k = 0; k < 7; ++k) {
      const double step = difference(p.shade(k / 7.0), p.shade((k + 1) / 7.0));
      CHECK(step == Approx(whole / 7).epsilon(0.15));  // bytes round each end by up to 0.003
    }
    CHECK(p.shade(1.4) == p.shade(1.0));
    CHECK(p.shade(-0.05) == p.shade(0.0));
  }
}
