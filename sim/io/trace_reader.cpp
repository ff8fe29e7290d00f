/// A trace read on demand, torn ones as far as they go.

#include <algorithm>
#include <cassert>
#include <filesystem>
#include <list>

#include "io/clock_time.hpp"
#include "io/fault.hpp"
#include "io/trace_parts.hpp"
#include "io/yaml_tree.hpp"

namespace leewheel {

namespace {

/// As they stand in the text of the scenario; a text that is no YAML has none.
void read_question(TraceHead& head) try {
  const YamlNode root = yaml_tree("scenario_text", head.scenario_text);
  for (std::size_t k = 0; k < root.keys.size() && k < root.items.size(); ++k) {
    if (root.keys[k].scalar == "question") head.question = root.items[k].scalar;
    if (root.keys[k].scalar == "finding") head.finding = root.items[k].scalar;
  }
} catch (const InputFault&) {
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
  Hdf5Reader from() const { return {path, file}; }

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
  const Hdf5Reader r = from();
  head.title = r.text(".", "title");
  const std::vector<std::string> scenario_text = r.texts("scenario_text");
  if (!scenario_text.empty()) head.scenario_text = scenario_text.front();
  read_question(head);
  head.program_version = r.text(".", "program_version");
  head.seed = r.number<std::uint64_t>(".", "seed");
  head.sample_interval_s = r.number<double>(".", "sample_interval_s");
  head.keep_right = r.number<std::uint8_t>(".", "keep_right") != 0;
  head.air_density_kgpm3 = r.number<double>(".", "air_density_kgpm3");
  head.complete = r.number<std::uint8_t>(".", "complete") != 0;
  head.road = read_road_of(r);
  head.riders = read_riders(r);
  read_plan(r, head);
  head.wake_law = read_wake(r);
  if (r.has(".", "change_length_m")) head.change_length_m = r.number<double>(".", "change_length_m");
  if (r.has(".", "start")) head.start = date_and_time(r.text(".", "start"));
  head.time_s = r.vector<double>("time_s");
  if (!head.complete) return;
  head.events = read_events(r, head.riders.size());
  head.debts = read_debts(r, head.riders.size());
}

void TraceReader::State::open_columns() {
  const Hdf5Reader r = from();
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
