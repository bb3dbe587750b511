#include "memory.hpp"

#include <atomic>
#include <cstdlib>
#include <exception>
#include <new>

#include "skerry/os/ending.hpp"

namespace skerry::os {

namespace {

std::atomic<bool> refused{false};
std::terminate_handler otherwise = nullptr;

[[noreturn]] void note_and_throw() {
  refused = true;
  throw std::bad_alloc();
}

/// Reached where an exception could not be thrown for lack of memory, or found nobody to catch it.
[[noreturn]] void last_words() {
  if (refused) say_no_memory_and_end();
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
