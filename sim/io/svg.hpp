#pragma once
/// A drawing as SVG text: lines, areas, words. Coordinates in pixels, y downwards.

#include <fmt/format.h>

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leewheel {

class Svg {
 public:
  using Points = std::vector<std::pair<double, double>>;

  Svg(double width, double height, std::string_view background)
      : text_(fmt::format(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:g}\" height=\"{1:g}\" viewBox=\"0 0 {0:g} {1:g}\" "
            "font-family=\"DejaVu Sans, sans-serif\">\n",
            width, height)) {
    rect(0, 0, width, height, background);
  }

  void rect(double x, double y, double width, double height, std::string_view fill, double opacity = 1.0) {
    text_ += fmt::format("<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"{}\"{}/>\n", x, y, width,
                         height, fill, opacity < 1.0 ? fmt::format(" fill-opacity=\"{:g}\"", opacity) : "");
  }
  void line(double x1, double y1, double x2, double y2, std::string_view stroke, double width = 1.0,
            std::string_view dashes = "") {
    text_ += fmt::format(
        "<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\" stroke-width=\"{:g}\"{}/>\n", x1, y1,
        x2, y2, stroke, width, dashes.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", dashes));
  }
  void polyline(const Points& points, std::string_view stroke, double width, std::string_view dashes = "") {
    text_ += fmt::format(
        "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{:g}\" stroke-linejoin=\"round\"{}/>\n",
        joined(points), stroke, width, dashes.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", dashes));
  }
  void area(const Points& points, std::string_view fill, double opacity = 1.0) {
    text_ += fmt::format("<polygon points=\"{}\" fill=\"{}\" fill-opacity=\"{:g}\"/>\n", joined(points), fill, opacity);
  }
  /// `anchor`: start, middle or end.
  void words(double x, double y, std::string_view text, double size, std::string_view fill,
             std::string_view anchor = "start", bool bold = false) {
    text_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" font-size=\"{:g}\" fill=\"{}\" text-anchor=\"{}\"{}>{}</text>\n",
                         x, y, size, fill, anchor, bold ? " font-weight=\"bold\"" : "", escaped(text));
  }
  std::string finish() const { return text_ + "</svg>\n"; }

 private:
  static std::string joined(const Points& points) {
    std::string text;
    for (const auto& [x, y] : points) text += fmt::format("{}{:.1f},{:.1f}", text.empty() ? "" : " ", x, y);
    return text;
  }
  static std::string escaped(std::string_view text) {
    std::string safe;
    for (const char c : text) {
      if (c == '&')
        safe += "&amp;";
      else if (c == '<')
        safe += "&lt;";
      else if (c == '>')
        safe += "&gt;";
      else
        safe += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
    }
    return safe;
  }
  std::string text_;
};

}  // namespace leewheel
