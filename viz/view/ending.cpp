#include "viz/view/ending.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "words/plain_text.hpp"

namespace leewheel::view {

namespace {

/// "Anouk is home first, after 28:30; Fenn last, 1:08 later."
std::string home_words(const Replay& replay) {
  std::vector<std::pair<double, std::size_t>> home;
  for (std::size_t i = 0; i < replay.riders(); ++i)
    if (const auto finish_s = replay.finish_s(i)) home.emplace_back(*finish_s, i);
  if (home.empty()) return fmt::format("Nobody is home after {}.", clock_text(replay.end_s()));
  std::ranges::sort(home);
  const auto name = [&](const auto& one) { return replay.head().riders[one.second].name; };
  const auto& [first, last] = std::pair(home.front(), home.back());
  if (replay.riders() == 1) return fmt::format("{} is home after {}.", name(first), clock_text(first.first));
  std::string words = fmt::format("{} is home first, after {}", name(first), clock_text(first.first));
  if (home.size() < replay.riders()) return words + fmt::format("; {} of {} are home.", home.size(), replay.riders());
  const double later_s = last.first - first.first;
  return words + (later_s < 0.5 ? std::string("; all finish together.")
                                : fmt::format("; {} last, {} later.", name(last), minutes_seconds_text(later_s)));
}

/// "Company saved 15 % of the work, 338.6 kJ in all; Fenn most, 74.1 kJ." Empty when nobody saved a kilojoule.
std::string company_words(const Replay& replay) {
  constexpr double least_J = 1000.0;
  double saved_J = 0, work_J = 0, most_J = 0;
  std::size_t most = 0;
  for (std::size_t i = 0; i < replay.riders(); ++i) {
    const double saved = replay.saved_J(i, replay.end_s());
    saved_J += saved, work_J += replay.pedal_J(i, replay.end_s());
    if (saved > most_J) most_J = saved, most = i;
  }
  if (!(saved_J >= least_J)) return "";
  return fmt::format("Company saved {:.0f} % of the work, {:.0f} kJ in all; {} most, {:.0f} kJ.",
                     100 * saved_J / (saved_J + work_J), saved_J / 1000, replay.head().riders[most].name, most_J / 1000);
}

}  // namespace

std::vector<std::string> ending_results(const Replay& replay) {
  std::vector<std::string> results{home_words(replay), company_words(replay)};
  if (!replay.give_and_take().empty()) results.push_back(replay.give_and_take().front());
  std::erase(results, "");
  return results;
}

}  // namespace leewheel::view
