#include <atomic>

#include "skerry/os/ending.hpp"
#include "temporary.hpp"

namespace skerry::os {

namespace {

std::atomic<bool> gentle{false}, marked{false};
static_assert(std::atomic<bool>::is_always_lock_free, "a signal handler looks at them");

}  // namespace

bool only_marked() {
  if (!gentle || marked) return false;
  marked = true;
  return true;
}

bool interrupt_marked() {
  return marked;
}

GentleInterrupt::~GentleInterrupt() {
  gentle = false;
}

void GentleInterrupt::arm() {
  gentle = true;
}

bool GentleInterrupt::asked() const {
  return marked;
}

}  // namespace skerry::os
