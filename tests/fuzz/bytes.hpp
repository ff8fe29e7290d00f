#pragma once
/// Choices drawn from the bytes of an input; beyond their end every choice is the first.

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace fuzz {

class Bytes {
 public:
  explicit Bytes(std::string_view bytes) : left_(bytes) {}

  bool empty() const { return left_.empty(); }
  unsigned byte() {
    if (left_.empty()) return 0;
    const auto value = static_cast<unsigned char>(left_.front());
    left_.remove_prefix(1);
    return value;
  }
  std::uint32_t word() {
    const unsigned high = byte();
    return high << 8 | byte();
  }
  std::size_t below(std::size_t count) { return byte() % count; }
  bool one_in(std::size_t count) { return below(count) == count - 1; }
  /// Both ends are drawn often: faults live there.
  double between(double low, double high) {
    const std::uint32_t drawn = word();
    if (drawn % 16 == 14) return low;
    if (drawn % 16 == 15) return high;
    return low + (high - low) * (drawn / 65536.0);
  }
  template <class Names>
  auto one_of(const Names& names) {
    return *(std::begin(names) + static_cast<std::ptrdiff_t>(below(std::size(names))));
  }

 private:
  std::string_view left_;
};

}  // namespace fuzz
