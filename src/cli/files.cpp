#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

#include "options.hpp"
#include "temporary.hpp"

namespace skerry::cli {

namespace {

/// Judgement: outlines and forecasts have kilobytes; their own readers take no more.
constexpr std::size_t most_beside_bytes = 8U << 20U;

/// The system's words for an error number, without its own trailing detail.
std::string reason(int number) {
  return std::strerror(number);
}

/// Closes a descriptor whatever happens.
struct Descriptor {
  int fd = -1;
  ~Descriptor() {
    if (fd >= 0) ::close(fd);
  }
};

bool outside_allowed = false;

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

/// A pipe or device that a trip file names could keep its reader waiting for ever.
Result<bool> check_ordinary(const std::filesystem::path& file, const std::string& wanted,
                            const Where& where) {
  std::error_code problem;
  const auto status = std::filesystem::status(file, problem);
  if (std::filesystem::exists(status) && !std::filesystem::is_regular_file(status) &&
      !std::filesystem::is_directory(status))
    return fail(where, "'" + wanted + "'", "an ordinary file",
                "a pipe or device could keep the reader waiting");
  return true;
}

}  // namespace

Result<std::string> read_setting(const std::string& wanted, const Where& where) {
  const auto file = wanted.substr(own_settings.size());
  if (file.empty() || file.find('/') != std::string::npos || file == "..")
    return fail(where, "'" + wanted + "'", "config: and the name of a file in skerry's folder of settings");
  const auto whole = config_file(file);
  if (const auto ordinary = check_ordinary(whole, wanted, where); !ordinary)
    return tl::unexpected(ordinary.error());
  return read_file(whole, most_beside_bytes, where);
}

void allow_outside(bool allowed) {
  outside_allowed = allowed;
}

Result<std::string> read_beside(const std::string& trip_file, const std::string& wanted, const Where& where) {
  const std::filesystem::path path(wanted);
  const auto folder = std::filesystem::path(trip_file).parent_path();
  const auto whole = folder / path;
  if (!outside_allowed) {
    const auto out = [&](const char* why) {
      return fail(where, "'" + wanted + "'", "a file in the trip's folder or below it",
                  fmt::format("{}; --allow-outside takes the whole file system", why));
    };
    // A trip file may come from somebody else: it must not make its reader open what it likes.
    if (path.is_absolute()) return out("absolute paths are not followed");
    if (std::find(path.begin(), path.end(), "..") != path.end()) return out("'..' is not followed");
    if (!lies_within(whole, folder)) return out("it is a link out of that folder");
  }
  if (const auto ordinary = check_ordinary(whole, wanted, where); !ordinary)
    return tl::unexpected(ordinary.error());
  return read_file(whole.string(), most_beside_bytes, where);
}

Result<std::string> read_file(const std::string& name, std::size_t most, const Where& where) {
  const Where at{where.file.empty() ? name : where.file, where.line, where.column};
  Descriptor file{::open(name.c_str(), O_RDONLY | O_CLOEXEC)};
  if (file.fd < 0) return fail(at, "'" + name + "': " + reason(errno), "a file that can be read");
  struct stat info {};
  if (::fstat(file.fd, &info) == 0 && S_ISDIR(info.st_mode)) {
    return fail(at, "'" + name + "' is a folder", "a file");
  }
  std::string content;
  char block[65536];
  for (;;) {
    const auto got = ::read(file.fd, block, sizeof block);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return fail(at, "'" + name + "': " + reason(errno), "a file that can be read");
    if (got == 0) break;
    content.append(block, static_cast<std::size_t>(got));
    if (content.size() > most) {
      return fail(at, fmt::format("'{}' is over {} kB", name, most / 1024), "a file of that size at most");
    }
  }
  return content;
}

Result<bool> write_file(const std::string& name, const std::string& content) {
  // A device or pipe cannot be renamed over; write straight into it.
  struct stat info {};
  const bool special = ::stat(name.c_str(), &info) == 0 && !S_ISREG(info.st_mode);
  const std::string temporary = special ? name : Temporary::name_for(name);
  Temporary watched;
  const auto problem = [&](int number) {
    if (!special) ::unlink(temporary.c_str());
    return fail({name}, reason(number), "a place that can be written to");
  };
  {
    if (!special) watched.watch(temporary);
    Descriptor file{::open(temporary.c_str(),
                           special ? O_WRONLY | O_CLOEXEC : O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666)};
    if (file.fd < 0) return fail({name}, reason(errno), "a place that can be written to");
    if (!special) Temporary::lock(file.fd);
    std::size_t done = 0;
    while (done < content.size()) {
      const auto put = ::write(file.fd, content.data() + done, content.size() - done);
      if (put < 0 && errno == EINTR) continue;
      if (put < 0) return problem(errno);
      done += static_cast<std::size_t>(put);
    }
    if (!special && ::fsync(file.fd) != 0 && errno != EINVAL) return problem(errno);
    const int fd = file.fd;
    file.fd = -1;
    if (::close(fd) != 0) return problem(errno);
  }
  if (!special && std::rename(temporary.c_str(), name.c_str()) != 0) return problem(errno);
  return true;
}

}  // namespace skerry::cli
