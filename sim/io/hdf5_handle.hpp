#pragma once
/// Small tools over the C interface of HDF5: identifiers that close themselves, and the types a trace is made of.
/// No wrapper library: Debian 12 packages no header-only one, and the C++ interface of HDF5 cannot switch off times in
/// groups, without which the same ride would not give the same bytes.

#include <hdf5.h>
#include <hdf5_hl.h>

#include <algorithm>
#include <cstdint>
#include <string>
#include <utility>

namespace leewheel {

/// Our faults say what went wrong; the library's own stack on stderr would only repeat it in other words. The library keeps
/// one for every thread, so each thread that calls it begins with this. Its work at the end of the program is left out: it
/// crashes over a file that could not be closed (HDF5 1.10 on a full disk), and every file of ours is closed before.
inline void silence_library() {
  thread_local const bool silent = (H5dont_atexit(), H5Eset_auto2(H5E_DEFAULT, nullptr, nullptr) >= 0);
  static_cast<void>(silent);
}

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
inline hid_t memory_type<float>() {
  return H5T_NATIVE_FLOAT;
}
template <>
inline hid_t memory_type<double>() {
  return H5T_NATIVE_DOUBLE;
}
template <>
inline hid_t memory_type<std::int32_t>() {
  return H5T_NATIVE_INT32;
}
template <>
inline hid_t memory_type<std::uint64_t>() {
  return H5T_NATIVE_UINT64;
}
template <>
inline hid_t memory_type<std::uint8_t>() {
  return H5T_NATIVE_UINT8;
}

/// Little-endian on every machine, so that a trace means the same bytes anywhere.
template <class T>
hid_t file_type();
template <>
inline hid_t file_type<float>() {
  return H5T_IEEE_F32LE;
}
template <>
inline hid_t file_type<double>() {
  return H5T_IEEE_F64LE;
}
template <>
inline hid_t file_type<std::int32_t>() {
  return H5T_STD_I32LE;
}
template <>
inline hid_t file_type<std::uint64_t>() {
  return H5T_STD_U64LE;
}
template <>
inline hid_t file_type<std::uint8_t>() {
  return H5T_STD_U8LE;
}

/// Texts of fixed length, padded: those of variable length live in a heap of the file that has no checksum, and the
/// library trusts it blindly.
inline Handle text_type(std::size_t bytes) {
  Handle type(H5Tcopy(H5T_C_S1), H5Tclose);
  H5Tset_size(type, std::max<std::size_t>(bytes, 1));
  H5Tset_strpad(type, H5T_STR_NULLPAD);
  H5Tset_cset(type, H5T_CSET_UTF8);
  return type;
}

inline bool exists(hid_t place, const std::string& path) {
  for (std::size_t end = path.find('/');; end = path.find('/', end + 1)) {
    if (H5Lexists(place, path.substr(0, end).c_str(), H5P_DEFAULT) <= 0) return false;
    if (end == std::string::npos) return true;
  }
}

}  // namespace leewheel
