#include "open_files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <thread>

#include "skerry/os/files.hpp"
#include "temporary.hpp"

namespace skerry::os {

namespace {

/// A file whatever it is called.
using Identity = std::pair<dev_t, ino_t>;

WasRead<Identity>& what_was_read() {
  static WasRead<Identity> all;
  return all;
}

/// Gives a new file the permissions of the one whose place it takes, and its owner and group where that is
/// allowed.
void take_after(int file, const struct stat& old) {
  mode_t mode = old.st_mode & 07777U;
  // Only an administrator gives files away. A group that cannot be kept must not hand its rights to another.
  if (::fchown(file, old.st_uid, old.st_gid) != 0 && ::fchown(file, static_cast<uid_t>(-1), old.st_gid) != 0)
    mode &= ~(static_cast<mode_t>(S_IRWXG) | S_ISGID);
  (void)::fchmod(file, mode);
}

}  // namespace

InFile InFile::open(const std::string& name) {
  InFile out(name == standard_input ? ::fcntl(STDIN_FILENO, F_DUPFD_CLOEXEC, 0)
                                    : ::open(name.c_str(), O_RDONLY | O_CLOEXEC));
  struct stat info {};
  if (!out || ::fstat(out.file_, &info) != 0) return out;
  if (S_ISDIR(info.st_mode)) {
    out.close();
    errno = EISDIR;
    return out;
  }
  if (S_ISREG(info.st_mode)) what_was_read().add({info.st_dev, info.st_ino});
  return out;
}

long InFile::read(char* into, std::size_t most) {
  for (;;) {
    const auto got = ::read(file_, into, most);
    if (got >= 0 || errno != EINTR) return got;
  }
}

void InFile::close() {
  if (file_ >= 0) ::close(std::exchange(file_, -1));
}

void forget_what_was_read() {
  what_was_read().forget();
}

Result<OutFile> OutFile::open(const std::string& name, Onto onto) {
  OutFile out;
  out.name_ = without_links(name);
  struct stat info {};
  if (::lstat(out.name_.c_str(), &info) == 0 && S_ISLNK(info.st_mode)) {
    errno = ELOOP;
    return cannot_write(name);
  }
  const bool there = ::stat(out.name_.c_str(), &info) == 0;
  // A device or pipe cannot be renamed over; write straight into it.
  if (there && !S_ISREG(info.st_mode)) {
    out.file_ = ::open(name.c_str(), O_WRONLY | O_CLOEXEC);
    if (out.file_ < 0) return cannot_write(name);
    return out;
  }
  if (there && onto == Onto::another && what_was_read().has({info.st_dev, info.st_ino}))
    return fail({name}, "the file that was read", "another name for the answer",
                "it would take the place of what it was made from");
  // A new name in the folder needs no right to the old file: what its owner closed stays closed.
  if (there && ::access(out.name_.c_str(), W_OK) != 0) return cannot_write(name);
  const auto temporary = temporary_name(out.name_);
  remove_on_signals(temporary);
  // Nobody else reads what replaces a closed file, not even for a moment.
  out.file_ = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, there ? 0600 : 0666);
  if (out.file_ < 0) {
    keep_on_signals();
    return cannot_write(name);
  }
  out.temporary_ = temporary;
  if (there) take_after(out.file_, info);
  lock(out.file_);
  return out;
}

OutFile::~OutFile() {
  if (file_ >= 0) ::close(file_);
  if (temporary_.empty()) return;
  ::unlink(temporary_.c_str());
  keep_on_signals();
}

Result<bool> OutFile::put(std::string_view text) {
  while (!text.empty()) {
    const auto put = ::write(file_, text.data(), text.size());
    if (put < 0 && errno == EINTR) continue;
    if (put < 0) return cannot_write(name_);
    text.remove_prefix(static_cast<std::size_t>(put));
  }
  return true;
}

Result<bool> OutFile::finish() {
  if (!temporary_.empty() && ::fsync(file_) != 0 && errno != EINVAL) return cannot_write(name_);
  if (::close(std::exchange(file_, -1)) != 0) return cannot_write(name_);
  if (temporary_.empty()) return true;
  if (std::rename(temporary_.c_str(), name_.c_str()) != 0) return cannot_write(name_);
  temporary_.clear();
  keep_on_signals();
  return true;
}

Result<FolderLock> FolderLock::take(const std::string& file, Patience patience,
                                    const std::function<void()>& waiting) {
  const auto folder = std::filesystem::path(without_links(file)).parent_path();
  FolderLock out(::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (out.folder_ < 0) return cannot_write(file);
  const auto start = std::chrono::steady_clock::now();
  bool told = false;
  while (::flock(out.folder_, LOCK_EX | LOCK_NB) != 0) {
    if (errno == EINTR) continue;
    if (errno != EWOULDBLOCK) break;  // no locks here
    const auto waited = std::chrono::steady_clock::now() - start;
    if (waited >= patience.most)
      return fail({file},
                  fmt::format("a file that another program has been changing for {:g} s",
                              std::chrono::duration<double>(patience.most).count()),
                  "one that nobody else is changing", "try again when that program has ended");
    if (!told && waited >= patience.quiet) {
      waiting();
      told = true;
    }
    // Judgement: a change takes some milliseconds.
    std::this_thread::sleep_for(std::chrono::milliseconds(5));
  }
  return out;
}

FolderLock::~FolderLock() {
  if (folder_ >= 0) ::close(folder_);
}

}  // namespace skerry::os
