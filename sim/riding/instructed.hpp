#pragma once
/// Imposed choices: over a stretch a rider does as instructed, so that choices can be compared. What the instruction leaves
/// open the rider judges as ever.

#include "riding/rules.hpp"

namespace leewheel::riding {

/// Which instruction is in force where the rider is; a new one begins afresh. Done before anyone decides.
void take_instruction(const Snapshot& now, RiderIndex i, Memory& memory);

/// Keeps off the wheels where instructed so; false when there is no such instruction or it has been carried out.
bool ride_off_wheels(const View& view, Proposal& proposal);

/// Instructed to sit in, and someone who takes turns is behind in the line: the rider goes to its end.
bool go_to_the_back(const View& view, Proposal& proposal);

}  // namespace leewheel::riding
