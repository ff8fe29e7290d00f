/// The trace of a ride, damaged: cut off, bytes changed, tables and numbers gone or replaced. It is refused, or read throughout.

#include <hdf5.h>

#include <array>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "fuzz/bytes.hpp"
#include "fuzz/fuzz.hpp"
#include "io/hdf5_handle.hpp"
#include "io/scenario_reader.hpp"
#include "io/trace_file.hpp"

using namespace leewheel;

namespace {

constexpr const char* ridden_yaml = R"(title: A trace
road: {start_elevation_m: 0, stretches: [{length_m: 400, grade_percent: 2, heading_deg: 0}], landmarks: [{name: Gate, at_m: 100}]}
wind: {from: W, speed_kmh: 20}
riders: [{name: Ada, critical_power_W: 230, plan: [{from_m: 0, effort: 0.9}]}, {name: Ben, critical_power_W: 260}]
)";

std::string whole_trace;                      // the bytes of it
std::vector<std::string> tables, attributes;  // by path; an attribute after a colon

herr_t note_table(hid_t, const char* name, const H5O_info_t*, void*) {
  if (std::string_view(name) != ".") tables.emplace_back(name);
  return 0;
}

herr_t note_attribute(hid_t, const char* name, const H5A_info_t*, void* place) {
  attributes.push_back(*static_cast<std::string*>(place) + ":" + name);
  return 0;
}

void note_parts(const std::string& path) {
  const Handle file(H5Fopen(path.c_str(), H5F_ACC_RDONLY, H5P_DEFAULT), H5Fclose);
  H5Ovisit(file, H5_INDEX_NAME, H5_ITER_NATIVE, note_table, nullptr);
  std::vector<std::string> places = tables;
  places.emplace_back(".");
  for (std::string& place : places)
    H5Aiterate_by_name(file, place.c_str(), H5_INDEX_NAME, H5_ITER_NATIVE, nullptr, note_attribute, &place, H5P_DEFAULT);
}

constexpr std::array odd_numbers{0.0, 1.0, -1.0, 2.0, 255.0, 1e9, -1e300, 1e300, 4294967296.0, __builtin_nan("")};

Handle odd_type(fuzz::Bytes& bytes) {
  switch (bytes.below(5)) {
    case 0: return {H5Tcopy(H5T_IEEE_F64LE), H5Tclose};
    case 1: return {H5Tcopy(H5T_STD_I32LE), H5Tclose};
    case 2: return {H5Tcopy(H5T_STD_U8LE), H5Tclose};
    case 3: return {H5Tcopy(H5T_IEEE_F32LE), H5Tclose};
    default: break;
  }
  Handle text(H5Tcopy(H5T_C_S1), H5Tclose);
  H5Tset_size(text, 1 + bytes.below(9));
  return text;
}

void fill(fuzz::Bytes& bytes, hid_t set) {
  std::array<double, 64> values{};
  for (double& value : values) value = bytes.one_in(2) ? bytes.one_of(odd_numbers) : bytes.byte();
  const Handle type(H5Dget_type(set), H5Tclose);
  if (H5Tget_class(type) != H5T_STRING) H5Dwrite(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, values.data());
}

/// Another table in the place of that one, of a shape with at most 64 values.
void replace_table(fuzz::Bytes& bytes, hid_t file, const std::string& name) {
  H5Ldelete(file, name.c_str(), H5P_DEFAULT);
  if (bytes.one_in(4)) return;
  const hsize_t size[3] = {bytes.below(9), bytes.below(4), 1};
  const Handle space(H5Screate_simple(1 + static_cast<int>(bytes.below(3)), size, nullptr), H5Sclose),
      type = odd_type(bytes);
  const Handle set(H5Dcreate2(file, name.c_str(), type, space, H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT), H5Dclose);
  if (set.ok()) fill(bytes, set);
}

/// Numbers of a table as it is, the first 64 of them.
void change_numbers(fuzz::Bytes& bytes, hid_t file, const std::string& name) {
  const Handle set(H5Dopen2(file, name.c_str(), H5P_DEFAULT), H5Dclose);
  if (!set.ok()) return;
  const Handle space(H5Dget_space(set), H5Sclose);
  if (H5Sget_simple_extent_npoints(space) <= 64) fill(bytes, set);
}

void replace_attribute(fuzz::Bytes& bytes, hid_t file, const std::string& both) {
  const std::size_t colon = both.find(':');
  const std::string place = both.substr(0, colon), name = both.substr(colon + 1);
  H5Adelete_by_name(file, place.c_str(), name.c_str(), H5P_DEFAULT);
  if (bytes.one_in(4)) return;
  const hsize_t two = 2;
  const bool single = !bytes.one_in(4);
  const Handle space(single ? H5Screate(H5S_SCALAR) : H5Screate_simple(1, &two, nullptr), H5Sclose), type = odd_type(bytes);
  const Handle made(H5Acreate_by_name(file, place.c_str(), name.c_str(), type, space, H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT),
                    H5Aclose);
  const double values[2] = {bytes.one_of(odd_numbers), 3.0};
  if (made.ok() && H5Tget_class(type) != H5T_STRING) H5Awrite(made, H5T_NATIVE_DOUBLE, values);
}

void damage(fuzz::Bytes& bytes, const std::string& path) {
  const Handle file(H5Fopen(path.c_str(), H5F_ACC_RDWR, H5P_DEFAULT), H5Fclose);
  for (std::size_t k = 1 + bytes.below(4); k > 0 && file.ok() && !bytes.empty(); --k) switch (bytes.below(3)) {
      case 0: replace_attribute(bytes, file, attributes[bytes.word() % attributes.size()]); break;
      case 1: change_numbers(bytes, file, tables[bytes.word() % tables.size()]); break;
      default: replace_table(bytes, file, tables[bytes.word() % tables.size()]); break;
    }
}

void read_throughout(const std::string& path) {
  TraceReader trace(path);
  RideSample sample;
  for (std::size_t k = 0; k < trace.head().time_s.size(); ++k) {
    trace.sample(k, sample);
    if (sample.role.size() != trace.head().riders.size()) fuzz::wrong("a sample has every rider");
  }
  for (const SampleColumn& column : sample_columns())
    if (trace.series(column.name, 0).size() != trace.head().time_s.size()) fuzz::wrong("a series has every time");
  const Road road(trace.head().road);
  if (!(road.length_m() > 0.0)) fuzz::wrong("the road of a trace has a length");
}

}  // namespace

void fuzz::begin() {
  const std::string text = ridden_yaml;
  const Scenario scenario = read_scenario(put("scenario.yaml", text));
  const std::string path = folder() + "/whole.h5";
  TraceWriter writer(path, scenario, text);
  Ride ride(scenario);
  RideSample now;
  for (int second = 0; second < 30; ++second) {
    ride.sample(now);
    writer.append(now);
    for (int step = 0; step < 10; ++step) ride.step();
  }
  const RideResult result = ride.result();
  writer.finish(result.events, result.debts);
  note_parts(path);
  std::ifstream file(path, std::ios::binary);
  whole_trace.assign(std::istreambuf_iterator<char>(file), {});
}

bool fuzz::take(std::string_view input) {
  Bytes bytes(input);
  const std::string path = put("trace.h5", whole_trace);
  damage(bytes, path);
  if (bytes.one_in(4)) {
    std::error_code error;
    std::filesystem::resize_file(path, bytes.word() % std::filesystem::file_size(path, error), error);
  }
  return accepts(read_throughout, path);
}
