#include "viz/view/layout.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace leewheel::view;

TEST_CASE("panels fill the window without overlap whatever is hidden", "[layout]") {
  for (const auto& [w, h] :
       {std::pair{1280.f, 720.f}, {1920.f, 1080.f}, {640.f, 480.f}, {3840.f, 2160.f}, {1080.f, 1920.f}}) {
    for (unsigned bits = 0; bits < 32; ++bits) {
      PanelFlags visible;
      for (std::size_t k = 0; k < panel_count; ++k) visible[k] = (bits >> k & 1) != 0;
      const Layout layout = make_layout(w, h, 1, visible, {});
      INFO(w << "x" << h << " panels " << bits);
      float area = 0;
      for (std::size_t a = 0; a < panel_count; ++a) {
        CHECK(layout.panels[a].empty() != visible[a]);
        area += layout.panels[a].w * layout.panels[a].h;
        for (std::size_t b = a + 1; b < panel_count; ++b) {
          if (!layout.panels[a].empty() && !layout.panels[b].empty())
            CHECK_FALSE(layout.panels[a].overlaps(layout.panels[b]));
        }
        if (!layout.panels[a].empty()) CHECK_FALSE(layout.panels[a].overlaps(layout.timeline));
      }
      if (bits != 0) CHECK(area > 0.9f * layout.free.w * layout.free.h);
    }
  }
}

TEST_CASE("text is never smaller than its twelve pixels and grows with the window", "[layout]") {
  CHECK(design_unit(1280, 720, 1) == 1.0f);
  CHECK(design_unit(640, 480, 1) == 1.0f);
  CHECK(design_unit(1920, 1080, 1) == Approx(1.25f));
  CHECK(design_unit(1280, 720, 2) == 2.0f);
}

TEST_CASE("a divider is found between panels and moves only its own share", "[layout]") {
  PanelFlags all{true, true, true, true, true};
  Splits splits;
  const Layout layout = make_layout(1280, 720, 1, all, splits);
  const Rect& road = layout.panels[road_panel];
  REQUIRE(divider_at(layout, 300, road.bottom() + 2) == Divider::road);
  CHECK_FALSE(divider_at(layout, 300, road.y + road.h / 2).has_value());
  const Splits before = splits;
  drag_divider(layout, Divider::road, 300, road.bottom() + 50, splits);
  CHECK(splits.road > before.road);
  CHECK(splits.lower == before.lower);
  CHECK(splits.middle == before.middle);
  drag_divider(layout, Divider::middle, -500, 0, splits);
  CHECK(splits.middle == Approx(0.15f));
}

TEST_CASE("an upright window has panel under panel, each as broad as the window", "[layout]") {
  const Layout layout = make_layout(1080, 1920, 1, {true, true, true, true, true}, {});
  for (std::size_t k = 0; k < panel_count; ++k) CHECK(layout.panels[k].w == layout.free.w);
  for (std::size_t k = 1; k < panel_count; ++k) CHECK(layout.panels[k].y > layout.panels[k - 1].bottom());
  CHECK_FALSE(divider_at(layout, 500, layout.panels[road_panel].bottom() + 2).has_value());
}

TEST_CASE("the picture for a room has its parts apart and text from 24 pixels at 1080 lines", "[layout]") {
  CHECK(12 * show_layout(1920, 1080).unit == 24.0f);
  for (const auto& [w, h] :
       {std::pair{1920.f, 1080.f}, {1080.f, 1080.f}, {1080.f, 1920.f}, {640.f, 480.f}, {3840.f, 2160.f}}) {
    INFO(w << "x" << h);
    const ShowLayout l = show_layout(w, h);
    const Rect parts[] = {l.head, l.sentence, l.road, l.riders, l.number, l.footer};
    for (std::size_t a = 0; a < std::size(parts); ++a) {
      CHECK(parts[a].w > 0.25f * w);
      CHECK(parts[a].h >= 20 * l.unit - 1);
      CHECK((parts[a].x >= 0 && parts[a].y >= 0 && parts[a].right() <= w && parts[a].bottom() <= h));
      for (std::size_t b = a + 1; b < std::size(parts); ++b) CHECK_FALSE(parts[a].overlaps(parts[b]));
    }
  }
}

TEST_CASE("a label is refused where an earlier one lies", "[layout]") {
  LabelPlacer placer;
  CHECK(placer.take({0, 0, 10, 10}));
  CHECK_FALSE(placer.take({9, 9, 10, 10}));
  CHECK(placer.take({10, 0, 10, 10}));
}

TEST_CASE("panels lie on whole pixels, so that letters stay sharp", "[layout]") {
  PanelFlags all{true, true, true, true, true};
  for (const float scale : {1.0f, 1.25f, 1.6f, 2.0f})
    for (const auto& [w, h] : {std::pair{1280.f, 720.f}, {1920.f, 1080.f}, {640.f, 480.f}}) {
      const Layout layout = make_layout(w, h, scale, all, {});
      for (const Rect& panel : layout.panels)
        for (const float edge : {panel.x, panel.y, panel.w, panel.h}) CHECK(edge == std::round(edge));
    }
}
