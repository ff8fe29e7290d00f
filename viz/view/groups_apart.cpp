#include "viz/view/groups_apart.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace leewheel::view {

namespace {

double middle_m(const GroupView& group) { return 0.5 * (group.first_m + group.last_m); }

bool holds(const GroupView& group, std::uint32_t rider) { return std::ranges::count(group.riders, rider) > 0; }

/// One side, from the nearest on.
std::vector<std::string> side_words(const View& view, const GroupView& here, const std::vector<const GroupView*>& others,
                                    bool ahead, Units units, std::size_t most) {
  std::vector<std::string> lines;
  const auto way = [&](const GroupView& other) {
    const double gap_m = ahead ? gap_between_m(other, here) : gap_between_m(here, other);
    return way_text(gap_m, units) + (ahead ? " ahead" : " behind");
  };
  const std::size_t told = others.size() <= most ? others.size() : most - 1;
  for (std::size_t k = 0; k < told; ++k) lines.push_back(size_words(*others[k], view) + ": " + way(*others[k]));
  if (told < others.size()) lines.push_back(fmt::format("{} more, up to {}", others.size() - told, way(*others.back())));
  return lines;
}

}  // namespace

std::string size_words(const GroupView& group, const View& view) {
  return group_name(group, view) + (group.id < 0 ? ", alone" : fmt::format(", {} riders", group.riders.size()));
}

std::string members_words(const GroupView& group, const View& view) {
  constexpr std::size_t most = 6;
  if (group.id < 0) return size_words(group, view);
  std::string words = size_words(group, view) + ": ";
  for (std::size_t k = 0; k < std::min(most, group.riders.size()); ++k)
    words += (k > 0 ? ", " : "") + view.riders[group.riders[k]].name;
  return group.riders.size() > most ? words + fmt::format(" and {} more", group.riders.size() - most) : words;
}

const GroupView* group_of(const View& view, std::uint32_t rider) {
  const auto found = std::ranges::find_if(view.groups, [&](const GroupView& g) { return holds(g, rider); });
  return found == view.groups.end() ? nullptr : &*found;
}

double gap_between_m(const GroupView& ahead, const GroupView& behind) {
  return std::max(0.0, ahead.last_m - behind.first_m);
}

OtherGroups other_groups(const View& view, std::uint32_t rider, Units units, std::size_t most) {
  const GroupView* here = group_of(view, rider);
  if (!here || most == 0) return {};
  std::vector<const GroupView*> ahead, behind;
  for (const GroupView& group : view.groups)
    if (&group != here) (&group < here ? ahead : behind).push_back(&group);
  std::ranges::reverse(ahead);
  return {side_words(view, *here, ahead, true, units, most), side_words(view, *here, behind, false, units, most)};
}

std::optional<CrowdedStretch> crowded_stretch(const View& view, double bead_m, std::uint32_t rider) {
  constexpr double margin_share = 0.06, least_margin_m = 3.0;
  const auto& groups = view.groups;
  std::size_t best_from = 0, best_to = 0;
  bool best_holds = false;
  for (std::size_t from = 0, to = 0; from < groups.size(); from = to) {
    bool here = holds(groups[from], rider);
    for (to = from + 1; to < groups.size() && middle_m(groups[to - 1]) - middle_m(groups[to]) < bead_m; ++to)
      here = here || holds(groups[to], rider);
    if (to - from < 2 || best_holds || (!here && to - from <= best_to - best_from)) continue;
    best_from = from, best_to = to, best_holds = here;
  }
  if (best_to - best_from < 2) return {};
  const double first_m = groups[best_from].first_m, last_m = groups[best_to - 1].last_m;
  const double margin_m = std::max(least_margin_m, margin_share * (first_m - last_m));
  return CrowdedStretch{last_m - margin_m, first_m + margin_m};
}

}  // namespace leewheel::view
