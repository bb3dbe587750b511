#include "open_files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <io.h>
#include <windows.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <tuple>
#include <vector>

#include "skerry/os/files.hpp"
#include "temporary.hpp"

namespace skerry::os {

namespace {

namespace fs = std::filesystem;

/// A file whatever it is called.
using Identity = std::tuple<DWORD, DWORD, DWORD>;

WasRead<Identity>& what_was_read() {
  static WasRead<Identity> all;
  return all;
}

/// Nothing of a pipe or device.
std::vector<Identity> identity_of(int file) {
  BY_HANDLE_FILE_INFORMATION info{};
  if (GetFileInformationByHandle(reinterpret_cast<HANDLE>(_get_osfhandle(file)), &info) == 0) return {};
  return {{info.dwVolumeSerialNumber, info.nFileIndexHigh, info.nFileIndexLow}};
}

/// A descriptor of a file that others may read and remove meanwhile; -1 with errno.
int open_shared(const std::string& name, DWORD access, DWORD way) {
  const HANDLE handle =
      CreateFileW(path_of(name).c_str(), access, FILE_SHARE_READ | FILE_SHARE_WRITE | FILE_SHARE_DELETE,
                  nullptr, way, FILE_ATTRIBUTE_NORMAL, nullptr);
  if (handle == INVALID_HANDLE_VALUE) {
    switch (GetLastError()) {
      case ERROR_FILE_NOT_FOUND:
      case ERROR_PATH_NOT_FOUND:
        errno = ENOENT;
        break;
      case ERROR_FILE_EXISTS:
        errno = EEXIST;
        break;
      default:
        errno = EACCES;
    }
    return -1;
  }
  return _open_osfhandle(reinterpret_cast<intptr_t>(handle), _O_BINARY);
}

}  // namespace

InFile InFile::open(const std::string& name) {
  std::error_code problem;
  if (fs::is_directory(path_of(name), problem)) {
    errno = EISDIR;
    return InFile(-1);
  }
  InFile out(name == standard_input ? _dup(0) : open_shared(name, GENERIC_READ, OPEN_EXISTING));
  if (!out) return out;
  for (const auto& identity : identity_of(out.file_)) what_was_read().add(identity);
  return out;
}

long InFile::read(char* into, std::size_t most) {
  return _read(file_, into, static_cast<unsigned>(most));
}

void InFile::close() {
  if (file_ >= 0) _close(std::exchange(file_, -1));
}

void forget_what_was_read() {
  what_was_read().forget();
}

Result<OutFile> OutFile::open(const std::string& name, Onto onto) {
  OutFile out;
  out.name_ = without_links(name);
  std::error_code problem;
  const auto path = path_of(out.name_);
  const bool there = fs::exists(path, problem);
  if (there && fs::is_directory(path, problem)) {
    errno = EISDIR;
    return cannot_write(name);
  }
  // A device or pipe cannot be renamed over; write straight into it.
  if (there && !fs::is_regular_file(path, problem)) {
    out.file_ = open_shared(name, GENERIC_WRITE, OPEN_EXISTING);
    if (out.file_ < 0) return cannot_write(name);
    return out;
  }
  if (there) {
    const int old = open_shared(out.name_, GENERIC_WRITE, OPEN_EXISTING);
    if (old < 0) return cannot_write(name);
    const auto identity = identity_of(old);
    _close(old);
    if (onto == Onto::another && !identity.empty() && what_was_read().has(identity.front()))
      return fail({name}, "the file that was read", "another name for the answer",
                  "it would take the place of what it was made from");
  }
  const auto temporary = temporary_name(out.name_);
  remove_on_signals(temporary);
  out.file_ = open_shared(temporary, GENERIC_WRITE | DELETE, CREATE_NEW);
  if (out.file_ < 0) {
    keep_on_signals();
    return cannot_write(name);
  }
  out.temporary_ = temporary;
  return out;
}

OutFile::~OutFile() {
  if (file_ >= 0) _close(file_);
  if (temporary_.empty()) return;
  std::error_code problem;
  fs::remove(path_of(temporary_), problem);
  keep_on_signals();
}

Result<bool> OutFile::put(std::string_view text) {
  while (!text.empty()) {
    const auto part = text.substr(0, 1U << 20U);
    const int put = _write(file_, part.data(), static_cast<unsigned>(part.size()));
    if (put < 0) return cannot_write(name_);
    text.remove_prefix(static_cast<std::size_t>(put));
  }
  return true;
}

Result<bool> OutFile::finish() {
  if (_commit(file_) != 0 && errno != EBADF && errno != EINVAL) return cannot_write(name_);
  if (_close(std::exchange(file_, -1)) != 0) return cannot_write(name_);
  if (temporary_.empty()) return true;
  std::error_code problem;
  fs::rename(path_of(temporary_), path_of(name_), problem);
  if (problem) {
    errno = problem.default_error_condition().value();
    return cannot_write(name_);
  }
  temporary_.clear();
  keep_on_signals();
  return true;
}

// A folder cannot be locked here: a mutex of its name stands for it, and goes with the process that has it.
Result<FolderLock> FolderLock::take(const std::string& file, Patience patience,
                                    const std::function<void()>& waiting) {
  const auto folder = path_of(without_links(file)).parent_path();
  std::error_code problem;
  std::wstring name = fs::canonical(folder.empty() ? fs::path(".") : folder, problem).wstring();
  if (problem) {
    errno = ENOENT;
    return cannot_write(file);
  }
  std::replace(name.begin(), name.end(), L'\\', L'/');
  const HANDLE mutex = CreateMutexW(nullptr, FALSE, (L"Local\\skerry " + name).c_str());
  // Source: Microsoft, "Interprocess communication between 32-bit and 64-bit applications": handles have 32
  // significant bits.
  FolderLock out(mutex == nullptr ? -1 : static_cast<int>(reinterpret_cast<intptr_t>(mutex)));
  if (mutex == nullptr) return out;  // no locks here
  const auto milliseconds = [](auto time) { return static_cast<DWORD>(time.count()); };
  if (WaitForSingleObject(mutex, milliseconds(patience.quiet)) != WAIT_TIMEOUT) return out;
  waiting();
  if (WaitForSingleObject(mutex, milliseconds(patience.most - patience.quiet)) != WAIT_TIMEOUT) return out;
  return fail({file},
              fmt::format("a file that another program has been changing for {:g} s",
                          std::chrono::duration<double>(patience.most).count()),
              "one that nobody else is changing", "try again when that program has ended");
}

FolderLock::~FolderLock() {
  if (folder_ < 0) return;
  const auto mutex = reinterpret_cast<HANDLE>(static_cast<intptr_t>(folder_));
  ReleaseMutex(mutex);
  CloseHandle(mutex);
}

}  // namespace skerry::os
