#pragma once
/// A small writer of SVG, and a chart with axes on it. Same values in, same bytes out.

#include <cmath>
#include <string>
#include <utility>
#include <vector>

namespace leewheel::evidence {

/// Colours that stay apart for colour-blind eyes and in grey, from dark to light where they are a scale.
namespace ink {
inline constexpr const char *text = "#22303c", *quiet = "#7b8794", *grid = "#e4e7eb", *paper = "#ffffff";
inline constexpr const char *night = "#14365c", *sea = "#1f7a8c", *fern = "#6aa84f", *rust = "#c8553d", *sand = "#e3a72f";
}  // namespace ink

using Points = std::vector<std::pair<double, double>>;

class Svg {
 public:
  Svg(double width, double height);
  void line(double x1, double y1, double x2, double y2, const char* colour, double width, const char* dashes = "");
  void path(const Points& points, const char* colour, double width, const char* dashes = "");
  void area(const Points& points, const std::string& fill);
  void rectangle(double x, double y, double w, double h, const std::string& fill);
  enum class Mark { disc, ring, square, diamond, up, down };
  void mark(Mark shape, double x, double y, double size, const char* colour);
  /// @param anchor "start", "middle" or "end"; `turned`: reads upwards
  void text(double x, double y, const std::string& words, double size, const char* colour, const char* anchor = "start",
            bool bold = false, bool turned = false);
  std::string finished() const;

 private:
  std::string body_;
  double width_, height_;
};

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
  void curve(const Points& points, const char* colour, double width, const char* dashes = "");
  void area(const Points& points, const std::string& fill);
  void mark(Svg::Mark shape, double x_value, double y_value, double size, const char* colour);
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

}  // namespace leewheel::evidence
