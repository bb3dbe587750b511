// What the systems' ways with files share.
// Room: os (internal).
#pragma once

#include <cstddef>
#include <mutex>
#include <set>
#include <string>
#include <utility>

#include "skerry/core/result.hpp"

namespace skerry::os {

/// By errno.
[[nodiscard]] tl::unexpected<Error> cannot_write(const std::string& name);

/// What a name leads to when it is a link, also where nothing is there yet. A link into itself stays a link.
[[nodiscard]] std::string without_links(const std::string& name);

/// What was read, by what the system calls a file whatever its name. From any thread.
template <class Identity>
class WasRead {
 public:
  void add(const Identity& file) {
    const std::lock_guard guard(guard_);
    all_.insert(file);
  }
  [[nodiscard]] bool has(const Identity& file) {
    const std::lock_guard guard(guard_);
    return all_.count(file) > 0;
  }
  void forget() {
    const std::lock_guard guard(guard_);
    all_.clear();
  }

 private:
  std::mutex guard_;
  std::set<Identity> all_;
};

/// A file to be read from its start, closed whatever happens.
class InFile {
 public:
  /// "-" is standard input. An ordinary file is kept in mind as read. False, and errno says why (EISDIR: a folder),
  /// where it cannot be opened.
  [[nodiscard]] static InFile open(const std::string& name);
  InFile(InFile&& other) noexcept : file_(std::exchange(other.file_, -1)) {}
  InFile& operator=(InFile&&) = delete;
  ~InFile() { close(); }
  explicit operator bool() const { return file_ >= 0; }
  /// So many bytes have come; 0 at the end, negative with errno.
  [[nodiscard]] long read(char* into, std::size_t most);

 private:
  explicit InFile(int file) : file_(file) {}
  void close();
  int file_ = -1;
};

}  // namespace skerry::os
