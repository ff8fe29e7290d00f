#pragma once
/// What the parts of road notes share.

#include <fmt/format.h>

#include <string>
#include <vector>

#include "words/notes_words.hpp"

namespace leewheel {

struct Teller {
  const Scenario& scenario;
  const RoadNotes& notes;
  const ShownUnits& units;
  std::string km(double m) const { return fmt::format("{:.1f} {}", units.way(m), units.way_name()); }
  std::string at_km(double m) const { return fmt::format("{} {:.1f}", units.way_name(), units.way(m)); }
  std::string speed(double mps) const { return fmt::format("{:.0f} {}", units.speed(mps), units.speed_name()); }
};

// notes_care.cpp: each adds what is to be said of stretch k.
void add_walks(const Teller& t, std::size_t k, std::vector<Note>& to);
void add_room(const Teller& t, std::size_t k, std::vector<Note>& to);   ///< on descents, instead of a wheel
void add_wheel(const Teller& t, std::size_t k, std::vector<Note>& to);  ///< where it pays, and where it stops paying
void add_water(const Teller& t, std::size_t k, std::vector<Note>& to);

}  // namespace leewheel
