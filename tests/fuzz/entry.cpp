// The door through which libFuzzer enters one target; SKERRY_FUZZ_TARGET names it.
#include <cstddef>
#include <cstdint>

#include "skerry/core/parallel.hpp"
#include "targets.hpp"

extern "C" int LLVMFuzzerInitialize(int*, char***) {
  skerry::set_thread_count(1);
  return 0;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  skerry::fuzz::SKERRY_FUZZ_TARGET({reinterpret_cast<const char*>(data), size});
  return 0;
}
