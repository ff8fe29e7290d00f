#pragma once
/// One picture: what is to be drawn, and where things that can be clicked ended up.

#include <optional>
#include <vector>

#include "viz/draw/canvas.hpp"
#include "viz/draw/kept.hpp"
#include "viz/view/controls.hpp"
#include "viz/view/ghost.hpp"
#include "viz/view/wake.hpp"

namespace leewheel::draw {

using view::Controls;
using view::Palette;
using view::Replay;
using view::View;

/// A second ride beside the first.
struct GhostScene {
  const View& view;  ///< at the same time or the same place, as chosen: what the bunch shows
  const View& now;   ///< at the same time: what the profile shows
  std::string name;
  std::optional<view::Difference> difference;
  const std::vector<std::optional<view::GainedHere>>& along;  ///< of the chosen rider
};

struct Scene {
  const View& view;
  const Replay& replay;
  Controls& controls;  ///< the view from above writes back the scale that fits
  std::optional<GhostScene> ghost;

  const Palette& palette() const { return view::palette(controls.light); }
  const view::RiderView& chosen() const { return view.riders[controls.chosen]; }
};

/// Places that answer to the mouse, by what they stand for.
struct Hits {
  struct Rider {
    Rect area;
    std::uint32_t rider;
  };
  struct Header {
    Rect area;
    view::Column column;
  };
  struct Line {  ///< of the story, there or as a mark on the timeline
    Rect area;
    std::size_t line;
  };
  std::vector<Rider> riders;
  std::vector<Header> headers;
  std::vector<Line> lines;
  Rect timeline;  ///< its x range spans the ride
  Rect profile;   ///< its x range spans the road
  void clear() { riders.clear(), headers.clear(), lines.clear(), timeline = profile = {}; }
};

/// Background and heading of a panel; returns the room below.
Rect open_panel(Canvas& canvas, const Rect& area, const Palette& p, const std::string& title, const std::string& note);

/// The climb in profile. What does not move is kept between pictures.
class RoadDrawing {
 public:
  explicit RoadDrawing(const Fonts& fonts) : still_(fonts), moving_(fonts) {}
  void draw(sf::RenderTarget& target, const Rect& area, float unit, const Scene& scene, Hits& hits);

 private:
  void draw_still(const Rect& area, const Scene& scene);
  void draw_riders(const Rect& area, const Scene& scene, Hits& hits);

  Canvas still_, moving_;
  Kept kept_;
  std::vector<Rect> grades_;  ///< where their numbers stand: no label lies on one
  float unit_ = 0;
  bool light_ = false, strip_of_all_ = false;
  std::uint32_t strip_of_ = 0;
  view::Units units_ = view::Units::metric;
};

struct GroundScale;  // riders_marks.hpp

/// The riders from above, with the wake behind it.
class RidersDrawing {
 public:
  explicit RidersDrawing(const Fonts& fonts) : canvas_(fonts) {}
  void draw(sf::RenderTarget& target, const Rect& area, float unit, const Scene& scene, Hits& hits, bool whole_wake);

 private:
  void draw_wake(sf::RenderTarget& target, const Rect& shown, const Palette& p, bool as_share);
  void draw_words(const GroundScale& s, const Scene& scene, const view::Focus& focus, const Rect& taken);
  std::optional<WorthBehind> worth_here(const Scene& scene, const view::Focus& focus);

  Canvas canvas_;
  view::WakeField wake_;
  std::vector<sf::Uint8> wake_pixels_;
  sf::Texture wake_texture_;
};

void draw_tallies(Canvas& canvas, const Rect& area, const Scene& scene, Hits& hits);
void draw_why(Canvas& canvas, const Rect& area, const Scene& scene);
void draw_story(Canvas& canvas, const Rect& area, const Scene& scene, Hits& hits);
void draw_top(Canvas& canvas, const Rect& area, const Scene& scene);
void draw_timeline(Canvas& canvas, const Rect& area, const Scene& scene, Hits& hits);
void draw_footer(Canvas& canvas, const Rect& area, const Scene& scene);
/// The question at the start, the finding and three results at the end, over the bunch; for a room the results alone.
void draw_card(Canvas& canvas, const Rect& area, const Scene& scene);
/// What just changed a group, over the foot of the bunch.
void draw_caption(Canvas& canvas, const Rect& area, const Scene& scene);
Rect caption_area(const Canvas& canvas, const Rect& area, const Scene& scene);  ///< empty: no caption now
/// What a room sees besides profile and bunch.
void draw_show(Canvas& canvas, const view::ShowLayout& layout, const Scene& scene);
/// Words beside the pointer, inside the window.
void draw_hover(Canvas& canvas, const Rect& window, const Scene& scene, const std::string& words);
std::string caution_words(const Canvas& canvas, float width_px);  ///< the longest that fits whole
void draw_help(Canvas& canvas, const Rect& window, const Scene& scene);

}  // namespace leewheel::draw
