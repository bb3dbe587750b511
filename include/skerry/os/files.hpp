// Files: read whole, and written whole or not at all.
// Room: os. Sees core only.
#pragma once

#include <chrono>
#include <filesystem>
#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::os {

/// The name by which standard input is read.
inline constexpr const char* standard_input = "-";
/// A name (UTF-8) for the standard library, which takes it for another encoding where the file system's own is wide.
[[nodiscard]] std::filesystem::path path_of(std::string_view name);
/// A file's name as messages say it.
[[nodiscard]] std::string shown_name(const std::string& name);

/// Reads a whole file, at most `most` bytes; "-" is standard input. An error's place is `where` if that names a
/// file, else the file itself.
[[nodiscard]] Result<std::string> read_file(const std::string& name, std::size_t most, const Where& where);

/// The same of an ordinary file only, of 8 MB at most: a pipe or device could keep its reader waiting for
/// ever. `shown` is what an error calls it.
[[nodiscard]] Result<std::string> read_ordinary(const std::string& name, const std::string& shown,
                                                const Where& where);

/// Reads an ordinary file that another file names. Unless `outside` it lies in that one's folder or below: no
/// absolute path, no "..", no link out of it.
[[nodiscard]] Result<std::string> read_beside(const std::string& named_by, const std::string& wanted,
                                              const Where& where, bool outside);

/// The ordinary files of a folder, by name, or the one file itself. At most 10000.
[[nodiscard]] Result<std::vector<std::string>> files_in(const std::string& name, const Where& where);
/// The same of a folder or file that another file names, under the same conditions as read_beside.
[[nodiscard]] Result<std::vector<std::string>> files_beside(const std::string& named_by,
                                                            const std::string& wanted, const Where& where,
                                                            bool outside);

[[nodiscard]] bool exists(const std::string& name);

/// The folder and those above it, made if they are not there.
[[nodiscard]] Result<bool> make_folder(const std::string& name, const Where& where);

/// The ordinary files that this process reads are kept by device and inode, whatever they are called, so that
/// no answer takes the place of a question. Files may be read from any thread. This forgets them: a new command
/// begins.
void forget_what_was_read();

/// Whether a file that was read may be written over: only by what changes just that file.
enum class Onto { another, what_was_read };

/// A file that takes its name when it is finished; until then, and if it never is, there is nothing of that
/// name, or what was there before. What stands there keeps its permissions, and its owner and group as far as
/// the system allows; a link is followed and stays; other hard links keep what was there before. A device or
/// pipe is written to straight away. One at a time (see ending.hpp: a signal removes it).
class OutFile {
 public:
  ///   errors  a file that was read, unless `onto` allows it; one that may not be written to
  [[nodiscard]] static Result<OutFile> open(const std::string& name, Onto onto = Onto::another);
  OutFile(OutFile&& other) noexcept
      : name_(std::move(other.name_)),
        temporary_(std::exchange(other.temporary_, {})),
        file_(std::exchange(other.file_, -1)) {}
  OutFile& operator=(OutFile&&) = delete;
  ~OutFile();

  [[nodiscard]] Result<bool> put(std::string_view text);
  /// Flushes to disk and gives the file its name.
  [[nodiscard]] Result<bool> finish();

 private:
  OutFile() = default;
  std::string name_;       ///< links followed
  std::string temporary_;  ///< empty where the name is written to itself
  int file_ = -1;
};

/// Writes a whole file or none.
[[nodiscard]] Result<bool> write_file(const std::string& name, std::string_view content,
                                      Onto onto = Onto::another);

/// While it lives nobody else has the folder of a file, links followed: for reading a file, changing it and
/// writing it back. The folder is what is locked, so nothing stays behind, and a process that ends, however it
/// does, lets go of it. A file system without locks gives none.
class FolderLock {
 public:
  struct Patience {
    std::chrono::milliseconds quiet, most;
  };
  /// Waits: after `quiet` calls `waiting` once, after `most` gives up.
  ///   errors  still taken; no such folder
  [[nodiscard]] static Result<FolderLock> take(const std::string& file, Patience patience,
                                               const std::function<void()>& waiting);
  FolderLock(FolderLock&& other) noexcept : folder_(std::exchange(other.folder_, -1)) {}
  FolderLock& operator=(FolderLock&&) = delete;
  ~FolderLock();

 private:
  explicit FolderLock(int folder) : folder_(folder) {}
  int folder_;
};

}  // namespace skerry::os
