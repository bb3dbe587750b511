// Work shared between the cores.
// Layer: core. Sees nothing.
#pragma once

#include <cstddef>
#include <functional>

namespace skerry {

/// How many threads parallel_for uses: the machine's, unless set. The answer never depends on it.
[[nodiscard]] unsigned thread_count();
/// 0 restores the machine's own number. Set once at start-up, by cli or a test.
void set_thread_count(unsigned count);

/// Calls body(begin, end) on disjoint ranges that cover 0..count, each of at most `grain` indices, taken in
/// turn by the threads. The calling thread works too; the first exception thrown is passed on after all have
/// stopped. Called from inside another's body, it runs on the calling thread alone: the outer loop already
/// keeps all cores busy.
void parallel_for(std::size_t count, std::size_t grain,
                  const std::function<void(std::size_t, std::size_t)>& body);

}  // namespace skerry
