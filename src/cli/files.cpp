#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>

#include "options.hpp"

namespace skerry::cli {

namespace {

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

}  // namespace

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
  const std::string temporary = special ? name : fmt::format("{}.part-{}", name, ::getpid());
  const auto problem = [&](int number) {
    if (!special) ::unlink(temporary.c_str());
    return fail({name}, reason(number), "a place that can be written to");
  };
  {
    Descriptor file{::open(temporary.c_str(),
                           special ? O_WRONLY | O_CLOEXEC : O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666)};
    if (file.fd < 0) return fail({name}, reason(errno), "a place that can be written to");
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
