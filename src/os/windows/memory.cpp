#include "memory.hpp"

#include <cstdio>
#include <cstdlib>

#include "temporary.hpp"

namespace skerry::os {

void say_no_memory_and_end() {
  std::fputs("skerry: not enough memory for this\n", stderr);
  remove_half_written();
  std::_Exit(1);
}

// The stack is reserved when the program starts.
void grow_stack() {}

}  // namespace skerry::os
