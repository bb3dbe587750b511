// Counts what a program asks of the heap. To be included in one source of a test program: it takes the place of
// the language's own new and delete.
#pragma once

#include <atomic>
#include <cstddef>
#include <cstdlib>
#include <new>

namespace skerry::test {

inline std::atomic<std::size_t> allocations{0};

/// How often `work` asks for memory.
template <class Work>
std::size_t allocations_of(const Work& work) {
  const auto before = allocations.load();
  work();
  return allocations.load() - before;
}

}  // namespace skerry::test

void* operator new(std::size_t size) {
  ++skerry::test::allocations;
  if (void* const got = std::malloc(size == 0 ? 1 : size)) return got;
  throw std::bad_alloc();
}
// The library takes memory by this one too and gives it back by the same delete.
void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
  ++skerry::test::allocations;
  return std::malloc(size == 0 ? 1 : size);
}
void operator delete(void* gone) noexcept {
  std::free(gone);
}
void operator delete(void* gone, std::size_t) noexcept {
  std::free(gone);
}
