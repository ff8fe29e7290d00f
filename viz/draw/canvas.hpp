#pragma once
/// Shapes and text gathered into a few vertex arrays: one call for all shapes of a layer and one for each size of text.
/// Edges are feathered by one pixel, which on software GL is far cheaper than multisampling.

#include <SFML/Graphics.hpp>
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "viz/view/layout.hpp"
#include "viz/view/palette.hpp"

namespace leewheel::draw {

using view::Rect;
using view::Rgb;

sf::Color colour(Rgb c);

enum class Size { small, normal, large, title, huge };  ///< 12, 13, 16, 20 and 64 design pixels
enum class Align { left, centre, right };

/// What a picture says and where: for whoever wants to know that nothing is cut off or overprinted.
struct Drawn {
  std::string words;
  Rect area;  ///< of the ink of a text, or of a box that hides what lies under it
  Rect room;  ///< what lies outside is cut off
  bool box;   ///< else a text; the box under a text has its words
};

/// The two faces of text, loaded once.
class Fonts {
 public:
  Fonts();  ///< throws InputFault where no font is found (fonts.hpp)
  const sf::Font& face(bool bold) const { return bold ? bold_ : regular_; }
  /// Breadth in pixels.
  float width(std::string_view text, Size size, float unit, bool bold = false) const;
  /// Cut to fit, ending in "...", if it is too broad.
  std::string fitted(std::string_view text, float width_px, Size size, float unit, bool bold = false) const;

  /// From now on everything drawn is told there; nullptr: no longer.
  void tell(std::vector<Drawn>* into) { told_ = into; }
  std::vector<Drawn>* told() const { return told_; }

 private:
  std::vector<Drawn>* told_ = nullptr;
  sf::Font regular_, bold_;
};

unsigned pixel_size(Size size, float unit);

class Canvas {
 public:
  explicit Canvas(const Fonts& fonts) : fonts_(&fonts) {}

  void begin(float unit);  ///< empties the layer
  float unit() const { return unit_; }
  const Fonts& fonts() const { return *fonts_; }

  void fill(const Rect& area, Rgb c);
  void fade(const Rect& area, Rgb left, Rgb right);
  void frame(const Rect& area, Rgb c, float width_px = 1);
  void line(float x0, float y0, float x1, float y1, Rgb c, float width_px);
  void dashes(float x0, float x1, float y, float phase, float on, float off, Rgb c, float width_px);
  void disc(float x, float y, float radius, Rgb c);
  void oval(float x, float y, float radius_x, float radius_y, Rgb c);
  void ring(float x, float y, float radius, Rgb c, float width_px);
  void triangle(sf::Vector2f a, sf::Vector2f b, sf::Vector2f c, Rgb fill);
  void arrow(float x0, float y0, float x1, float y1, Rgb c, float width_px, float head_px);
  /// Slanted strokes that go on from one area to its neighbour.
  void hatch(const Rect& area, Rgb c, float step_px);
  void mesh(const sf::Vertex& a, const sf::Vertex& b, const sf::Vertex& c);  ///< one bare triangle

  /// `y` is the top of the line.
  void text(float x, float y, std::string_view words, Rgb c, Size size = Size::normal, Align align = Align::left,
            bool bold = false);
  float text_width(std::string_view words, Size size = Size::normal, bool bold = false) const;
  float line_height(Size size = Size::normal) const;
  /// A box that hides what lies under it.
  void cover(const Rect& area, Rgb c, std::string_view words = "");
  /// Text on a plate of its own, so that it can be read over anything.
  Rect plate(float x, float y, std::string_view words, Rgb c, Rgb back, Size size = Size::small, Align align = Align::centre,
             bool bold = false);
  std::vector<std::string> broken(std::string_view words, float width_px, Size size = Size::normal) const;  ///< into lines
  /// Text broken into lines; returns the height used.
  float paragraph(const Rect& area, std::string_view words, Rgb c, Size size = Size::normal);

  /// Draws everything, cut off at `clip` (pixels of the window); `origin` is where in the window the target's corner lies.
  void draw(sf::RenderTarget& target, const Rect& clip, sf::Vector2f origin = {}) const;

 private:
  void quad(sf::Vector2f a, sf::Vector2f b, sf::Vector2f c, sf::Vector2f d, sf::Color ab, sf::Color cd);

  const Fonts* fonts_;
  float unit_ = 1;
  std::vector<Drawn> told_;
  sf::VertexArray shapes_{sf::Triangles};
  std::array<std::array<sf::VertexArray, 2>, 5> letters_ = {};  ///< by size, then bold
};

}  // namespace leewheel::draw
