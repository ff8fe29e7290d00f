#pragma once
/// Attributes and tables read from an HDF5 file that may be damaged: sizes are checked before memory is taken.

#include <string>
#include <vector>

#include "io/fault.hpp"
#include "io/hdf5_handle.hpp"

namespace leewheel {

/// Reads pieces of a trace; whatever is missing or of another kind becomes one clear fault.
class Hdf5Reader {
 public:
  Hdf5Reader(std::string path, hid_t file) : path_(std::move(path)), file_(file) {}

  [[noreturn]] void fail(const std::string& field, const std::string& what) const {
    throw InputFault(Fault{path_, 0, 0, field, what});
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
  bool has(const std::string& place, const char* attribute) const {
    return (place == "." || exists(file_, place)) && H5Aexists_by_name(file_, place.c_str(), attribute, H5P_DEFAULT) > 0;
  }

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
    if ((place == "." || exists(file_, place)) && H5Aexists_by_name(file_, place.c_str(), name, H5P_DEFAULT) > 0)
      attr = Handle(H5Aopen_by_name(file_, place.c_str(), name, H5P_DEFAULT, H5P_DEFAULT), H5Aclose);
    if (!attr.ok()) fail(label(place, name), "expected this attribute, found none");
    return attr;
  }

  std::string path_;
  hid_t file_;
};

}  // namespace leewheel
