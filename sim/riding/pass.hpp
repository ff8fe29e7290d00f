#pragma once
/// Going past, moving over, letting by.

#include "riding/rules.hpp"

namespace leewheel::riding {

/// Leading the motion of the wheel ahead, this much faster, would cost less than the plan. A steady speed would not tell: at a
/// start from rest, or where the road rolls, every wheel is slower than that for a while.
bool would_lead(const View& view, double faster_mps);

Answer sprints(const View& view);             ///< in a race: what is left of W' is enough for a sprint to the line
Answer far_faster_alone(const View& view);    ///< so much that nobody would sit there
Answer faster_alone(const View& view);        ///< on a wheel: the rider could go clearly faster, and may
Answer wheel_far_too_slow(const View& view);  ///< without a wheel: comes up to one that would slow the rider much
Answer wheel_too_slow(const View& view);      ///< without a wheel: the next one would only slow the rider
Answer cannot_come_by(const View& view);      ///< beside others, close behind a rider who leaves no room
Answer is_beside(const View& view);           ///< is aside of others already

void go_past_wheel(const View& view, const Answer& answer, Proposal& proposal);
void go_aside(const View& view, const Answer& answer, Proposal& proposal);
/// Out of the line, and by everyone who is slower.
void sprint_past(const View& view, const Answer& answer, Proposal& proposal);
/// Back into line, to begin anew from behind.
void give_up_passing(const View& view, const Answer& answer, Proposal& proposal);
/// Back into line once clear of the rider passed, or when that one turns out to be faster.
void finish_passing(const View& view, const Answer& answer, Proposal& proposal);

/// Where a rider who passes rides across the road (m): beside whoever is in the way, on the usual side if the lane has room
/// there, else on the other.
double passing_line_m(const Snapshot& now, RiderIndex i, const Memory& own, double middle_m);
/// The rider in the way of a pass who leaves no room on the usual side, or nobody.
RiderIndex asked_to_let_by(const Snapshot& now, RiderIndex i, const Memory& own);
/// The rider on a wheel who rides beside the place that a pass needs, and a little behind who passes, or nobody.
RiderIndex asked_to_fall_back(const Snapshot& now, RiderIndex i, const Memory& own);
/// The rider alongside, a little ahead, who holds the same wheel, or nobody: one of the two has to fall in behind the other.
RiderIndex shares_wheel(const Snapshot& now, RiderIndex i, std::span<const Memory> next);
/// Settles who keeps to the edge for someone faster, and who falls back. `next` holds what everyone will remember.
void settle_letting_by(const Snapshot& now, std::span<Memory> next);

std::span<const NumberField<TacticsSettings>> pass_fields();

}  // namespace leewheel::riding
