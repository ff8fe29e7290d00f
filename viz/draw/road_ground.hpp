#pragma once
/// The still part of the road panel: land, strokes, grades, landmarks, wind and exposure.

#include "viz/draw/scene.hpp"

namespace leewheel::draw {

/// Where road and heights lie in the panel.
struct RoadScale {
  view::Rect plot;                                                     ///< profile, with headroom for riders
  float landmarks_y, plan_y, strip_y, gain_y, wind_y, band_y, axis_y;  ///< tops of the rows, from above
  float plan_h, strip_h, gain_h, wind_h, band_h;                       ///< 0: no room for that row, or nothing to say
  double length_m, low_m, high_m;
  float relief_top, relief_bottom;

  float x(double distance_m) const { return plot.x + static_cast<float>(distance_m / length_m) * plot.w; }
  float y(double elevation_m) const {
    return relief_bottom - static_cast<float>((elevation_m - low_m) / (high_m - low_m)) * (relief_bottom - relief_top);
  }
  double px_per_m() const { return plot.w / length_m; }
};

RoadScale road_scale(const view::Rect& area, float u, const Scene& scene);
void draw_land(Canvas& c, const RoadScale& s, const Road& road, const view::Palette& p);
void draw_strokes(Canvas& c, const RoadScale& s, const Road& road, const view::Palette& p, double interval_m);
void draw_outline(Canvas& c, const RoadScale& s, const Road& road, const view::Palette& p);
std::vector<view::Rect> grade_places(const Canvas& c, const RoadScale& s, const Road& road);  ///< of the numbers
void draw_grades(Canvas& c, const RoadScale& s, const Road& road, const view::Palette& p);
void draw_axes(Canvas& c, const RoadScale& s, const view::Palette& p, view::Units units);
void draw_landmarks(Canvas& c, const RoadScale& s, const Road& road, const view::Palette& p);
/// A band as wide as the wind met head-on, hollow where it is from behind; arrows slanted as far as it is from the side.
void draw_wind(Canvas& c, const RoadScale& s, const view::Replay& replay, const view::Palette& p, view::Units units);
void draw_exposure(Canvas& c, const RoadScale& s, const Road& road, const view::Palette& p);

}  // namespace leewheel::draw
