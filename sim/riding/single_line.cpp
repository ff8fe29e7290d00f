/// A single line: with turns in front as long as strength allows, or with one rider in front all the way.

#include "riding/formation.hpp"

namespace leewheel::riding {

namespace {

class Turns final : public LineFormation {};

class OneInFront final : public LineFormation {
 public:
  bool rotates() const override { return false; }
};

const Turns turns;
const OneInFront one_in_front;

}  // namespace

const LineFormation& turns_formation = turns;
const LineFormation& one_in_front_formation = one_in_front;

}  // namespace leewheel::riding
