#include "words/give_and_take_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "words/plain_text.hpp"

namespace leewheel {
namespace {

constexpr double shown_from_J = 100.0;
constexpr std::size_t longest_shown = 8;  // riders of a chain

std::string balance_line(const GiveAndTake& shared, const NameOf& name) {
  if (shared.net_J.empty()) return "";
  const auto [least, most] = std::ranges::minmax_element(shared.net_J);
  if (*most < shown_from_J || *least > -shown_from_J) return "";
  const auto who = [&](auto place) { return name(static_cast<std::uint32_t>(place - shared.net_J.begin())); };
  return fmt::format(
      "On balance {} carried the others most, {:.1f} kJ given over received, and {} was carried most, {:.1f} kJ.", who(most),
      *most / 1000.0, who(least), -*least / 1000.0);
}

std::string circle_line(const GiveAndTake& shared, const NameOf& name) {
  const auto list = [&](const std::vector<std::uint32_t>& riders) {
    std::vector<std::string> names;
    for (const std::uint32_t rider : riders) names.push_back(name(rider));
    return enumerated_briefly(names);
  };
  if (shared.circles.empty()) return "";
  std::vector<std::uint32_t> outside;
  for (std::uint32_t rider = 0; rider < shared.net_J.size(); ++rider) {
    const bool shares = std::ranges::any_of(
        shared.circles, [&](const auto& circle) { return std::ranges::find(circle, rider) != circle.end(); });
    if (!shares && shared.net_J[rider] <= -shown_from_J) outside.push_back(rider);
  }
  if (shared.circles.front().size() == shared.net_J.size() && shared.net_J.size() > 2)
    return fmt::format("All {} shared the work: everyone gave and got back.", shared.net_J.size());
  std::string line = list(shared.circles.front()) + " shared the work";
  for (std::size_t k = 1; k < std::min<std::size_t>(shared.circles.size(), 3); ++k)
    line += ", and among themselves " + list(shared.circles[k]);
  if (!outside.empty()) line += fmt::format("; {} only took", list(outside));
  return line + ".";
}

std::string chain_line(const GiveAndTake& shared, const NameOf& name) {
  if (shared.chain.size() < 3 || shared.chain_J < shown_from_J) return "";
  std::string line = "Strongest chain of wheels: ";
  for (std::size_t k = 0; k < std::min(shared.chain.size(), longest_shown); ++k)
    line += (k ? " to " : "") + name(shared.chain[k]);
  if (shared.chain.size() > longest_shown) line += fmt::format(" and {} more", shared.chain.size() - longest_shown);
  return line + fmt::format(", {:.1f} kJ on balance.", shared.chain_J / 1000.0);
}

}  // namespace

std::vector<std::string> give_and_take_lines(const GiveAndTake& shared, const NameOf& name) {
  std::vector<std::string> lines{balance_line(shared, name), circle_line(shared, name), chain_line(shared, name)};
  std::erase(lines, "");
  return lines;
}

}  // namespace leewheel
