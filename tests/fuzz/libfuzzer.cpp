// The way in for libFuzzer, which takes any exception for a crash.
#include "harness.hpp"

#include <cstddef>
#include <cstdint>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::check({reinterpret_cast<const char*>(data), size});
  return 0;
}
