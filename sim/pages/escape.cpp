#include "pages/escape.hpp"

namespace leewheel {

namespace {

std::string escaped(std::string_view text, bool quotes) {
  std::string safe;
  for (const char c : text) switch (c) {
      case '&': safe += "&amp;"; break;
      case '<': safe += "&lt;"; break;
      case '>': safe += "&gt;"; break;
      case '"': safe += quotes ? "&quot;" : "\""; break;
      case '\'': safe += quotes ? "&#39;" : "'"; break;
      default: safe += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? ' ' : c;
    }
  return safe;
}

}  // namespace

std::string html_text(std::string_view text) { return escaped(text, true); }

std::string element_text(std::string_view text) { return escaped(text, false); }

}  // namespace leewheel
