#pragma once
/// Groups, attributes and tables written to an HDF5 file without times of creation: the same ride gives the same bytes.

#include <initializer_list>
#include <string>
#include <type_traits>
#include <vector>

#include "io/fault.hpp"
#include "io/hdf5_handle.hpp"

namespace leewheel {

/// Everything that can go wrong while writing is told the same way: which file, and what was being written.
class Hdf5Writer {
 public:
  explicit Hdf5Writer(std::string path) : path_(std::move(path)) {}

  Handle checked(hid_t id, Handle::Close close, const std::string& what) const {
    if (id < 0) fail(what);
    return {id, close};
  }
  void check(herr_t status, const std::string& what) const {
    if (status < 0) fail(what);
  }
  [[noreturn]] void fail(const std::string& what) const {
    throw WriteFault(Fault{path_, 0, 0, what, "cannot be written; is the disk full or the folder gone?"});
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

  void describe(hid_t dataset, const std::string& unit, const std::string& meaning) const {
    attribute(dataset, "unit", unit);
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
  Handle vector(hid_t place, const char* name, const std::vector<T>& values, const std::string& unit,
                const std::string& meaning) const {
    const hsize_t size = values.size();
    const Handle space(H5Screate_simple(1, &size, nullptr), H5Sclose);
    const Handle list = size >= 64 ? creation({std::min<hsize_t>(size, 16384)}) : creation({});
    Handle set = checked(H5Dcreate2(place, name, file_type<T>(), space, H5P_DEFAULT, list, H5P_DEFAULT), H5Dclose, name);
    if (size > 0) check(H5Dwrite(set, memory_type<T>(), H5S_ALL, H5S_ALL, H5P_DEFAULT, values.data()), name);
    check(H5Dflush(set), name);  // closing would write what waits in memory, and nobody would hear that it failed
    describe(set, unit, meaning);
    return set;
  }

  Handle texts(hid_t place, const char* name, const std::vector<std::string>& values, const std::string& meaning) const {
    std::size_t longest = 1;
    for (const std::string& value : values) longest = std::max(longest, value.size());
    std::string bytes;
    for (const std::string& value : values) bytes += value + std::string(longest - value.size(), '\0');

    const hsize_t size = values.size();
    const Handle type = text_type(longest);
    const Handle space(H5Screate_simple(1, &size, nullptr), H5Sclose);
    const Handle list = size >= 64 ? creation({std::min<hsize_t>(size, 1024)}) : creation({});
    Handle set = checked(H5Dcreate2(place, name, type, space, H5P_DEFAULT, list, H5P_DEFAULT), H5Dclose, name);
    if (size > 0) check(H5Dwrite(set, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, bytes.data()), name);
    check(H5Dflush(set), name);
    attribute(set, "meaning", meaning);
    return set;
  }

  /// A table along which others lie: a dimension scale, which other programs show beside their numbers.
  void make_scale(hid_t table, const char* name) const { check(H5DSset_scale(table, name), name); }
  void lay_along(hid_t table, unsigned dimension, hid_t scale, const char* name) const {
    check(H5DSattach_scale(table, scale, dimension), name);
    check(H5DSset_label(table, dimension, name), name);
  }

 private:
  std::string path_;
};

}  // namespace leewheel
