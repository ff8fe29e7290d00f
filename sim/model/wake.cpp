#include "leewheel/wake.hpp"

#include <cassert>

namespace leewheel {

WakeLaw wake_law(std::size_t number) {
  assert(number < wake_law_names.size());
  static const auto all = []<class... Law>(std::type_identity<std::variant<Law...>>) {
    return std::array<WakeLaw, sizeof...(Law)>{Law{}...};
  }(std::type_identity<WakeLaw>{});
  return all[number];
}

const WakeBase& wake_base(const WakeLaw& law) {
  return std::visit([](const WakeBase& base) -> const WakeBase& { return base; }, law);
}

WakeBase& wake_base(WakeLaw& law) {
  return std::visit([](WakeBase& base) -> WakeBase& { return base; }, law);
}

void wake_factors(const WakeLaw& law, const WakeInput& in, const WakeOutput& out, std::vector<WakeLink>* links) {
  if (links) links->clear();
  std::visit([&](const auto& own) { own.factors(in, out, links); }, law);
}

WakeReach wake_reach_m(const WakeLaw& law, const WakeInput& in) {
  return std::visit([&](const auto& own) { return own.reach_m(in); }, law);
}

}  // namespace leewheel
