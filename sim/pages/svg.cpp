#include "pages/svg.hpp"

#include <fmt/format.h>

#include "pages/escape.hpp"

namespace leewheel {
namespace {

std::string dash_text(std::string_view dashes) {
  return dashes.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", dashes);
}

std::string opacity_text(std::optional<double> opacity) {
  return opacity ? fmt::format(" fill-opacity=\"{:g}\"", *opacity) : "";
}

std::string points_text(const Points& points) {
  std::string text;
  for (const auto& [x, y] : points) text += fmt::format("{}{:.1f},{:.1f}", text.empty() ? "" : " ", x, y);
  return text;
}

}  // namespace

Svg::Svg(std::string_view attributes) : text_(fmt::format("<svg xmlns=\"http://www.w3.org/2000/svg\" {}>\n", attributes)) {}

void Svg::line(double x1, double y1, double x2, double y2, std::string_view stroke, double width, std::string_view dashes) {
  text_ +=
      fmt::format("<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\" stroke-width=\"{:g}\"{}/>\n",
                  x1, y1, x2, y2, stroke, width, dash_text(dashes));
}

void Svg::polyline(const Points& points, std::string_view stroke, double width, std::string_view dashes) {
  text_ += fmt::format(
      "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{:g}\" stroke-linejoin=\"round\"{}/>\n",
      points_text(points), stroke, width, dash_text(dashes));
}

void Svg::area(const Points& points, std::string_view fill, std::optional<double> opacity) {
  text_ += fmt::format("<polygon points=\"{}\" fill=\"{}\"{}/>\n", points_text(points), fill, opacity_text(opacity));
}

void Svg::rectangle(double x, double y, double w, double h, std::string_view fill, std::optional<double> opacity) {
  text_ += fmt::format("<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"{}\"{}/>\n", x, y, w, h,
                       fill, opacity_text(opacity));
}

void Svg::mark(Mark shape, double x, double y, double size, std::string_view colour) {
  const double r = 0.5 * size;
  const auto polygon = [&](const Points& points) {
    text_ += fmt::format("<polygon points=\"{}\" fill=\"{}\" stroke=\"{}\" stroke-width=\"1\"/>\n", points_text(points),
                         colour, ink::paper);
  };
  switch (shape) {
    case Mark::disc:
      text_ +=
          fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" fill=\"{}\" stroke=\"{}\" stroke-width=\"1\"/>\n", x,
                      y, r, colour, ink::paper);
      break;
    case Mark::ring:
      text_ +=
          fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{:.1f}\" fill=\"{}\" stroke=\"{}\" stroke-width=\"1.5\"/>\n",
                      x, y, r, ink::paper, colour);
      break;
    case Mark::square: polygon({{x - r, y - r}, {x + r, y - r}, {x + r, y + r}, {x - r, y + r}}); break;
    case Mark::diamond: polygon({{x, y - 1.3 * r}, {x + 1.3 * r, y}, {x, y + 1.3 * r}, {x - 1.3 * r, y}}); break;
    case Mark::up: polygon({{x, y - 1.2 * r}, {x + 1.1 * r, y + r}, {x - 1.1 * r, y + r}}); break;
    case Mark::down: polygon({{x, y + 1.2 * r}, {x + 1.1 * r, y - r}, {x - 1.1 * r, y - r}}); break;
  }
}

void Svg::text(double x, double y, std::string_view words, double size, std::string_view colour, std::string_view anchor,
               bool bold, bool turned) {
  text_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" font-size=\"{:g}\" fill=\"{}\" text-anchor=\"{}\"{}{}>{}</text>\n",
                       x, y, size, colour, anchor, bold ? " font-weight=\"bold\"" : "",
                       turned ? fmt::format(" transform=\"rotate(-90 {:.1f} {:.1f})\"", x, y) : "", element_text(words));
}

void Svg::element(std::string_view markup) { text_ += fmt::format("{}\n", markup); }

std::string Svg::finished() const { return text_ + "</svg>\n"; }

Svg chart_paper(double width, double height) {
  Svg svg(
      fmt::format("viewBox=\"0 0 {0:g} {1:g}\" width=\"{0:g}\" height=\"{1:g}\" "
                  "font-family=\"DejaVu Sans, Verdana, sans-serif\"",
                  width, height));
  svg.rectangle(0, 0, width, height, ink::paper);
  return svg;
}

Chart::Chart(Svg& svg, double left, double top, double width, double height, double x_low, double x_high, double y_low,
             double y_high, bool root_x)
    : svg_(svg),
      left_(left),
      top_(top),
      width_(width),
      height_(height),
      x_low_(x_low),
      x_high_(x_high),
      y_low_(y_low),
      y_high_(y_high),
      root_x_(root_x) {}

void Chart::axes(const std::vector<double>& x_ticks, const std::string& x_title, const std::vector<double>& y_ticks,
                 const std::string& y_title, bool grid) {
  for (const double tick : x_ticks) {
    svg_.line(x(tick), grid ? top() : bottom() - 5, x(tick), bottom(), grid ? ink::grid : ink::text, 1);
    svg_.text(x(tick), bottom() + 18, fmt::format("{:g}", tick), 13, ink::text, "middle");
  }
  for (const double tick : y_ticks) {
    svg_.line(left(), y(tick), grid ? right() : left() + 5, y(tick), grid ? ink::grid : ink::text, 1);
    svg_.text(left() - 8, y(tick) + 4.5, fmt::format("{:g}", tick), 13, ink::text, "end");
  }
  svg_.line(left(), bottom(), right(), bottom(), ink::text, 1.5);
  svg_.line(left(), top(), left(), bottom(), ink::text, 1.5);
  svg_.text(0.5 * (left() + right()), bottom() + 40, x_title, 14, ink::text, "middle");
  if (!y_title.empty()) svg_.text(left() - 42, 0.5 * (top() + bottom()), y_title, 14, ink::text, "middle", false, true);
}

Points Chart::placed(const Points& points) const {
  Points out;
  for (const auto& [px, py] : points) out.emplace_back(x(px), y(py));
  return out;
}

void Chart::curve(const Points& points, std::string_view colour, double width, std::string_view dashes) {
  svg_.polyline(placed(points), colour, width, dashes);
}
void Chart::area(const Points& points, std::string_view fill) { svg_.area(placed(points), fill); }
void Chart::mark(Svg::Mark shape, double x_value, double y_value, double size, std::string_view colour) {
  svg_.mark(shape, x(x_value), y(y_value), size, colour);
}

}  // namespace leewheel
