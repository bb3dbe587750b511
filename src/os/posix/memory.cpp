#include "memory.hpp"

#include <sys/mman.h>
#include <sys/resource.h>
#include <unistd.h>

#include <array>
#include <string_view>

#include "temporary.hpp"

namespace skerry::os {

namespace {

/// Measured: the examples' packs and pages need under 256 kB; the deepest files that are read hardly more.
constexpr std::size_t stack_bytes = 1U << 20U;

[[gnu::noinline]] void touch_stack() {
  std::array<char, stack_bytes> room;
  *const_cast<volatile char*>(room.data()) = 0;  // its lowest byte: the stack grows down to it
}

}  // namespace

void say_no_memory_and_end() {
  constexpr std::string_view said = "skerry: not enough memory for this\n";
  (void)!::write(STDERR_FILENO, said.data(), said.size());
  remove_half_written();
  ::_exit(1);
}

void grow_stack() {
  rlimit most{};
  if (::getrlimit(RLIMIT_STACK, &most) == 0 && most.rlim_cur < 2 * stack_bytes) return;
  void* trial = ::mmap(nullptr, stack_bytes, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (trial == MAP_FAILED) say_no_memory_and_end();
  ::munmap(trial, stack_bytes);
  touch_stack();
}

}  // namespace skerry::os
