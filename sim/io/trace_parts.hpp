#pragma once
/// The parts of a trace beside the time series, as docs/trace.md lays them out: written and read side by side.

#include <string>
#include <string_view>
#include <vector>

#include "io/hdf5_reader.hpp"
#include "io/hdf5_writer.hpp"
#include "io/trace_file.hpp"

namespace leewheel {

/// "a,b,c".
template <class Names>
std::string joined(const Names& names, std::string_view between) {
  std::string text;
  for (const auto& name : names) {
    if (!text.empty()) text += between;
    text += name;
  }
  return text;
}

// trace_parts_write.cpp
void write_road(const Hdf5Writer& to, hid_t file, const RoadProfile& road);
/// Gives the names, along which the tables of the riders lie.
Handle write_riders(const Hdf5Writer& to, hid_t group, const std::vector<RiderSettings>& riders);
/// What the riders meant to do. Not there when nothing was planned.
void write_plan(const Hdf5Writer& to, hid_t file, const Scenario& scenario);
void write_wake(const Hdf5Writer& to, hid_t file, const WakeLaw& law);
void write_debts(const Hdf5Writer& to, hid_t file, const std::vector<TowDebt>& debts);
void write_events(const Hdf5Writer& to, hid_t file, const std::vector<Event>& events,
                  const std::vector<RiderSettings>& riders);

// trace_parts_read.cpp
RoadProfile read_road_of(const Hdf5Reader& from);
std::vector<RiderSettings> read_riders(const Hdf5Reader& from);
void read_plan(const Hdf5Reader& from, TraceHead& head);
WakeLaw read_wake(const Hdf5Reader& from);
std::vector<TowDebt> read_debts(const Hdf5Reader& from, std::size_t riders);
std::vector<Event> read_events(const Hdf5Reader& from, std::size_t riders);

}  // namespace leewheel
