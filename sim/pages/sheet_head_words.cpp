#include <algorithm>
#include <functional>

#include "pages/sheet_page.hpp"
#include "words/wait_words.hpp"

namespace leewheel {

namespace {

/// Of those who reach the finish; who does not is later than all.
std::size_t last_home(const Page& page) {
  std::size_t last = 0;
  const auto time_s = [&](std::size_t i) {
    const RiderResult& rider = page.sheet.ride.riders[i];
    return rider.finished ? rider.finish_time_s : 1e18;
  };
  for (std::size_t i = 1; i < page.sheet.riders.size(); ++i)
    if (time_s(i) > time_s(last)) last = i;
  return last;
}

/// The landmark where a wait is, counted as a stretch that ends there; none at a place of another kind.
std::optional<std::size_t> stretch_to(const Page& page, double at_m) {
  for (std::size_t k = 0; k < page.sheet.stretches.size(); ++k)
    if (std::abs(page.sheet.stretches[k].to_m - at_m) < 1.0) return k;
  return std::nullopt;
}

}  // namespace

std::string meeting_text(const Page& page) {
  constexpr double before_s = 600.0;  // common practice, no source
  const DayClock clock = page.clock();
  if (!clock.known()) return "times count from the start";
  return fmt::format("{}, meet {}, roll {}; times count from the start, the time of day in brackets", clock.date(),
                     clock.at(-before_s), clock.at(0.0));
}

std::string order_text(const Page& page) {
  if (page.sheet.groups_at_start.size() > 1) {
    std::vector<std::string> groups;
    for (const std::vector<std::uint32_t>& group : page.sheet.groups_at_start)
      groups.push_back(enumerated(names_of(page.scenario(), group)));
    return fmt::format("first {}", fmt::join(groups, "; behind them "));
  }
  std::vector<std::string> order = page.scenario().ride.start_order, others;
  for (const RiderSettings& rider : page.scenario().riders)
    if (std::ranges::count(order, rider.name) == 0) others.push_back(rider.name);
  std::ranges::sort(others);
  order.insert(order.end(), others.begin(), others.end());
  return enumerated(order);
}

std::vector<std::string> regroup_lines(const Page& page) {
  std::vector<std::string> lines;
  for (const WaitOfRide& wait : waits_of(page.scenario(), page.sheet.ride)) {
    const std::string place = place_text(page.scenario(), wait.place);
    if (wait.waited.empty()) {
      lines.push_back(place + ": nobody waits there");
      continue;
    }
    const auto [first, last] = std::ranges::minmax(wait.waited, {}, &WaitOfRide::Rider::arrive_s);
    const auto& goes = std::ranges::max(wait.waited, {}, &WaitOfRide::Rider::go_on_s);
    const auto time = [&](double time_s) { return page.clock().beside(time_s); };
    std::string text =
        fmt::format("{}, {}: {} there {}", place, page.way(wait.place.at_m), page.name(first.rider), time(first.arrive_s));
    if (last.rider != first.rider) text += fmt::format(", {} as the last {}", page.name(last.rider), time(last.arrive_s));
    if (goes.go_on_s >= 0.0) text += fmt::format("; go on {}", time(goes.go_on_s));
    for (const WaitOfRide::GivenUp& given_up : wait.given_up) text += "; " + given_up_text(page.scenario(), wait, given_up);
    lines.push_back(text);
  }
  return lines;
}

std::string close_up_text(const Page& page) {
  constexpr double worth_a_word_W = 10.0;  // assumed
  constexpr double open_mps = 2.0;         // wind against on average: counts before what a wheel saves (assumed)
  const auto weight = [&](const SheetStretch& s) { return std::pair(s.head_mps >= open_mps ? s.head_mps : 0.0, s.saved_W); };
  const SheetStretch* best = nullptr;
  for (const SheetStretch& s : page.sheet.stretches)
    if (s.wheels_advised() && s.saved_W >= worth_a_word_W && (!best || weight(s) > weight(*best))) best = &s;
  if (!best || !page.group()) return "";
  return fmt::format("{} to {}, where a wheel saves {:.0f} W a rider (wind {})", best->from, best->to, best->saved_W,
                     wind_text(page, *best));
}

std::string look_after_text(const Page& page) {
  constexpr double often = 0.25, nearly_empty = 0.2;  // of the days, of W' (assumed)
  constexpr std::size_t most_told = 3;                // of those who come off
  std::vector<double> lost;
  for (const SheetRider& rider : page.sheet.riders) lost.push_back(rider.dropped_share);
  std::ranges::sort(lost, std::greater());
  const double told_from = std::max(often, lost[std::min(most_told, lost.size()) - 1]);
  std::size_t told = 0;
  std::vector<std::string> parts;
  const std::size_t last = last_home(page);
  for (std::size_t i = 0; i < page.sheet.riders.size(); ++i) {
    std::vector<std::string> why;
    if (i == last) why.emplace_back("the last");
    if (const double share = page.sheet.riders[i].dropped_share;
        (share >= told_from && told < most_told) || (i == last && share >= often))
      why.push_back(fmt::format("comes off on {:.0f} % of days", 100.0 * share)), ++told;
    if (page.sheet.ride.riders[i].wbal_least_J < nearly_empty * page.scenario().riders[i].w_prime_J)
      why.emplace_back("nearly out of strength once");
    if (!why.empty()) parts.push_back(fmt::format("{} ({})", page.name(i), fmt::join(why, ", ")));
  }
  return enumerated(parts);
}

std::vector<std::string> when_to_change(const Page& page) {
  std::vector<std::string> lines;
  const std::size_t last = last_home(page);
  std::optional<std::size_t> place;
  for (const WaitOfRide& wait : waits_of(page.scenario(), page.sheet.ride))
    if (!place) place = stretch_to(page, wait.place.at_m);
  if (!place && page.sheet.stretches.size() > 1) place = page.sheet.stretches.size() / 2 - 1;
  const auto& ranges = page.sheet.riders[last].arrives_s;
  if (place && *place < ranges.size() && ranges[*place])
    lines.push_back(fmt::format("{} not at {} by {} (so late on one day of ten): ease, or go on in two groups",
                                page.name(last), page.sheet.stretches[*place].to,
                                page.clock().beside(ranges[*place]->high)));
  const bool in_line = std::ranges::any_of(page.sheet.stretches, [](const SheetStretch& s) { return s.wheels_advised(); });
  if (in_line) lines.emplace_back("someone cannot hold the wheel: the front eases until the gap is closed; no one chases");
  return lines;
}

}  // namespace leewheel
