// What a system does where memory runs out.
// Room: os (internal).
#pragma once

namespace skerry::os {

/// One line, no half-written file, code 1; allocates nothing.
[[noreturn]] void say_no_memory_and_end();

/// Where the stack grows when it is used, and then cannot, a signal ends the program. So it grows here, as far as it
/// will be needed, after asking whether it can.
void grow_stack();

}  // namespace skerry::os
