#pragma once
/// The writer of SVG, and a chart with axes on it. Same values in, same bytes out.

#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leewheel {

/// Colours that stay apart for colour-blind eyes and in grey, from dark to light where they are a scale.
namespace ink {
inline constexpr const char *text = "#22303c", *quiet = "#7b8794", *grid = "#e4e7eb", *paper = "#ffffff";
inline constexpr const char *night = "#14365c", *sea = "#1f7a8c", *fern = "#6aa84f", *rust = "#c8553d", *sand = "#e3a72f";
}  // namespace ink

using Points = std::vector<std::pair<double, double>>;

/// Coordinates in pixels, y downwards; colours as SVG has them. One element a line.
class Svg {
 public:
  /// `attributes` of the root: size, view, font, names for a screen reader.
  explicit Svg(std::string_view attributes);
  void line(double x1, double y1, double x2, double y2, std::string_view stroke, double width, std::string_view dashes = "");
  void polyline(const Points& points, std::string_view stroke, double width, std::string_view dashes = "");
  void area(const Points& points, std::string_view fill, std::optional<double> opacity = {});
  void rectangle(double x, double y, double w, double h, std::string_view fill, std::optional<double> opacity = {});
  enum class Mark { disc, ring, square, diamond, up, down };
  void mark(Mark shape, double x, double y, double size, std::string_view colour);
  /// @param anchor "start", "middle" or "end"; `turned`: reads upwards
  void text(double x, double y, std::string_view words, double size, std::string_view colour,
            std::string_view anchor = "start", bool bold = false, bool turned = false);
  /// An element that the writer has no word for, ready as it stands.
  void element(std::string_view markup);
  std::string finished() const;

 private:
  std::string text_;
};

/// White paper for a chart, with the font of the book's pictures.
Svg chart_paper(double width, double height);

/// A rectangle of the picture with two axes; the one across may go by square roots, which spreads out its beginning.
class Chart {
 public:
  Chart(Svg& svg, double left, double top, double width, double height, double x_low, double x_high, double y_low,
        double y_high, bool root_x = false);
  double x(double value) const {
    return left_ + (across(value) - across(x_low_)) / (across(x_high_) - across(x_low_)) * width_;
  }
  double y(double value) const { return top_ + height_ - (value - y_low_) / (y_high_ - y_low_) * height_; }
  void axes(const std::vector<double>& x_ticks, const std::string& x_title, const std::vector<double>& y_ticks,
            const std::string& y_title, bool grid = true);
  void curve(const Points& points, std::string_view colour, double width, std::string_view dashes = "");
  void area(const Points& points, std::string_view fill);
  void mark(Svg::Mark shape, double x_value, double y_value, double size, std::string_view colour);
  double left() const { return left_; }
  double right() const { return left_ + width_; }
  double top() const { return top_; }
  double bottom() const { return top_ + height_; }

 private:
  Points placed(const Points& points) const;
  double across(double value) const { return root_x_ ? std::sqrt(value) : value; }
  Svg& svg_;
  double left_, top_, width_, height_, x_low_, x_high_, y_low_, y_high_;
  bool root_x_;
};

}  // namespace leewheel
