#pragma once
/// What files tell of each rider and of each stretch: one table for riders.csv and the riders of summary.json, one for
/// stretches.csv and theirs. The unit stands at the end of the name; docs/results.md tells what each means.

#include <span>

#include "leewheel/ride_facts.hpp"

namespace leewheel {

struct RiderRow {
  const RiderResult& rider;
  const RiderFacts& facts;
  const RiderResult* alone_again;  ///< nullptr: not known
};

enum class FoundIn { both, csv, json };

template <class Row>
struct ResultColumn {
  const char* name;
  int decimals;
  double (*value)(const Row&);  ///< no_value where there is none
  FoundIn found_in = FoundIn::both;
};

std::span<const ResultColumn<RiderRow>> rider_columns();
std::span<const ResultColumn<StretchRidden>> stretch_columns();

}  // namespace leewheel
