#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <new>

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

[[noreturn]] void last_words() {
  if (refused) {
    std::fputs("skerry: not enough memory for this\n", stderr);
    remove_half_written();
    std::_Exit(1);
  }
  if (otherwise != nullptr) otherwise();
  std::abort();
}

}  // namespace

// The stack is reserved when the program starts: there is nothing to grow.
void end_in_order_without_memory() {
  std::set_new_handler(note_and_throw);
  otherwise = std::set_terminate(last_words);
}

void check_memory() {
  if (refused) throw std::bad_alloc();
}

}  // namespace skerry::os
