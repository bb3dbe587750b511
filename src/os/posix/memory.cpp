#include <sys/mman.h>
#include <sys/resource.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <cstddef>
#include <cstdlib>
#include <exception>
#include <new>
#include <string_view>

#include "skerry/os/ending.hpp"
#include "temporary.hpp"

namespace skerry::os {

namespace {

std::atomic<bool> refused{false};
std::terminate_handler otherwise = nullptr;

[[noreturn]] void note_and_throw() {
  refused = true;
  throw std::bad_alloc();
}

[[noreturn]] void say_and_end() {
  constexpr std::string_view said = "skerry: not enough memory for this\n";
  (void)!::write(STDERR_FILENO, said.data(), said.size());
  remove_half_written();
  ::_exit(1);
}

/// Measured: the examples' packs and pages need under 256 kB; the deepest files that are read hardly more.
constexpr std::size_t stack_bytes = 1U << 20U;

[[gnu::noinline]] void touch_stack() {
  std::array<char, stack_bytes> room;
  *const_cast<volatile char*>(room.data()) = 0;  // its lowest byte: the stack grows down to it
}

/// The stack grows when it is used, and where it then cannot, a signal ends the program. So it grows here, as
/// far as it will be needed, after asking whether it can.
void grow_stack() {
  rlimit most{};
  if (::getrlimit(RLIMIT_STACK, &most) == 0 && most.rlim_cur < 2 * stack_bytes) return;
  void* trial = ::mmap(nullptr, stack_bytes, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (trial == MAP_FAILED) say_and_end();
  ::munmap(trial, stack_bytes);
  touch_stack();
}

/// Reached where an exception could not be thrown for lack of memory, or found nobody to catch it.
[[noreturn]] void last_words() {
  if (refused) say_and_end();
  if (otherwise != nullptr) otherwise();
  std::abort();
}

}  // namespace

void end_in_order_without_memory() {
  std::set_new_handler(note_and_throw);
  otherwise = std::set_terminate(last_words);
  grow_stack();
}

void check_memory() {
  if (refused) throw std::bad_alloc();
}

}  // namespace skerry::os
