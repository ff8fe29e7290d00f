#include "words/give_and_take_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "words/plain_text.hpp"

namespace leewheel {
namespace {

constexpr double told_from_J = 100.0;
constexpr std::size_t longest_told = 8;  // riders of a chain

std::string balance_line(const GiveAndTake& book, const NameOf& name) {
  if (book.net_J.empty()) return "";
  const auto [least, most] = std::ranges::minmax_element(book.net_J);
  if (*most < told_from_J || *least > -told_from_J) return "";
  const auto who = [&](auto place) { return name(static_cast<std::uint32_t>(place - book.net_J.begin())); };
  return fmt::format(
      "On balance {} carried the others most, {:.1f} kJ given over received, and {} was carried most, {:.1f} kJ.", who(most),
      *most / 1000.0, who(least), -*least / 1000.0);
}

std::string circle_line(const GiveAndTake& book, const NameOf& name) {
  const auto list = [&](const std::vector<std::uint32_t>& riders) {
    std::vector<std::string> names;
    for (const std::uint32_t rider : riders) names.push_back(name(rider));
    return enumerated_briefly(names);
  };
  if (book.circles.empty()) return "";
  std::vector<std::uint32_t> outside;
  for (std::uint32_t rider = 0; rider < book.net_J.size(); ++rider) {
    const bool shares = std::ranges::any_of(
        book.circles, [&](const auto& circle) { return std::ranges::find(circle, rider) != circle.end(); });
    if (!shares && book.net_J[rider] <= -told_from_J) outside.push_back(rider);
  }
  if (book.circles.front().size() == book.net_J.size() && book.net_J.size() > 2)
    return fmt::format("All {} shared the work: everyone gave and got back.", book.net_J.size());
  std::string line = list(book.circles.front()) + " shared the work";
  for (std::size_t k = 1; k < std::min<std::size_t>(book.circles.size(), 3); ++k)
    line += ", and among themselves " + list(book.circles[k]);
  if (!outside.empty()) line += fmt::format("; {} only took", list(outside));
  return line + ".";
}

std::string chain_line(const GiveAndTake& book, const NameOf& name) {
  if (book.chain.size() < 3 || book.chain_J < told_from_J) return "";
  std::string line = "Strongest chain of wheels: ";
  for (std::size_t k = 0; k < std::min(book.chain.size(), longest_told); ++k)
    line += (k ? " to " : "") + name(book.chain[k]);
  if (book.chain.size() > longest_told) line += fmt::format(" and {} more", book.chain.size() - longest_told);
  return line + fmt::format(", {:.1f} kJ on balance.", book.chain_J / 1000.0);
}

}  // namespace

std::vector<std::string> give_and_take_lines(const GiveAndTake& book, const NameOf& name) {
  std::vector<std::string> lines{balance_line(book, name), circle_line(book, name), chain_line(book, name)};
  std::erase(lines, "");
  return lines;
}

}  // namespace leewheel
