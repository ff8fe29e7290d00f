#pragma once
/// The cautions that stand with every answer.

namespace leewheel {

/// With a ride that was ridden.
inline constexpr const char* ride_cautions[] = {
    "A model's answer, no instruction: it knows nothing of traffic, weather on the day, or your health.",
    "Riding close can bring riders down, more so in gusts and crosswinds; leave room when in doubt.",
    "Traffic law and the local code for riding in groups come first; on effort and health, ask a doctor."};

/// Below every answer that a person may act on.
inline constexpr const char* planning_cautions =
    "Caution: a model's answer, no instruction. It knows nothing of traffic, the surface today, or your health. A wheel "
    "close\n"
    "ahead hides the road and can bring riders down, more so in gusts. Traffic law and the local code for riding in groups "
    "come\n"
    "first; on effort and health ask a doctor.\n";

}  // namespace leewheel
