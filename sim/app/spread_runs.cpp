#include "app/spread_runs.hpp"

#include <fmt/format.h>
#include <oneapi/tbb/global_control.h>

#include <algorithm>

#include "app/asking.hpp"
#include "app/progress.hpp"

namespace leewheel {

namespace {

/// "2, 10, 18 to 20 and 100 more".
std::string numbers_words(const std::vector<std::size_t>& numbers) {
  constexpr std::size_t most_shown = 10;
  std::string text;
  std::size_t k = 0;
  for (std::size_t shown = 0; k < numbers.size() && shown < most_shown; ++shown) {
    std::size_t last = k;
    while (last + 1 < numbers.size() && numbers[last + 1] == numbers[last] + 1) ++last;
    text += (k > 0 ? ", " : "") + std::to_string(numbers[k]);
    if (last > k) text += (last == k + 1 ? ", " : " to ") + std::to_string(numbers[last]);
    k = last + 1;
  }
  if (k < numbers.size()) text += fmt::format(" and {} more", numbers.size() - k);
  return text;
}

/// The parts of which all runs are missing: "3/8, 5/8".
std::string missing_parts(const std::vector<std::size_t>& missing, std::size_t asked, std::size_t parts) {
  std::string text;
  for (RunsPart part{1, parts}; part.number <= parts; ++part.number) {
    const auto gone = std::count_if(missing.begin(), missing.end(), [&](std::size_t n) { return part.has(n); });
    if (gone == 0 || static_cast<std::size_t>(gone) < runs_of(part, asked)) continue;
    text += (text.empty() ? "" : ", ") + part.text();
  }
  return text;
}

}  // namespace

std::string runs_file_name(const RunsPart& part) {
  return part.of == 1 ? "spread_runs.ndjson" : fmt::format("spread_runs_{}_of_{}.ndjson", part.number, part.of);
}

std::size_t runs_of(const RunsPart& part, std::size_t asked) { return (asked + part.of - part.number) / part.of; }

std::vector<std::size_t> not_ridden(const KeptRuns& kept) {
  std::vector<std::size_t> numbers;
  for (std::size_t n = 0; n < kept.asked; ++n)
    if (kept.part.has(n) && !kept.runs[n].done && kept.runs[n].failed.empty()) numbers.push_back(n);
  return numbers;
}

std::size_t failed_runs(const KeptRuns& kept) {
  std::size_t failed = 0;
  for (std::size_t n = 0; n < kept.asked; ++n) failed += kept.part.has(n) && !kept.runs[n].failed.empty();
  return failed;
}

std::string missing_words(const std::vector<std::size_t>& missing, std::size_t asked, std::size_t parts) {
  const std::string whole = parts > 1 && parts <= asked ? missing_parts(missing, asked, parts) : "";
  return fmt::format("{} of {} runs are missing{}: {}", missing.size(), asked, whole.empty() ? "" : " (part " + whole + ")",
                     numbers_words(missing));
}

bool ride_runs(const Scenario& scenario, KeptRuns& kept, RunsFile& file, std::size_t threads, bool progress_wanted,
               const std::function<RunOutcome(const Scenario&, std::uint64_t, std::uint64_t)>& ride) {
  for (std::size_t n = 0; n < kept.asked; ++n)
    if (kept.part.has(n) && !kept.runs[n].done) kept.runs[n] = {};
  const std::vector<std::size_t> numbers = not_ridden(kept);
  const StopAsked stop;
  const tbb::global_control limit(tbb::global_control::max_allowed_parallelism, threads);
  Progress progress("riding", progress_wanted);
  file.begin(kept);
  const auto all = static_cast<double>(runs_of(kept.part, kept.asked));
  double done = all - static_cast<double>(numbers.size());
  const bool ended = ride_days(
      scenario, kept.seed, numbers,
      [&](std::size_t n, RunOutcome&& run) {
        file.add(n, run);
        if (!run.done)
          fmt::print(stderr, "leewheel: run {} of seed {} failed (its own seed is {}): {}; the others go on\n", n, kept.seed,
                     day_seed(scenario, kept.seed, n), run.failed);
        kept.runs[n] = std::move(run);
        progress.at(++done, all);
        return !StopAsked::yes();
      },
      ride);
  file.end(kept);
  return ended;
}

}  // namespace leewheel
