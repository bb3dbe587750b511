// Ends in good order: when a signal comes, and when memory runs out.
// Room: os. Sees core only.
#pragma once

namespace skerry::os {

/// SIGINT, SIGTERM, SIGHUP and their like end the program at once, as they do by default (a shell sees 128 +
/// number: 130 after Ctrl-C), but a half-written output file is removed first. For main(); a caller with
/// handlers of its own does not call it.
void clean_up_on_signals();

/// While it lives and once it is armed, the first SIGINT only leaves a mark, for work that can end early with an
/// answer; the second ends the program as ever. Where nobody called clean_up_on_signals(), and where SIGINT is
/// ignored, there is no mark. One at a time; arm() and asked() from any thread.
class GentleInterrupt {
 public:
  GentleInterrupt() = default;
  GentleInterrupt(const GentleInterrupt&) = delete;
  GentleInterrupt& operator=(const GentleInterrupt&) = delete;
  ~GentleInterrupt();
  void arm();
  [[nodiscard]] bool asked() const;
};

/// After a SIGINT that left a mark ends the program as it does by default, so that whoever started it sees it: for
/// main(), when the answer is out.
void end_if_interrupted();

/// Where memory runs out, the program ends with one line that says so, no half-written file and code 1, also
/// where the language would end it with a signal. For main(), as early as can be: it sets the new-handler and
/// the terminate handler of the whole program, and lets the stack grow to a megabyte while it can.
void end_in_order_without_memory();

/// Throws std::bad_alloc where memory was refused since end_in_order_without_memory() was called. A standard
/// stream that finds no memory only marks itself bad and drops what it was given: asked before an answer is
/// handed on, this keeps half of one from passing for the whole.
void check_memory();

}  // namespace skerry::os
