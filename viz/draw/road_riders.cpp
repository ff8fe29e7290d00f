#include "viz/draw/road_riders.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "viz/draw/riders_marks.hpp"

namespace leewheel::draw {

using namespace view;

namespace {

struct Bead {
  const GroupView* group;
  float x, y, radius;
  bool chosen, numbered = false;
  Rect area() const { return {x - radius, y - radius, 2 * radius, 2 * radius}; }
};

/// The more riders the larger, up to sixty-four; a rider alone is a dot.
float bead_radius(const GroupView& group, float u) {
  if (group.id < 0) return 4 * u;
  return (6.5f + 0.75f * std::min(6.0f, std::log2(static_cast<float>(group.riders.size())))) * u;
}

Bead bead_of(const GroupView& group, const Scene& scene, float x, float y, float u) {
  return {&group, x, y, bead_radius(group, u), std::ranges::count(group.riders, scene.controls.chosen) > 0};
}

void draw_bead(Canvas& c, const Bead& bead, const Scene& scene, Hits& hits) {
  const Palette& p = scene.palette();
  const float u = c.unit();
  const GroupView& g = *bead.group;
  const bool solo = g.id < 0;
  const float radius = bead.numbered || solo ? bead.radius : 0.6f * bead.radius;
  if (bead.chosen) c.disc(bead.x, bead.y, radius + 3 * u, p.chosen);
  c.disc(bead.x, bead.y, radius + u, p.panel);
  c.disc(bead.x, bead.y, radius, solo && bead.chosen ? p.chosen : p.group(g.id));
  if (bead.numbered)
    c.text(bead.x, bead.y - c.line_height(Size::small) / 2, fmt::format("{}", g.id), p.panel, Size::small, Align::centre,
           true);
  hits.riders.push_back({bead.area(), bead.chosen ? scene.controls.chosen : g.riders.front()});
}

/// Over the bead in the first free of a few rows, else beside it.
void draw_label(Canvas& c, const Bead& bead, const std::string& words, Rgb shade, bool bold, const Rect& plot,
                const Palette& p, LabelPlacer& placer) {
  const float u = c.unit(), h = c.line_height(Size::small), w = c.text_width(words, Size::small, bold) + 6 * u,
              clear = bead.radius + 5 * u;
  std::vector<Rect> places;
  const float over = std::clamp(bead.x - w / 2, plot.x, plot.right() - w);
  for (float y = bead.y - clear - h; y >= plot.y - u && places.size() < 4; y -= h + u) places.push_back({over, y, w, h});
  const float beside_y = std::max(bead.y - h / 2, plot.y);
  places.push_back({bead.x + clear, beside_y, w, h}), places.push_back({bead.x - clear - w, beside_y, w, h});
  for (const Rect& place : places) {
    if (place.x < plot.x - u || place.right() > plot.right() + u || !placer.take(place)) continue;
    c.plate(place.x, place.y, words, shade, p.panel, Size::small, Align::left, bold);
    return;
  }
}

/// Each has its number where no other bead has one; the first of the beads come first. Drawn the other way round.
void draw_all(Canvas& c, std::vector<Bead>& beads, const Scene& scene, LabelPlacer& placer, Hits& hits) {
  for (Bead& bead : beads) bead.numbered = placer.take(bead.area()) && bead.group->id >= 0;
  for (auto bead = beads.rbegin(); bead != beads.rend(); ++bead) draw_bead(c, *bead, scene, hits);
}

std::string riders_words(const GroupView& group, const View& view) {
  return group.id < 0 ? view.riders[group.riders.front()].name : fmt::format("{} riders", group.riders.size());
}

std::vector<Bead> beads_on(const Scene& scene, float u, auto&& x_of, auto&& y_of) {
  std::vector<Bead> beads;
  for (const GroupView& g : scene.view.groups) {
    const double middle_m = 0.5 * (g.first_m + g.last_m);
    beads.push_back(bead_of(g, scene, x_of(middle_m), y_of(middle_m), u));
  }
  std::stable_partition(beads.begin(), beads.end(), [](const Bead& b) { return b.chosen; });  // it takes its places first
  return beads;
}

/// The crowded stretch on its own scale: beads, sizes, and the gaps between.
void draw_magnifier(Canvas& c, const Rect& box, const RoadScale& s, const CrowdedStretch& stretch, const Scene& scene,
                    Hits& hits) {
  const Palette& p = scene.palette();
  const Road& road = scene.replay.road();
  const float u = c.unit(), pad = 16 * u, mid = box.y + box.h / 2, h = c.line_height(Size::small);
  const auto on_road = [&](double m) { return std::clamp(m, 0.0, s.length_m); };
  const sf::Color beam = colour(faded(p.quiet, 0.15));
  const float from = s.x(on_road(stretch.from_m)), to = std::max(from + 2 * u, s.x(on_road(stretch.to_m))),
              y = s.y(road.elevation_m(on_road(0.5 * (stretch.from_m + stretch.to_m))));
  c.mesh({{box.x, box.bottom()}, beam}, {{box.right(), box.bottom()}, beam}, {{to, y}, beam});
  c.mesh({{box.x, box.bottom()}, beam}, {{to, y}, beam}, {{from, y}, beam});
  c.cover(box, p.raised), c.frame(box, p.quiet, std::max(1.0f, u));
  c.fill({box.x + u, mid, box.w - 2 * u, std::max(1.0f, u)}, p.line);
  const double px_per_m = (box.w - 2 * pad) / (stretch.to_m - stretch.from_m);
  const auto x_of = [&](double m) { return box.x + pad + static_cast<float>((m - stretch.from_m) * px_per_m); };
  LabelPlacer placer;
  std::vector<Bead> beads;
  for (const Bead& bead : beads_on(scene, u, x_of, [&](double) { return mid; }))
    if (bead.group->first_m <= stretch.to_m && bead.group->last_m >= stretch.from_m) beads.push_back(bead);
  draw_all(c, beads, scene, placer, hits);
  std::ranges::sort(beads, {}, &Bead::x);
  const auto tell = [&](float left, float right, const std::string& words, Rgb shade, bool at_left) {
    const float w = c.text_width(words, Size::small) + 6 * u, x = at_left ? left : (left + right - w) / 2;
    if (w <= right - left && placer.take({x, mid - h / 2, w, h}))
      c.fill({x, mid - h / 2, w, h}, p.raised), c.text(x + 3 * u, mid - h / 2, words, shade, Size::small);
  };
  for (std::size_t k = 0; k + 1 < beads.size(); ++k) {
    const double gap_m = gap_between_m(*beads[k + 1].group, *beads[k].group);
    tell(beads[k].x + beads[k].radius + 3 * u, beads[k + 1].x - beads[k + 1].radius - 3 * u,
         way_text(gap_m, scene.controls.units), p.text, false);
  }
  for (std::size_t k = 0; k < beads.size(); ++k) {
    const float next = k + 1 < beads.size() ? beads[k + 1].x - beads[k + 1].radius - 4 * u : box.right() - 2 * u;
    tell(beads[k].x + beads[k].radius + 5 * u, next, riders_words(*beads[k].group, scene.view), p.quiet, true);
  }
}

}  // namespace

std::optional<Rect> magnifier_place(const RoadScale& s, const Road& road, float u, const std::vector<Rect>& kept_free) {
  constexpr int steps = 20;
  const float h = std::round(26 * u), clear = 8 * u;
  for (const float share : {0.42f, 0.3f}) {
    const float w = std::min(s.plot.w, std::max(620 * share * u, std::round(share * s.plot.w)));
    std::optional<Rect> best;
    float best_top = s.plot.y + h + clear;  // the road is nowhere higher under the box
    for (int k = 0; k <= steps; ++k) {
      const Rect box{s.plot.x + (s.plot.w - w) * static_cast<float>(k) / steps, s.plot.y, w, h};
      if (std::ranges::any_of(kept_free, [&](const Rect& place) { return place.overlaps(box); })) continue;
      float top = s.plot.bottom();
      for (float x = box.x; x <= box.right(); x += 4 * u)
        top = std::min(top, s.y(road.elevation_m(std::min(s.length_m, (x - s.plot.x) / s.px_per_m()))));
      if (top > best_top + 0.5f) best = box, best_top = top;
    }
    if (best) return best;
  }
  return {};
}

void draw_beads(Canvas& c, const RoadScale& s, const Scene& scene, const std::vector<Rect>& taken, Hits& hits) {
  const Palette& p = scene.palette();
  const Road& road = scene.replay.road();
  const float u = c.unit();
  LabelPlacer placer;
  for (const Rect& place : taken) placer.take(place);
  const auto stretch = crowded_stretch(scene.view, 22 * u / s.px_per_m(), scene.controls.chosen);
  auto beads = beads_on(
      scene, u, [&](double m) { return s.x(std::max(0.0, m)); }, [&](double m) { return s.y(road.elevation_m(m)); });
  std::vector<Rect> areas;
  for (Bead& bead : beads) {
    bead.y = std::max(bead.y - bead.radius - u, s.plot.y + bead.radius);  // on the road
    areas.push_back(bead.area());
  }
  const auto box = stretch ? magnifier_place(s, road, u, areas) : std::nullopt;
  if (box) {
    placer.take(*box);
    draw_magnifier(c, *box, s, *stretch, scene, hits);
  }
  draw_all(c, beads, scene, placer, hits);
  for (const Bead& bead : beads) {
    if (bead.chosen) draw_label(c, bead, scene.chosen().name, p.chosen, true, s.plot, p, placer);
    if (!bead.chosen || bead.group->id >= 0)
      draw_label(c, bead, riders_words(*bead.group, scene.view), p.text, false, s.plot, p, placer);
  }
}

}  // namespace leewheel::draw
