#include "io/trace_file.hpp"

#include <hdf5.h>

#include <algorithm>
#include <cassert>
#include <filesystem>
#include <limits>
#include <list>
#include <string_view>
#include <utility>

#include "io/fault.hpp"
#include "leewheel/air.hpp"
#include "words/phrases.hpp"

namespace leewheel {

namespace {

// ---- small tools over the C interface of HDF5 ----

/// Our faults say what went wrong; the library's own stack on stderr would only repeat it in other words.
void silence_library() { H5Eset_auto2(H5E_DEFAULT, nullptr, nullptr); }

/// An HDF5 identifier that closes itself.
class Handle {
 public:
  using Close = herr_t (*)(hid_t);
  Handle() = default;
  Handle(hid_t id, Close close) : id_(id), close_(close) {}
  Handle(Handle&& other) noexcept : id_(std::exchange(other.id_, -1)), close_(other.close_) {}
  Handle& operator=(Handle&& other) noexcept {
    if (this != &other) {
      reset();
      id_ = std::exchange(other.id_, -1);
      close_ = other.close_;
    }
    return *this;
  }
  ~Handle() { reset(); }
  bool reset() {
    const hid_t id = std::exchange(id_, -1);
    return id < 0 || close_(id) >= 0;
  }
  bool ok() const { return id_ >= 0; }
  operator hid_t() const { return id_; }

 private:
  hid_t id_ = -1;
  Close close_ = nullptr;
};

template <class T>
hid_t memory_type();
template <>
hid_t memory_type<float>() {
  return H5T_NATIVE_FLOAT;
}
template <>
hid_t memory_type<double>() {
  return H5T_NATIVE_DOUBLE;
}
template <>
hid_t memory_type<std::int32_t>() {
  return H5T_NATIVE_INT32;
}
template <>
hid_t memory_type<std::uint64_t>() {
  return H5T_NATIVE_UINT64;
}
template <>
hid_t memory_type<std::uint8_t>() {
  return H5T_NATIVE_UINT8;
}

/// Little-endian on every machine, so that a trace means the same bytes anywhere.
template <class T>
hid_t file_type();
template <>
hid_t file_type<float>() {
  return H5T_IEEE_F32LE;
}
template <>
hid_t file_type<double>() {
  return H5T_IEEE_F64LE;
}
template <>
hid_t file_type<std::int32_t>() {
  return H5T_STD_I32LE;
}
template <>
hid_t file_type<std::uint64_t>() {
  return H5T_STD_U64LE;
}
template <>
hid_t file_type<std::uint8_t>() {
  return H5T_STD_U8LE;
}

/// Texts of fixed length, padded: those of variable length live in a heap of the file that has no checksum, and the
/// library trusts it blindly.
Handle text_type(std::size_t bytes) {
  Handle type(H5Tcopy(H5T_C_S1), H5Tclose);
  H5Tset_size(type, std::max<std::size_t>(bytes, 1));
  H5Tset_strpad(type, H5T_STR_NULLPAD);
  H5Tset_cset(type, H5T_CSET_UTF8);
  return type;
}

/// The unit a quantity carries at the end of its name, as people write it.
const char* unit_of(std::string_view name) {
  constexpr std::pair<std::string_view, const char*> endings[] = {
      {"_1ps2", "1/s2"}, {"_kgpm3", "kg/m3"}, {"_kgm2", "kg m2"}, {"_mps2", "m/s2"}, {"_mps", "m/s"},
      {"_rad", "rad"},   {"_1ps", "1/s"},     {"_m2", "m2"},      {"_kg", "kg"},     {"_W", "W"},
      {"_J", "J"},       {"_N", "N"},         {"_m", "m"},        {"_s", "s"}};
  for (const auto& [ending, unit] : endings)
    if (name.ends_with(ending)) return unit;
  return "1";
}

template <class Names>
std::string joined(const Names& names, std::string_view between) {
  std::string text;
  for (const auto& name : names) {
    if (!text.empty()) text += between;
    text += name;
  }
  return text;
}

/// Samples a chunk: about 64 kB a column, so that neither a few riders nor hundreds make chunks of an awkward size.
std::size_t chunk_rows(std::size_t riders) {
  return std::clamp<std::size_t>(16384 / std::max<std::size_t>(riders, 1), 64, 256);
}

bool exists(hid_t place, const std::string& path) {
  for (std::size_t end = path.find('/');; end = path.find('/', end + 1)) {
    if (H5Lexists(place, path.substr(0, end).c_str(), H5P_DEFAULT) <= 0) return false;
    if (end == std::string::npos) return true;
  }
}

// ---- writing ----

/// Everything that can go wrong while writing is told the same way: which file, and what was being written.
class Writing {
 public:
  explicit Writing(std::string path) : path_(std::move(path)) {}

  Handle checked(hid_t id, Handle::Close close, const std::string& what) const {
    if (id < 0) fail(what);
    return {id, close};
  }
  void check(herr_t status, const std::string& what) const {
    if (status < 0) fail(what);
  }
  [[noreturn]] void fail(const std::string& what) const {
    throw InputFault(Fault{path_, 0, 0, what, "cannot be written; is the disk full or the folder gone?"});
  }

  Handle group(hid_t parent, const char* name) const {
    const Handle list = checked(H5Pcreate(H5P_GROUP_CREATE), H5Pclose, name);
    H5Pset_obj_track_times(list, false);  // the same ride gives the same bytes, whatever the clock
    return checked(H5Gcreate2(parent, name, H5P_DEFAULT, list, H5P_DEFAULT), H5Gclose, name);
  }

  void attribute(hid_t place, const char* name, const std::string& text) const {
    const Handle type = text_type(text.size());
    const Handle space(H5Screate(H5S_SCALAR), H5Sclose);
    const Handle attr = checked(H5Acreate2(place, name, type, space, H5P_DEFAULT, H5P_DEFAULT), H5Aclose, name);
    check(H5Awrite(attr, type, text.c_str()), name);
  }

  template <class T>
  requires std::is_arithmetic_v<T>
  void attribute(hid_t place, const char* name, T value) const {
    const Handle space(H5Screate(H5S_SCALAR), H5Sclose);
    const Handle attr = checked(H5Acreate2(place, name, file_type<T>(), space, H5P_DEFAULT, H5P_DEFAULT), H5Aclose, name);
    check(H5Awrite(attr, memory_type<T>(), &value), name);
  }

  void describe(hid_t dataset, const char* unit, const std::string& meaning) const {
    attribute(dataset, "unit", std::string(unit));
    attribute(dataset, "meaning", meaning);
  }

  /// No times of creation: the same ride gives the same bytes.
  Handle creation(std::initializer_list<hsize_t> chunk) const {
    Handle list = checked(H5Pcreate(H5P_DATASET_CREATE), H5Pclose, "dataset");
    H5Pset_obj_track_times(list, false);
    if (chunk.size() > 0) {
      H5Pset_chunk(list, static_cast<int>(chunk.size()), std::data(chunk));
      H5Pset_shuffle(list);
      H5Pset_deflate(list, 4);
      H5Pset_fletcher32(list);
    }
    return list;
  }

  template <class T>
  Handle vector(hid_t place, const char* name, const std::vector<T>& values, const char* unit,
                const std::string& meaning) const {
    const hsize_t size = values.size();
    const Handle space(H5Screate_simple(1, &size, nullptr), H5Sclose);
    const Handle list = size >= 64 ? creation({std::min<hsize_t>(size, 16384)}) : creation({});
    Handle set = checked(H5Dcreate2(place, name, file_type<T>(), space, H5P_DEFAULT, list, H5P_DEFAULT), H5Dclose, name);
    if (size > 0) check(H5Dwrite(set, memory_type<T>(), H5S_ALL, H5S_ALL, H5P_DEFAULT, values.data()), name);
    describe(set, unit, meaning);
    return set;
  }

  void texts(hid_t place, const char* name, const std::vector<std::string>& values, const std::string& meaning) const {
    std::size_t longest = 1;
    for (const std::string& value : values) longest = std::max(longest, value.size());
    std::string bytes;
    for (const std::string& value : values) bytes += value + std::string(longest - value.size(), '\0');

    const hsize_t size = values.size();
    const Handle type = text_type(longest);
    const Handle space(H5Screate_simple(1, &size, nullptr), H5Sclose);
    const Handle list = size >= 64 ? creation({std::min<hsize_t>(size, 1024)}) : creation({});
    const Handle set = checked(H5Dcreate2(place, name, type, space, H5P_DEFAULT, list, H5P_DEFAULT), H5Dclose, name);
    if (size > 0) check(H5Dwrite(set, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, bytes.data()), name);
    attribute(set, "meaning", meaning);
  }

 private:
  std::string path_;
};

void write_road(const Writing& to, hid_t file, const RoadProfile& road) {
  const Handle group = to.group(file, "road");
  to.attribute(group, "spacing_m", road.spacing_m);
  to.attribute(group, "has_position", std::uint8_t{road.has_position});
  to.attribute(group, "latitude_rad", road.latitude_rad);
  to.attribute(group, "longitude_rad", road.longitude_rad);

  to.vector(group, "elevation_m", road.elevation_m, "m", "elevation of every grid point, spacing_m apart");
  to.vector(group, "heading_rad", road.heading_rad, "rad", "direction of travel, clockwise from north");
  to.vector(group, "rolling", road.rolling, "1", "rolling coefficient Crr");
  to.vector(group, "width_m", road.width_m, "m", "width of the whole road");
  to.vector(group, "abreast", road.abreast, "1", "riders allowed side by side");
  const auto exposure = [&](const char* name, const std::vector<Exposure>& classes, const char* side) {
    std::vector<std::uint8_t> numbers;
    for (const Exposure value : classes) numbers.push_back(static_cast<std::uint8_t>(value));
    const Handle set = to.vector(group, name, numbers, "1", std::string("exposure of the land on the ") + side);
    to.attribute(set, "names", joined(exposure_names, ","));
  };
  exposure("exposure_left", road.exposure_left, "left");
  exposure("exposure_right", road.exposure_right, "right");

  std::vector<std::string> names;
  std::vector<double> distance_m;
  for (const Landmark& landmark : road.landmarks) {
    names.push_back(landmark.name);
    distance_m.push_back(landmark.distance_m);
  }
  to.texts(group, "landmark_names", names, "names of the landmarks");
  to.vector(group, "landmark_distance_m", distance_m, "m", "distance of the landmarks from the start");
}

void write_riders(const Writing& to, hid_t group, const std::vector<RiderSettings>& riders) {
  std::vector<std::string> names;
  for (const RiderSettings& rider : riders) names.push_back(rider.name);
  to.texts(group, "names", names, "names of the riders, in the order of every table");
  const Handle settings = to.group(group, "settings");
  for (const auto& field : rider_fields()) {
    std::vector<double> values;
    for (const RiderSettings& rider : riders) values.push_back(rider.*field.member);
    to.vector(settings, field.name, values, unit_of(field.name), field.meaning);
  }
}

/// What the riders meant to do. Not there when nothing was planned.
void write_plan(const Writing& to, hid_t file, const Scenario& scenario) {
  std::vector<std::int32_t> rider;
  std::vector<double> from_m, effort;
  for (std::size_t i = 0; i < std::min(scenario.plans.size(), scenario.riders.size()); ++i)
    for (const PlanStep& step : scenario.plans[i]) {
      rider.push_back(static_cast<std::int32_t>(i));
      from_m.push_back(step.from_m);
      effort.push_back(step.effort);
    }
  if (rider.empty() && scenario.ride.regroup_at_m.empty()) return;
  const Handle group = to.group(file, "plan");
  to.vector(group, "regroup_at_m", scenario.ride.regroup_at_m, "m", "where the first wait for the last");
  to.vector(group, "rider", rider, "1", "index of the rider a step of a plan is for");
  to.vector(group, "from_m", from_m, "m", "where the step begins");
  to.vector(group, "effort", effort, "1", "share of critical power from there on");
}

/// The law is named unless it is the first, so that traces written before there was a second one are read as they were meant.
void write_lee(const Writing& to, hid_t file, const WakeLaw& lee) {
  const Handle group = to.group(file, "lee");
  if (lee.index() != 0) to.attribute(group, "law", std::string(wake_law_names[lee.index()]));
  std::visit(
      [&](const auto& law) {
        for (const auto& field : law.fields()) to.attribute(group, field.name, law.*field.member);
      },
      lee);
}

void write_events(const Writing& to, hid_t file, const std::vector<Event>& events,
                  const std::vector<RiderSettings>& riders) {
  std::vector<std::uint8_t> kind;
  std::vector<double> time_s, distance_m;
  std::vector<std::int32_t> group, first, index;
  std::vector<std::string> names, causes, reasons;
  std::vector<std::uint8_t> reason;
  std::vector<std::int32_t> other, from_group;
  std::array<std::vector<double>, 3> values;
  const NameOf name = [&riders](std::uint32_t rider) -> const std::string& { return riders.at(rider).name; };
  for (const ReasonRow& row : reason_rows()) reasons.emplace_back(row.name);
  for (const Event& event : events) {
    kind.push_back(static_cast<std::uint8_t>(event.kind));
    time_s.push_back(event.time_s);
    distance_m.push_back(event.distance_m);
    group.push_back(event.group);
    first.push_back(static_cast<std::int32_t>(index.size()));
    std::vector<std::string> who;
    for (const std::uint32_t rider : event.riders) {
      index.push_back(static_cast<std::int32_t>(rider));
      who.push_back(riders.at(rider).name);
    }
    names.push_back(joined(who, ", "));
    causes.push_back(because_text(event.because, event.group, name));
    reason.push_back(static_cast<std::uint8_t>(event.because.reason));
    other.push_back(event.because.other == no_rider ? -1 : static_cast<std::int32_t>(event.because.other));
    from_group.push_back(event.because.from_group);
    for (std::size_t k = 0; k < values.size(); ++k) values[k].push_back(event.because.values[k]);
  }
  const Handle place = to.group(file, "events");
  const Handle kinds = to.vector(place, "kind", kind, "1", "what happened; the attribute names tells the numbers");
  to.attribute(kinds, "names", joined(event_names, ","));
  to.vector(place, "time_s", time_s, "s", "since the start of the ride");
  to.vector(place, "distance_m", distance_m, "m", "where, along the road");
  to.vector(place, "group", group, "1", "group it is about, -1 for none");
  to.vector(place, "rider_first", first, "1", "where the event's riders begin in rider_index");
  to.vector(place, "rider_index", index, "1", "riders of all events one after another, the subject of an event first");
  to.texts(place, "riders", names, "names of the riders, joined by commas");
  to.texts(place, "cause", causes, "why, in words");
  const Handle numbers = to.vector(place, "reason", reason, "1", "why; the attribute names tells the numbers");
  to.attribute(numbers, "names", joined(reasons, ","));
  to.vector(place, "about", other, "1", "index of the rider the reason is about, -1 for none");
  to.vector(place, "from_group", from_group, "1", "of a split or merger: the group before, -1 for none");
  for (std::size_t k = 0; k < values.size(); ++k)
    to.vector(place, ("value_" + std::to_string(k)).c_str(), values[k], "SI", "a value of the reason (docs/trace.md)");
}

void write_debts(const Writing& to, hid_t file, const std::vector<LeeDebt>& debts) {
  if (debts.empty()) return;
  std::vector<std::int32_t> giver, receiver;
  std::vector<double> saved_J;
  for (const LeeDebt& debt : debts) {
    giver.push_back(static_cast<std::int32_t>(debt.giver));
    receiver.push_back(static_cast<std::int32_t>(debt.receiver));
    saved_J.push_back(debt.saved_J);
  }
  const Handle place = to.group(file, "debts");
  to.vector(place, "giver", giver, "1", "index of the rider who sheltered");
  to.vector(place, "receiver", receiver, "1", "index of the rider who was sheltered");
  to.vector(place, "saved_J", saved_J, "J", "work saved over the whole ride");
}

}  // namespace

struct TraceWriter::State {
  std::string path, part_path;
  Writing to;
  std::vector<RiderSettings> riders;
  std::size_t rows_a_chunk;
  hsize_t rows_written = 0;
  std::vector<double> time_s;               // rows waiting for a whole chunk
  std::vector<std::vector<float>> waiting;  // by column
  Handle file, complete, time;
  std::vector<Handle> columns;  // closed before `file`: members go in reverse order

  State(const std::string& to_path, const Scenario& scenario)
      : path(to_path),
        part_path(to_path + ".part"),
        to(part_path),
        riders(scenario.riders),
        rows_a_chunk(chunk_rows(scenario.riders.size())),
        waiting(sample_columns().size()) {}

  void create_file() {
    // The format of HDF5 1.8: its headers carry checksums, and unlike a later one's a killed ride's file opens anywhere.
    const Handle access(H5Pcreate(H5P_FILE_ACCESS), H5Pclose);
    H5Pset_libver_bounds(access, H5F_LIBVER_V18, H5F_LIBVER_V18);
    const Handle root(H5Pcreate(H5P_FILE_CREATE), H5Pclose);
    H5Pset_obj_track_times(root, false);
    file = to.checked(H5Fcreate(part_path.c_str(), H5F_ACC_TRUNC, root, access), H5Fclose, "trace");
  }
  void write_head(const Scenario& scenario, const std::string& scenario_text);
  void create_tables(hid_t group);
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
  to.attribute(file, "complete", std::uint8_t{0});
  write_road(to, file, scenario.road.profile());
  write_lee(to, file, scenario.lee);
  write_plan(to, file, scenario);
  const Handle group = to.group(file, "riders");
  write_riders(to, group, riders);
  create_tables(group);
}

template <class T>
Handle TraceWriter::State::create_table(hid_t place, const char* name, bool by_rider) const {
  const int rank = by_rider ? 2 : 1;
  const hsize_t size[] = {0, riders.size()}, largest[] = {H5S_UNLIMITED, riders.size()};
  const Handle space(H5Screate_simple(rank, size, largest), H5Sclose);
  const Handle list = by_rider ? to.creation({rows_a_chunk, riders.size()}) : to.creation({rows_a_chunk});
  const T missing = std::numeric_limits<T>::quiet_NaN();  // so that a chunk that never reached the disk is seen
  H5Pset_fill_value(list, memory_type<T>(), &missing);
  return to.checked(H5Dcreate2(place, name, file_type<T>(), space, H5P_DEFAULT, list, H5P_DEFAULT), H5Dclose, name);
}

void TraceWriter::State::create_tables(hid_t group) {
  time = create_table<double>(file, "time_s", false);
  to.describe(time, "s", "since the start of the ride, of every sample");
  for (const SampleColumn& column : sample_columns()) {
    columns.push_back(create_table<float>(group, column.name, true));
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
  state_->write_head(scenario, scenario_text);
  state_->to.check(H5Fflush(state_->file, H5F_SCOPE_GLOBAL), "trace");
}

TraceWriter::~TraceWriter() = default;

void TraceWriter::append(const RideSample& sample) {
  State& s = *state_;
  for (std::size_t c = 0; c < s.waiting.size(); ++c) {
    const std::vector<float>& values = sample.*sample_columns()[c].values;
    s.waiting[c].insert(s.waiting[c].end(), values.begin(), values.end());
    s.waiting[c].resize((s.time_s.size() + 1) * s.riders.size());
  }
  s.time_s.push_back(sample.time_s);
  if (s.time_s.size() == s.rows_a_chunk) s.write_waiting();
}

void TraceWriter::finish(const std::vector<Event>& events, const std::vector<LeeDebt>& debts) {
  State& s = *state_;
  s.write_waiting();
  write_events(s.to, s.file, events, s.riders);
  write_debts(s.to, s.file, debts);
  {
    const Handle complete(H5Aopen(s.file, "complete", H5P_DEFAULT), H5Aclose);
    const std::uint8_t yes = 1;
    s.to.check(H5Awrite(complete, H5T_NATIVE_UINT8, &yes), "complete");
  }
  s.columns.clear();
  s.time.reset();
  if (!s.file.reset()) s.to.fail("trace");
  std::error_code error;
  std::filesystem::rename(s.part_path, s.path, error);
  if (error) throw InputFault(Fault{s.path, 0, 0, "", "cannot be written: " + error.message()});
}

// ---- reading ----

namespace {

/// Reads pieces of a trace; whatever is missing or of another kind becomes one clear fault.
class Reading {
 public:
  Reading(std::string path, hid_t file) : path_(std::move(path)), file_(file) {}

  [[noreturn]] void fail(const std::string& field, const std::string& what) const {
    throw InputFault(Fault{path_, 0, 0, field, what});
  }

  bool has(const std::string& place, const char* name) const {
    return (place == "." || exists(file_, place)) && H5Aexists_by_name(file_, place.c_str(), name, H5P_DEFAULT) > 0;
  }

  template <class T>
  T number(const std::string& place, const char* name) const {
    T value{};
    const Handle attr = attribute(place, name);
    if (!is_scalar(attr) || H5Aread(attr, memory_type<T>(), &value) < 0) fail(label(place, name), "found no number there");
    return value;
  }

  std::string text(const std::string& place, const char* name) const {
    const Handle attr = attribute(place, name);
    const Handle type(H5Aget_type(attr), H5Tclose);
    std::string value(text_bytes(type), '\0');
    if (!is_scalar(attr) || value.empty() || H5Aread(attr, type, value.data()) < 0)
      fail(label(place, name), "found no text there");
    return value.c_str();
  }

  bool has(const std::string& name) const { return exists(file_, name); }

  Handle dataset(const std::string& name) const {
    Handle set;
    if (exists(file_, name)) set = Handle(H5Dopen2(file_, name.c_str(), H5P_DEFAULT), H5Dclose);
    if (!set.ok()) fail(name, "expected this table, found none");
    return set;
  }

  std::vector<hsize_t> shape(hid_t set, const std::string& name) const {
    const Handle space(H5Dget_space(set), H5Sclose);
    const int rank = H5Sget_simple_extent_ndims(space);
    if (rank < 1 || rank > 2) fail(name, "expected a table of one or two dimensions");
    std::vector<hsize_t> size(rank);
    H5Sget_simple_extent_dims(space, size.data(), nullptr);
    return size;
  }

  template <class T>
  std::vector<T> vector(const std::string& name) const {
    const Handle set = dataset(name);
    const std::vector<hsize_t> size = shape(set, name);
    if (size.size() != 1) fail(name, "expected a single row of numbers");
    refuse_impossible_size(set, name, size[0], sizeof(T));
    std::vector<T> values(size[0]);
    if (!values.empty() && H5Dread(set, memory_type<T>(), H5S_ALL, H5S_ALL, H5P_DEFAULT, values.data()) < 0)
      fail(name, "is damaged: its numbers cannot be read");
    return values;
  }

  std::vector<std::string> texts(const std::string& name) const {
    const Handle set = dataset(name);
    const std::vector<hsize_t> size = shape(set, name);
    const Handle type(H5Dget_type(set), H5Tclose);
    const std::size_t bytes_each = text_bytes(type);
    if (size.size() != 1 || bytes_each == 0) fail(name, "expected a list of texts");
    refuse_impossible_size(set, name, size[0], bytes_each);
    std::vector<char> bytes(size[0] * bytes_each);
    if (!bytes.empty() && H5Dread(set, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, bytes.data()) < 0)
      fail(name, "is damaged: its texts cannot be read");
    std::vector<std::string> values;
    for (auto at = bytes.begin(); at != bytes.end(); at += static_cast<std::ptrdiff_t>(bytes_each))
      values.emplace_back(at, std::find(at, at + static_cast<std::ptrdiff_t>(bytes_each), '\0'));
    return values;
  }

  /// A damaged file may claim any size; deflate packs at best about 1 to 1030.
  void refuse_impossible_size(hid_t set, const std::string& name, hsize_t values, std::size_t bytes_each) const {
    if (values / 1100 > H5Dget_storage_size(set) / bytes_each + 1)
      fail(name, "is damaged: claims " + std::to_string(values) + " values, far more than the file holds");
  }

 private:
  static std::string label(const std::string& place, const char* name) {
    return place == "." ? std::string(name) : place + "/" + name;
  }
  /// Bytes of a text of fixed length; 0 when it is no such text.
  static std::size_t text_bytes(hid_t type) {
    return H5Tget_class(type) == H5T_STRING && H5Tis_variable_str(type) == 0 ? H5Tget_size(type) : 0;
  }
  static bool is_scalar(hid_t attr) {
    const Handle space(H5Aget_space(attr), H5Sclose);
    return H5Sget_simple_extent_npoints(space) == 1;
  }
  Handle attribute(const std::string& place, const char* name) const {
    Handle attr;
    if (has(place, name)) attr = Handle(H5Aopen_by_name(file_, place.c_str(), name, H5P_DEFAULT, H5P_DEFAULT), H5Aclose);
    if (!attr.ok()) fail(label(place, name), "expected this attribute, found none");
    return attr;
  }

  std::string path_;
  hid_t file_;
};

RoadProfile read_road_of(const Reading& from) {
  RoadProfile road;
  road.spacing_m = from.number<double>("road", "spacing_m");
  road.has_position = from.number<std::uint8_t>("road", "has_position") != 0;
  road.latitude_rad = from.number<double>("road", "latitude_rad");
  road.longitude_rad = from.number<double>("road", "longitude_rad");
  road.elevation_m = from.vector<double>("road/elevation_m");
  road.heading_rad = from.vector<double>("road/heading_rad");
  road.rolling = from.vector<double>("road/rolling");
  road.width_m = from.vector<double>("road/width_m");
  road.abreast = from.vector<std::uint8_t>("road/abreast");
  const auto exposure = [&](const std::string& name) {
    std::vector<Exposure> classes;
    for (const std::uint8_t number : from.vector<std::uint8_t>(name)) {
      if (number >= exposure_names.size()) from.fail(name, "found class " + std::to_string(number) + ", unknown here");
      classes.push_back(static_cast<Exposure>(number));
    }
    return classes;
  };
  road.exposure_left = exposure("road/exposure_left");
  road.exposure_right = exposure("road/exposure_right");

  const std::size_t points = road.elevation_m.size();
  const bool equal = road.heading_rad.size() == points && road.rolling.size() == points && road.width_m.size() == points &&
                     road.abreast.size() == points && road.exposure_left.size() == points &&
                     road.exposure_right.size() == points;
  if (points < 2 || !equal || !(road.spacing_m > 0.0)) from.fail("road", "expected tables of one length, at least 2");

  const std::vector<std::string> names = from.texts("road/landmark_names");
  const std::vector<double> distance_m = from.vector<double>("road/landmark_distance_m");
  if (names.size() != distance_m.size()) from.fail("road/landmark_names", "expected one distance a name");
  for (std::size_t i = 0; i < names.size(); ++i) road.landmarks.push_back({names[i], distance_m[i]});
  return road;
}

std::vector<RiderSettings> read_riders(const Reading& from) {
  std::vector<RiderSettings> riders;
  for (std::string& name : from.texts("riders/names")) riders.emplace_back().name = std::move(name);
  if (riders.empty()) from.fail("riders/names", "expected at least one rider");
  for (const auto& field : rider_fields()) {
    const std::string name = std::string("riders/settings/") + field.name;
    const std::vector<double> values = from.vector<double>(name);
    if (values.size() != riders.size()) from.fail(name, "expected one number a rider");
    for (std::size_t i = 0; i < riders.size(); ++i) riders[i].*field.member = values[i];
  }
  return riders;
}

void read_plan(const Reading& from, TraceHead& head) {
  head.plans.resize(head.riders.size());
  if (!from.has("plan")) return;  // nothing was planned, or an older program wrote the trace
  head.regroup_at_m = from.vector<double>("plan/regroup_at_m");
  const auto rider = from.vector<std::int32_t>("plan/rider");
  const auto from_m = from.vector<double>("plan/from_m"), effort = from.vector<double>("plan/effort");
  if (from_m.size() != rider.size() || effort.size() != rider.size()) from.fail("plan", "expected tables of one length");
  for (std::size_t k = 0; k < rider.size(); ++k) {
    if (rider[k] < 0 || static_cast<std::size_t>(rider[k]) >= head.riders.size())
      from.fail("plan/rider", "step " + std::to_string(k) + " is for a rider who is not in the ride");
    head.plans[static_cast<std::size_t>(rider[k])].push_back({from_m[k], effort[k]});
  }
}

WakeLaw read_lee(const Reading& from) {
  WakeLaw law;
  if (from.has("lee", "law")) {
    const std::string name = from.text("lee", "law");
    const auto found = std::find(wake_law_names.begin(), wake_law_names.end(), name);
    if (found == wake_law_names.end()) from.fail("lee/law", "found '" + name + "', which is no wake law of this program");
    law = wake_law(static_cast<std::size_t>(found - wake_law_names.begin()));
  }
  std::visit(
      [&](auto& own) {
        for (const auto& field : own.fields()) own.*field.member = from.number<double>("lee", field.name);
      },
      law);
  return law;
}

std::vector<LeeDebt> read_debts(const Reading& from, std::size_t riders) {
  if (!from.has("debts")) return {};  // nobody gave anything, or an older program wrote the trace
  const auto giver = from.vector<std::int32_t>("debts/giver"), receiver = from.vector<std::int32_t>("debts/receiver");
  const auto saved_J = from.vector<double>("debts/saved_J");
  if (receiver.size() != giver.size() || saved_J.size() != giver.size()) from.fail("debts", "expected tables of one length");
  std::vector<LeeDebt> debts;
  const auto known = [&](std::int32_t rider) { return rider >= 0 && static_cast<std::size_t>(rider) < riders; };
  for (std::size_t k = 0; k < giver.size(); ++k) {
    if (!known(giver[k]) || !known(receiver[k]))
      from.fail("debts", "debt " + std::to_string(k) + " names a rider who is not in the ride");
    debts.push_back({static_cast<std::uint32_t>(giver[k]), static_cast<std::uint32_t>(receiver[k]), saved_J[k]});
  }
  return debts;
}

std::vector<Event> read_events(const Reading& from, std::size_t riders) {
  const auto kind = from.vector<std::uint8_t>("events/kind");
  const auto time_s = from.vector<double>("events/time_s"), distance_m = from.vector<double>("events/distance_m");
  const auto group = from.vector<std::int32_t>("events/group"), first = from.vector<std::int32_t>("events/rider_first");
  const auto index = from.vector<std::int32_t>("events/rider_index");
  const auto reason = from.vector<std::uint8_t>("events/reason");
  const auto about = from.vector<std::int32_t>("events/about"), from_group = from.vector<std::int32_t>("events/from_group");
  const std::array<std::vector<double>, 3> values{
      from.vector<double>("events/value_0"), from.vector<double>("events/value_1"), from.vector<double>("events/value_2")};
  const std::size_t count = kind.size();
  if (time_s.size() != count || distance_m.size() != count || group.size() != count || first.size() != count ||
      reason.size() != count || about.size() != count || from_group.size() != count ||
      std::any_of(values.begin(), values.end(), [count](const auto& value) { return value.size() != count; }))
    from.fail("events", "expected tables of one length");

  std::vector<Event> events;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t end = i + 1 < count ? static_cast<std::size_t>(first[i + 1]) : index.size();
    if (kind[i] >= std::size(event_names) || first[i] < 0 || static_cast<std::size_t>(first[i]) > end ||
        end > index.size() || reason[i] >= reason_count || about[i] < -1 || about[i] >= static_cast<std::int32_t>(riders))
      from.fail("events", "event " + std::to_string(i) + " makes no sense");
    const Because because{static_cast<Reason>(reason[i]),
                          about[i] < 0 ? no_rider : static_cast<std::uint32_t>(about[i]),
                          {values[0][i], values[1][i], values[2][i]},
                          from_group[i]};
    Event& event =
        events.emplace_back(Event{static_cast<EventKind>(kind[i]), time_s[i], distance_m[i], {}, group[i], because});
    for (std::size_t k = first[i]; k < end; ++k) {
      if (index[k] < 0 || static_cast<std::size_t>(index[k]) >= riders)
        from.fail("events", "event " + std::to_string(i) + " names a rider who is not in the ride");
      event.riders.push_back(static_cast<std::uint32_t>(index[k]));
    }
  }
  return events;
}

Handle open_trace(const std::string& path) {
  std::error_code error;
  const auto fault = [&](const std::string& what) { return InputFault(Fault{path, 0, 0, "", what}); };
  if (!std::filesystem::exists(path, error)) {
    if (std::filesystem::exists(path + ".part", error))
      throw fault("no such file; an unfinished ride stands in " + path + ".part");
    throw fault("no such file; expected the trace of a ride");
  }
  if (!std::filesystem::is_regular_file(path, error)) throw fault("is not a file; expected the trace of a ride (trace.h5)");
  if (std::filesystem::file_size(path, error) == 0) throw fault("is empty; expected the trace of a ride");
  const htri_t is_hdf5 = H5Fis_hdf5(path.c_str());
  if (is_hdf5 < 0) throw fault("cannot be read; may it be opened?");
  if (is_hdf5 == 0) throw fault("is not an HDF5 file; expected the trace of a ride");
  Handle file(H5Fopen(path.c_str(), H5F_ACC_RDONLY, H5P_DEFAULT), H5Fclose);
  if (!file.ok()) throw fault("is torn: the file ends early, as after a broken copy; copy it again or ride again");
  return file;
}

}  // namespace

struct TraceReader::State {
  struct Chunk {
    std::size_t number;
    std::vector<std::vector<float>> columns;  // rows x riders
  };
  static constexpr std::size_t chunks_kept = 4;

  std::string path;
  Handle file;
  TraceHead head;
  std::vector<Handle> columns;
  std::size_t rows_a_chunk = 1;
  std::list<Chunk> chunks;  // the latest used first

  explicit State(const std::string& from_path) : path(from_path), file(open_trace(from_path)) {}
  Reading from() const { return {path, file}; }

  void check_layout() const;
  void read_head();
  void open_columns();
  void drop_torn_samples();
  bool read_rows(hid_t set, std::size_t first, std::size_t rows, std::vector<float>& into) const;
  const Chunk& chunk(std::size_t number);
};

void TraceReader::State::check_layout() const {
  if (H5Aexists(file, "layout_version") <= 0 || H5Aexists(file, "complete") <= 0)
    from().fail("", "is an HDF5 file of another kind; expected the trace of a ride");
  const auto version = from().number<std::int32_t>(".", "layout_version");
  if (version != trace_layout_version)
    from().fail("layout_version", "found " + std::to_string(version) + ", expected " + std::to_string(trace_layout_version) +
                                      "; ride the scenario again with this program");
}

void TraceReader::State::read_head() {
  const Reading r = from();
  head.title = r.text(".", "title");
  const std::vector<std::string> scenario_text = r.texts("scenario_text");
  if (!scenario_text.empty()) head.scenario_text = scenario_text.front();
  head.program_version = r.text(".", "program_version");
  head.seed = r.number<std::uint64_t>(".", "seed");
  head.sample_interval_s = r.number<double>(".", "sample_interval_s");
  head.keep_right = r.number<std::uint8_t>(".", "keep_right") != 0;
  head.air_density_kgpm3 = r.number<double>(".", "air_density_kgpm3");
  head.complete = r.number<std::uint8_t>(".", "complete") != 0;
  head.road = read_road_of(r);
  head.riders = read_riders(r);
  read_plan(r, head);
  head.lee = read_lee(r);
  if (r.has(".", "change_length_m")) head.change_length_m = r.number<double>(".", "change_length_m");
  head.time_s = r.vector<double>("time_s");
  if (!head.complete) return;
  head.events = read_events(r, head.riders.size());
  head.debts = read_debts(r, head.riders.size());
}

void TraceReader::State::open_columns() {
  const Reading r = from();
  for (const SampleColumn& column : sample_columns()) {
    const std::string name = std::string("riders/") + column.name;
    columns.push_back(r.dataset(name));
    const std::vector<hsize_t> size = r.shape(columns.back(), name);
    if (size.size() != 2 || size[1] != head.riders.size()) r.fail(name, "expected a table with a column a rider");
    if (size[0] < head.time_s.size() && head.complete) r.fail(name, "expected a row for every time");
    head.time_s.resize(std::min<std::size_t>(head.time_s.size(), size[0]));
  }
  const Handle list(H5Dget_create_plist(columns.front()), H5Pclose);
  hsize_t size[2] = {1, 1};
  if (H5Pget_layout(list) == H5D_CHUNKED) H5Pget_chunk(list, 2, size);
  rows_a_chunk = std::clamp<std::size_t>(size[0], 1, 65536);
}

/// A ride cut off while a chunk was on its way to the disk: the last chunks count only if every column can be read.
void TraceReader::State::drop_torn_samples() {
  const auto readable = [&](std::size_t first) {
    std::vector<float> rows;
    for (const Handle& column : columns)
      if (!read_rows(column, first, head.time_s.size() - first, rows)) return false;
    return std::none_of(head.time_s.begin() + first, head.time_s.end(), [](double t) { return !(t >= 0.0); });
  };
  while (!head.time_s.empty()) {
    const std::size_t first = (head.time_s.size() - 1) / rows_a_chunk * rows_a_chunk;
    if (readable(first)) return;
    head.time_s.resize(first);
  }
}

bool TraceReader::State::read_rows(hid_t set, std::size_t first, std::size_t rows, std::vector<float>& into) const {
  const hsize_t start[] = {first, 0}, count[] = {rows, head.riders.size()};
  into.resize(rows * head.riders.size());
  const Handle space(H5Dget_space(set), H5Sclose);
  const Handle memory(H5Screate_simple(2, count, nullptr), H5Sclose);
  return H5Sselect_hyperslab(space, H5S_SELECT_SET, start, nullptr, count, nullptr) >= 0 &&
         H5Dread(set, H5T_NATIVE_FLOAT, memory, space, H5P_DEFAULT, into.data()) >= 0;
}

const TraceReader::State::Chunk& TraceReader::State::chunk(std::size_t number) {
  const auto found = std::find_if(chunks.begin(), chunks.end(), [&](const Chunk& c) { return c.number == number; });
  if (found != chunks.end()) {
    chunks.splice(chunks.begin(), chunks, found);
    return chunks.front();
  }
  Chunk fresh{number, std::vector<std::vector<float>>(columns.size())};
  const std::size_t first = number * rows_a_chunk;
  const std::size_t rows = std::min(rows_a_chunk, head.time_s.size() - first);
  for (std::size_t c = 0; c < columns.size(); ++c)
    if (!read_rows(columns[c], first, rows, fresh.columns[c]))
      from().fail(std::string("riders/") + sample_columns()[c].name,
                  "is damaged around " + std::to_string(static_cast<long>(head.time_s[first])) + " s");
  chunks.push_front(std::move(fresh));
  if (chunks.size() > chunks_kept) chunks.pop_back();
  return chunks.front();
}

TraceReader::TraceReader(const std::string& path) {
  silence_library();
  state_ = std::make_unique<State>(path);
  state_->check_layout();
  state_->read_head();
  state_->open_columns();
  if (!state_->head.complete) state_->drop_torn_samples();
  if (state_->head.time_s.empty()) state_->from().fail("time_s", "is torn beyond use: not one sample reached the file");
}

TraceReader::~TraceReader() = default;

const TraceHead& TraceReader::head() const { return state_->head; }

void TraceReader::sample(std::size_t index, RideSample& into) {
  State& s = *state_;
  index = std::min(index, s.head.time_s.size() - 1);
  const State::Chunk& chunk = s.chunk(index / s.rows_a_chunk);
  const std::size_t riders = s.head.riders.size();
  into.time_s = s.head.time_s[index];
  for (std::size_t c = 0; c < s.columns.size(); ++c) {
    const auto begin = chunk.columns[c].begin() + static_cast<std::ptrdiff_t>(index % s.rows_a_chunk * riders);
    (into.*sample_columns()[c].values).assign(begin, begin + static_cast<std::ptrdiff_t>(riders));
  }
}

std::size_t TraceReader::rows_a_chunk() const { return state_->rows_a_chunk; }

void TraceReader::rows(std::vector<float> RideSample::*column, std::size_t first, std::size_t count,
                       std::vector<float>& into) {
  State& s = *state_;
  const auto all = sample_columns();
  const auto found = std::find_if(all.begin(), all.end(), [&](const SampleColumn& c) { return column == c.values; });
  assert(found != all.end() && first + count <= s.head.time_s.size());
  if (!s.read_rows(s.columns[static_cast<std::size_t>(found - all.begin())], first, count, into))
    s.from().fail(std::string("riders/") + found->name,
                  "is damaged around " + std::to_string(static_cast<long>(s.head.time_s[first])) + " s");
}

std::vector<float> TraceReader::series(const std::string& column, std::size_t rider) {
  State& s = *state_;
  const auto all = sample_columns();
  const auto found = std::find_if(all.begin(), all.end(), [&](const SampleColumn& c) { return column == c.name; });
  if (found == all.end()) s.from().fail("riders/" + column, "is no column of a trace");
  if (rider >= s.head.riders.size()) s.from().fail("riders/" + column, "has no rider " + std::to_string(rider));

  const Handle& set = s.columns[static_cast<std::size_t>(found - all.begin())];
  const hsize_t start[] = {0, rider}, count[] = {s.head.time_s.size(), 1};
  std::vector<float> values(s.head.time_s.size());
  const Handle space(H5Dget_space(set), H5Sclose);
  const Handle memory(H5Screate_simple(2, count, nullptr), H5Sclose);
  if (H5Sselect_hyperslab(space, H5S_SELECT_SET, start, nullptr, count, nullptr) < 0 ||
      H5Dread(set, H5T_NATIVE_FLOAT, memory, space, H5P_DEFAULT, values.data()) < 0)
    s.from().fail("riders/" + column, "is damaged: its numbers cannot be read");
  return values;
}

}  // namespace leewheel
