#pragma once
/// The runs of `leewheel spread` in a file, from which a later time goes on.

#include <cstdint>
#include <string>
#include <vector>

#include "leewheel/ensemble.hpp"

namespace leewheel {

struct KeptRuns {
  std::uint64_t digest, seed;
  std::vector<RunOutcome> runs;
};

std::string text_of(const KeptRuns& kept);

/// Puts the runs of an earlier time where they belong. Runs beyond the number asked for are left out.
void take_up(const std::string& path, KeptRuns& kept, std::size_t riders, std::size_t stretches);

}  // namespace leewheel
