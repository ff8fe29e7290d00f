/// A trace written chunk by chunk while riding.

#include <filesystem>
#include <limits>

#include "io/fault.hpp"
#include "io/trace_parts.hpp"
#include "leewheel/air.hpp"
#include "words/day_clock.hpp"

namespace leewheel {

namespace {

/// Samples a chunk: about 64 kB a column, so that neither a few riders nor hundreds make chunks of an awkward size.
std::size_t chunk_rows(std::size_t riders) {
  return std::clamp<std::size_t>(16384 / std::max<std::size_t>(riders, 1), 64, 256);
}

/// Numbers of things, whole in the file; HDF5 converts from and to the floats that samples are made of.
bool is_whole(const SampleColumn& column) {
  return column.values == &RideSample::group_id || column.values == &RideSample::role ||
         column.values == &RideSample::wheel_of;
}

}  // namespace

struct TraceWriter::State {
  std::string path, part_path;
  Hdf5Writer to;
  std::vector<RiderSettings> riders;
  std::size_t rows_a_chunk;
  bool waits_to_appear = false;
  hsize_t rows_written = 0;
  std::vector<double> time_s;               // rows waiting for a whole chunk
  std::vector<std::vector<float>> waiting;  // by column
  Handle file, complete, time;
  std::vector<Handle> columns;  // closed before `file`: members go in reverse order

  State(const std::string& to_path, const Scenario& scenario)
      : path(to_path),
        part_path(to_path + ".part"),
        to(to_path),
        riders(scenario.riders),
        rows_a_chunk(chunk_rows(scenario.riders.size())),
        waiting(sample_columns().size()) {}

  void create_file() {
    // The format of HDF5 1.8: its headers carry checksums, and unlike a later one's a killed ride's file opens anywhere.
    const Handle access(H5Pcreate(H5P_FILE_ACCESS), H5Pclose);
    H5Pset_libver_bounds(access, H5F_LIBVER_V18, H5F_LIBVER_V18);
    const Handle root(H5Pcreate(H5P_FILE_CREATE), H5Pclose);
    H5Pset_obj_track_times(root, false);
    file = Handle(H5Fcreate(part_path.c_str(), H5F_ACC_TRUNC, root, access), H5Fclose);
    if (file.ok()) return;
    std::error_code ignored;
    if (std::filesystem::remove(part_path, ignored)) to.fail("");  // it began, so there is no room
    throw InputFault(Fault{path, 0, 0, "", "cannot be written, expected a place with room and permission"});
  }
  /// A trace that could not be written goes: it would be torn. One of a ride that was stopped stays.
  template <class Write>
  void guarded(Write write) {
    silence_library();
    try {
      write();
    } catch (const WriteFault&) {
      columns.clear();
      time.reset();
      file.reset();
      std::error_code ignored;
      std::filesystem::remove(part_path, ignored);
      throw;
    }
  }
  void finish(const std::vector<Event>& events, const std::vector<TowDebt>& debts);
  void write_head(const Scenario& scenario, const std::string& scenario_text);
  void create_tables(hid_t group, hid_t names);
  template <class T>
  Handle create_table(hid_t place, const char* name, bool by_rider) const;
  template <class T>
  void extend(hid_t set, const char* name, const std::vector<T>& rows, bool by_rider) const;
  void write_waiting();
};

void TraceWriter::State::write_head(const Scenario& scenario, const std::string& scenario_text) {
  const AirState air = air_at_altitude(scenario.air, scenario.air_station_altitude_m, scenario.road.elevation_m(0.0));
  to.attribute(file, "layout_version", std::int32_t{trace_layout_version});
  to.attribute(file, "program_version", std::string(LEEWHEEL_VERSION));
  to.attribute(file, "title", scenario.title);
  to.texts(file, "scenario_text", {scenario_text}, "the scenario file as it stood");
  to.attribute(file, "seed", scenario.ride.seed);
  to.attribute(file, "sample_interval_s", scenario.ride.record_interval_s);
  to.attribute(file, "keep_right", std::uint8_t{scenario.ride.keep_right});
  to.attribute(file, "air_density_kgpm3", air_density_kgpm3(air));
  if (scenario.wind.change_length_m != WindSettings{}.change_length_m)
    to.attribute(file, "change_length_m", scenario.wind.change_length_m);
  if (scenario.start) to.attribute(file, "start", DayClock(scenario.start).iso(0.0));
  to.attribute(file, "complete", std::uint8_t{0});
  write_road(to, file, scenario.road.profile());
  write_wake(to, file, scenario.wake);
  write_plan(to, file, scenario);
  const Handle group = to.group(file, "riders");
  const Handle names = write_riders(to, group, riders);
  create_tables(group, names);
}

template <class T>
Handle TraceWriter::State::create_table(hid_t place, const char* name, bool by_rider) const {
  const int rank = by_rider ? 2 : 1;
  const hsize_t size[] = {0, riders.size()}, largest[] = {H5S_UNLIMITED, riders.size()};
  const Handle space(H5Screate_simple(rank, size, largest), H5Sclose);
  const Handle list = by_rider ? to.creation({rows_a_chunk, riders.size()}) : to.creation({rows_a_chunk});
  // So that a chunk that never reached the disk is seen.
  const T missing = std::is_integral_v<T> ? std::numeric_limits<T>::lowest() : std::numeric_limits<T>::quiet_NaN();
  H5Pset_fill_value(list, memory_type<T>(), &missing);
  return to.checked(H5Dcreate2(place, name, file_type<T>(), space, H5P_DEFAULT, list, H5P_DEFAULT), H5Dclose, name);
}

void TraceWriter::State::create_tables(hid_t group, hid_t names) {
  time = create_table<double>(file, "time_s", false);
  to.describe(time, "s", "since the start of the ride, of every sample");
  to.make_scale(time, "time_s");
  for (const SampleColumn& column : sample_columns()) {
    columns.push_back(is_whole(column) ? create_table<std::int32_t>(group, column.name, true)
                                       : create_table<float>(group, column.name, true));
    to.lay_along(columns.back(), 0, time, "time_s");
    to.lay_along(columns.back(), 1, names, "rider");
    to.describe(columns.back(), column.unit, column.meaning);
    if (column.values == &RideSample::role) to.attribute(columns.back(), "names", joined(role_names, ","));
  }
}

template <class T>
void TraceWriter::State::extend(hid_t set, const char* name, const std::vector<T>& rows, bool by_rider) const {
  const int rank = by_rider ? 2 : 1;
  const hsize_t count[] = {time_s.size(), riders.size()}, start[] = {rows_written, 0};
  const hsize_t size[] = {rows_written + time_s.size(), riders.size()};
  to.check(H5Dset_extent(set, size), name);
  const Handle space = to.checked(H5Dget_space(set), H5Sclose, name);
  const Handle memory(H5Screate_simple(rank, count, nullptr), H5Sclose);
  to.check(H5Sselect_hyperslab(space, H5S_SELECT_SET, start, nullptr, count, nullptr), name);
  to.check(H5Dwrite(set, memory_type<T>(), memory, space, H5P_DEFAULT, rows.data()), name);
}

/// One whole chunk of every column, then to the disk: a killed ride leaves everything up to here.
void TraceWriter::State::write_waiting() {
  if (time_s.empty()) return;
  for (std::size_t c = 0; c < columns.size(); ++c) {
    extend(columns[c], sample_columns()[c].name, waiting[c], true);
    waiting[c].clear();
  }
  extend(time, "time_s", time_s, false);
  to.check(H5Fflush(file, H5F_SCOPE_GLOBAL), "trace");
  rows_written += time_s.size();
  time_s.clear();
}

TraceWriter::TraceWriter(const std::string& path, const Scenario& scenario, const std::string& scenario_text)
    : state_(std::make_unique<State>(path, scenario)) {
  silence_library();
  state_->create_file();
  state_->guarded([&] {
    state_->write_head(scenario, scenario_text);
    state_->to.check(H5Fflush(state_->file, H5F_SCOPE_GLOBAL), "trace");
  });
}

TraceWriter::~TraceWriter() {
  silence_library();
  std::error_code ignored;
  if (state_->waits_to_appear) std::filesystem::remove(state_->part_path, ignored);
}

void TraceWriter::append(const RideSample& sample) {
  State& s = *state_;
  for (std::size_t c = 0; c < s.waiting.size(); ++c) {
    const std::vector<float>& values = sample.*sample_columns()[c].values;
    s.waiting[c].insert(s.waiting[c].end(), values.begin(), values.end());
    s.waiting[c].resize((s.time_s.size() + 1) * s.riders.size());
  }
  s.time_s.push_back(sample.time_s);
  if (s.time_s.size() == s.rows_a_chunk) s.guarded([&] { s.write_waiting(); });
}

void TraceWriter::State::finish(const std::vector<Event>& events, const std::vector<TowDebt>& debts) {
  write_waiting();
  write_events(to, file, events, riders);
  write_debts(to, file, debts);
  {
    const Handle mark(H5Aopen(file, "complete", H5P_DEFAULT), H5Aclose);
    const std::uint8_t yes = 1;
    to.check(H5Awrite(mark, H5T_NATIVE_UINT8, &yes), "complete");
  }
  columns.clear();
  time.reset();
  if (!file.reset()) to.fail("trace");
}

void TraceWriter::complete(const std::vector<Event>& events, const std::vector<TowDebt>& debts) {
  state_->guarded([&] { state_->finish(events, debts); });
  state_->waits_to_appear = true;
}

void TraceWriter::finish(const std::vector<Event>& events, const std::vector<TowDebt>& debts) {
  complete(events, debts);
  appear();
}

void TraceWriter::appear() {
  State& s = *state_;
  s.waits_to_appear = false;
  std::error_code error;
  std::filesystem::rename(s.part_path, s.path, error);
  if (error) throw InputFault(Fault{s.path, 0, 0, "", "cannot be written: " + error.message()});
}

}  // namespace leewheel
