#include "pages/sheet_leaves.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace leewheel {

namespace {

constexpr double leaf_mm = 265.0, inner_mm = 172.0;
constexpr double letter_em =
    0.56;  // mean width of DejaVu Sans with room for broken lines (measured on the shipped scenarios)
constexpr double line_em = 1.2;
constexpr double mm_per_pt = 25.4 / 72.0;
constexpr int least_pt = 9, usual_pt = 14, smaller_pt = 12, most_pt = 16;

double height_mm(const std::vector<CardBlock>& card, double pt) {
  double lines_pt = 0.0;
  for (const CardBlock& block : card) {
    const double letters = std::max(4.0, block.width * inner_mm / (letter_em * block.size * pt * mm_per_pt));
    lines_pt += line_em * block.size * pt * std::ceil(static_cast<double>(block.letters) / letters);
    lines_pt += block.margin_em * pt;
  }
  constexpr double edge_mm = 8.0;
  return lines_pt * mm_per_pt + edge_mm;
}

using Cards = std::vector<std::vector<CardBlock>>;

/// The largest type in which cards `from` to `to` fill no more than a page; 0 when none does.
int type_pt(const Cards& cards, std::size_t from, std::size_t to) {
  for (int pt = most_pt; pt >= least_pt; --pt) {
    double sum_mm = 0.0;
    for (std::size_t k = from; k < to; ++k) sum_mm += height_mm(cards[k], pt);
    if (sum_mm <= leaf_mm) return pt;
  }
  return 0;
}

/// `count` leaves as even as they can be, the fuller ones last, so that the captain's has the most room.
std::vector<Leaf> spread_over(const Cards& cards, std::size_t count) {
  std::vector<Leaf> leaves;
  for (std::size_t from = 0, k = 0; k < count; ++k) {
    const std::size_t size = (cards.size() - from) / (count - k);
    leaves.push_back({from, from + size, type_pt(cards, from, from + size)});
    from += size;
  }
  return leaves;
}

}  // namespace

std::vector<Leaf> leaves_of(const std::vector<std::vector<CardBlock>>& cards) {
  constexpr std::size_t most_a_leaf = 4;
  for (const int pt : {usual_pt, smaller_pt})
    for (std::size_t count = (cards.size() + most_a_leaf - 1) / most_a_leaf; count < cards.size(); ++count) {
      std::vector<Leaf> leaves = spread_over(cards, count);
      if (std::ranges::all_of(leaves, [&](const Leaf& leaf) { return leaf.type_pt >= pt; })) return leaves;
    }
  std::vector<Leaf> leaves = spread_over(cards, cards.size());
  for (Leaf& leaf : leaves) leaf.type_pt = std::max(leaf.type_pt, least_pt);
  return leaves;
}

}  // namespace leewheel
