#include "riding/rules.hpp"

namespace leewheel::riding {

namespace {
bool rides_freely(Role role) { return role == Role::alone || role == Role::front; }
}  // namespace

void become(Memory& next, Role role, const Because& because, double time_s) {
  // Riders come and go behind: who is held up is so whether or not anyone follows.
  if (!rides_freely(role) || !rides_freely(next.role)) next.since_s.fill(stopped);
  if (next.role != role) next.role_since_s = time_s;
  next.role = role;
  next.why = because;
  if (!rides_freely(role)) next.side = 0;  // a pass once begun is finished
  next.eases_for_group = next.keeps_whole = next.takes_over = false;
  if (role != Role::following && role != Role::chasing) next.wheel = nobody;
}

void Proposal::become(Role role, const Because& because) { riding::become(next, role, because, time_s); }

namespace {
/// True once `holds` has been so for `lasts_s`.
bool has_lasted(bool holds, double& since_s, double lasts_s, double time_s) {
  if (!holds)
    since_s = stopped;
  else if (since_s < 0.0)
    since_s = time_s;
  return holds && time_s - since_s >= lasts_s;
}
}  // namespace

void follow_rules(std::span<const Rule> rules, const View& view, Proposal& proposal) {
  for (const Rule& rule : rules) {
    const Answer answer = rule.asks(view);
    const bool acts = rule.lasts_s ? has_lasted(answer.holds, proposal.next.since_s[static_cast<std::size_t>(rule.clock)],
                                                view.settings().*rule.lasts_s, view.now.time_s)
                                   : answer.holds;
    if (acts) rule.then(view, answer, proposal);
    if ((acts && !rule.goes_on) || answer.holds_off) return;
  }
}

}  // namespace leewheel::riding
