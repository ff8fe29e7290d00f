/// The target as libFuzzer wants it. At the end it says how many inputs were accepted.

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <iostream>

#include "fuzz/fuzz.hpp"

namespace {

std::size_t inputs = 0, accepted = 0;

}  // namespace

extern "C" int LLVMFuzzerInitialize(int*, char***) {
  fuzz::begin();
  std::atexit([] { std::cerr << "inputs " << inputs << " accepted " << accepted << std::endl; });
  return 0;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  ++inputs;
  accepted += fuzz::take({reinterpret_cast<const char*>(data), size});
  return 0;
}
