#pragma once
/// How pocket cards share pages of A4: as few pages as type of 14 pt allows (12 pt before a card takes a page), every page filled, and the largest type that fits.

#include <cstddef>
#include <vector>

namespace leewheel {

/// Text of a card that takes lines of its own.
struct CardBlock {
  std::size_t letters;
  double width = 1.0;      ///< share of the card's width
  double size = 1.0;       ///< of its type, in sizes of the card's
  double margin_em = 0.3;  ///< below it
};

struct Leaf {
  std::size_t from, to;  ///< cards from `from` to before `to`
  int type_pt;
};

/// From how much text each card has; letters are counted, not measured. Every page holds a card at least.
std::vector<Leaf> leaves_of(const std::vector<std::vector<CardBlock>>& cards);

}  // namespace leewheel
