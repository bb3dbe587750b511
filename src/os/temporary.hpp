// A file on its way to its name: what is half written never stays, whatever ends the program.
// Room: os (internal).
#pragma once

#include <string>

namespace skerry::os {

/// Between a file's name and the number of the process that writes it.
inline constexpr const char* part_mark = ".skerry-part-";

/// A name beside `final_name` that no other process uses. What earlier processes left there when they were
/// killed outright is removed: files of such a name whose process lives no more and which nobody has
/// locked.
[[nodiscard]] std::string temporary_name(const std::string& final_name);
/// To be called on the open file: others see that it is being written, also those that share the folder
/// from elsewhere and cannot see the process.
void lock(int file);

/// From now on SIGINT, SIGTERM and their like remove this file before they end the program (see
/// clean_up_on_signals). One at a time.
void remove_on_signals(const std::string& name);
/// It has its name, or is given up.
void keep_on_signals();
/// Removes the half-written file, if there is one. Allocates nothing.
void remove_half_written();

/// Asked by the handler of SIGINT: whether a GentleInterrupt takes this one as a mark. Allocates nothing.
[[nodiscard]] bool only_marked();
[[nodiscard]] bool interrupt_marked();

}  // namespace skerry::os
