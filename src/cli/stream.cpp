#include "stream.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>

#include "progress.hpp"

namespace skerry::cli {

Stream::Stream(const Common& common, World& world) : world_(world), name_(common.output) {
  if (name_.empty()) return;
  // A device or pipe cannot be renamed over; write straight into it.
  struct stat info {};
  const bool special = ::stat(name_.c_str(), &info) == 0 && !S_ISREG(info.st_mode);
  if (!special) {
    temporary_ = Temporary::name_for(name_);
    watched_.watch(temporary_);
  }
  file_ = special ? ::open(name_.c_str(), O_WRONLY | O_CLOEXEC)
                  : ::open(temporary_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (file_ < 0) {
    temporary_.clear();
    stop(errno);
  }
  if (!special) Temporary::lock(file_);
}

Stream::~Stream() {
  if (file_ >= 0) ::close(file_);
  if (!temporary_.empty()) ::unlink(temporary_.c_str());
}

void Stream::stop(int error_number) {
  Error error;
  error.where.file = name_;
  error.found = std::strerror(error_number);
  error.accepted = "a place that can be written to";
  give_up(std::move(error));
}

bool Stream::put(std::string_view text) {
  if (name_.empty()) {
    // Two writers on one screen would mix their lines.
    if (world_.out_is_terminal && world_.progress != nullptr) world_.progress->end();
    world_.out << text;
    return !world_.flush || world_.flush();
  }
  while (!text.empty()) {
    const auto put = ::write(file_, text.data(), text.size());
    if (put < 0 && errno == EINTR) continue;
    if (put < 0) stop(errno);
    text.remove_prefix(static_cast<std::size_t>(put));
  }
  return true;
}

void Stream::finish() {
  if (name_.empty()) return;
  if (!temporary_.empty() && ::fsync(file_) != 0 && errno != EINVAL) stop(errno);
  const int file = file_;
  file_ = -1;
  if (::close(file) != 0) stop(errno);
  if (temporary_.empty()) return;
  if (std::rename(temporary_.c_str(), name_.c_str()) != 0) stop(errno);
  temporary_.clear();
  watched_.forget();
}

}  // namespace skerry::cli
