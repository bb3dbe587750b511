#include "skerry/os/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <thread>
#include <vector>

#include "skerry/core/text.hpp"
#include "temporary.hpp"

namespace skerry::os {

namespace {

/// Judgement: outlines and forecasts have kilobytes; their own readers take no more.
constexpr std::size_t most_ordinary_bytes = 8U << 20U;

tl::unexpected<Error> cannot_write(const std::string& name) {
  return fail({name}, std::strerror(errno), "a place that can be written to");
}

/// A file whatever it is called.
using Identity = std::pair<dev_t, ino_t>;

std::vector<Identity>& what_was_read() {
  static std::vector<Identity> all;
  return all;
}

void note_as_read(const struct stat& info) {
  if (S_ISREG(info.st_mode)) what_was_read().emplace_back(info.st_dev, info.st_ino);
}

bool was_read(const struct stat& info) {
  const auto& all = what_was_read();
  return std::find(all.begin(), all.end(), Identity(info.st_dev, info.st_ino)) != all.end();
}

/// What a name leads to when it is a link, also where nothing is there yet. A link into itself stays a link.
std::string without_links(const std::string& name) {
  // Source: Linux follows as many (path_resolution(7)).
  constexpr int most_links = 40;
  std::filesystem::path at = name;
  std::error_code problem;
  for (int i = 0; i < most_links && std::filesystem::is_symlink(at, problem); ++i) {
    const auto target = std::filesystem::read_symlink(at, problem);
    if (problem) break;
    at = at.parent_path() / target;
  }
  return at.string();
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

/// Closes a descriptor whatever happens.
struct Descriptor {
  int fd = -1;
  ~Descriptor() {
    if (fd >= 0) ::close(fd);
  }
};

/// Whether a file lies in the folder or below it, all links followed.
bool lies_within(const std::filesystem::path& file, const std::filesystem::path& folder) {
  std::error_code problem;
  const auto real_folder = std::filesystem::canonical(folder.empty() ? "." : folder, problem);
  if (problem) return false;
  const auto real_file = std::filesystem::canonical(file, problem);
  if (problem) return true;  // there is no such file: reading it will say so
  return std::mismatch(real_folder.begin(), real_folder.end(), real_file.begin(), real_file.end()).first ==
         real_folder.end();
}

}  // namespace

Result<std::string> read_file(const std::string& name, std::size_t most, const Where& where) {
  const Where at{where.file.empty() ? name : where.file, where.line, where.column};
  const auto unreadable = [&] {
    return fail(at, "'" + name + "': " + std::strerror(errno), "a file that can be read");
  };
  Descriptor file{::open(name.c_str(), O_RDONLY | O_CLOEXEC)};
  if (file.fd < 0) return unreadable();
  struct stat info {};
  if (::fstat(file.fd, &info) == 0) {
    if (S_ISDIR(info.st_mode)) return fail(at, "'" + name + "' is a folder", "a file");
    note_as_read(info);
  }
  std::string content;
  char block[65536];
  for (;;) {
    const auto got = ::read(file.fd, block, sizeof block);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return unreadable();
    if (got == 0) break;
    content.append(block, static_cast<std::size_t>(got));
    if (content.size() > most) {
      return fail(at, fmt::format("'{}' is over {} kB", name, most / 1024), "a file of that size at most");
    }
  }
  return content;
}

Result<std::string> read_ordinary(const std::string& name, const std::string& shown, const Where& where) {
  std::error_code problem;
  const auto status = std::filesystem::status(name, problem);
  if (std::filesystem::exists(status) && !std::filesystem::is_regular_file(status) &&
      !std::filesystem::is_directory(status))
    return fail(where, "'" + shown + "'", "an ordinary file",
                "a pipe or device could keep the reader waiting");
  return read_file(name, most_ordinary_bytes, where);
}

Result<std::string> read_beside(const std::string& named_by, const std::string& wanted, const Where& where,
                                bool outside) {
  const std::filesystem::path path(wanted);
  const auto folder = std::filesystem::path(named_by).parent_path();
  const auto whole = folder / path;
  if (!outside) {
    const auto out = [&](const char* why) {
      return fail(where, "'" + wanted + "'", "a file in the trip's folder or below it",
                  fmt::format("{}; --allow-outside takes the whole file system", why));
    };
    // A trip file may come from somebody else: it must not make its reader open what it likes.
    if (path.is_absolute()) return out("absolute paths are not followed");
    if (std::find(path.begin(), path.end(), "..") != path.end()) return out("'..' is not followed");
    if (!lies_within(whole, folder)) return out("it is a link out of that folder");
  }
  return read_ordinary(whole.string(), wanted, where);
}

bool exists(const std::string& name) {
  return ::access(name.c_str(), F_OK) == 0;
}

Result<bool> make_folder(const std::string& name, const Where& where) {
  namespace fs = std::filesystem;
  std::error_code problem;
  fs::create_directories(name, problem);
  if (problem || !fs::is_directory(name, problem))
    return fail(where, "'" + one_line(name) + "'" + (problem ? ": " + problem.message() : ""),
                "a folder that can be written to");
  return true;
}

void forget_what_was_read() {
  what_was_read().clear();
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
  if (there && onto == Onto::another && was_read(info))
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

Result<bool> write_file(const std::string& name, std::string_view content, Onto onto) {
  auto file = OutFile::open(name, onto);
  if (!file) return tl::unexpected(file.error());
  if (const auto put = file->put(content); !put) return put;
  return file->finish();
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
