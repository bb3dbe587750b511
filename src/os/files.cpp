#include "skerry/os/files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstring>

#include "open_files.hpp"
#include "skerry/core/text.hpp"

namespace skerry::os {

namespace {

/// Judgement: outlines and forecasts have kilobytes; their own readers take no more.
constexpr std::size_t most_ordinary_bytes = 8U << 20U;

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

tl::unexpected<Error> cannot_write(const std::string& name) {
  return fail({name}, std::strerror(errno), "a place that can be written to");
}

std::string without_links(const std::string& name) {
  // Source: Linux follows as many (path_resolution(7)).
  constexpr int most_links = 40;
  std::filesystem::path at = path_of(name);
  std::error_code problem;
  for (int i = 0; i < most_links && std::filesystem::is_symlink(at, problem); ++i) {
    const auto target = std::filesystem::read_symlink(at, problem);
    if (problem) break;
    at = at.parent_path() / target;
  }
  return at.string();
}

std::filesystem::path path_of(std::string_view name) {
  return std::u8string(name.begin(), name.end());
}

std::string shown_name(const std::string& name) {
  return name == standard_input ? "standard input" : name;
}

Result<std::string> read_file(const std::string& name, std::size_t most, const Where& where) {
  const Where at{where.file.empty() ? shown_name(name) : where.file, where.line, where.column};
  const auto unreadable = [&] {
    if (errno == EISDIR) return fail(at, "'" + name + "' is a folder", "a file");
    return fail(at, "'" + name + "': " + std::strerror(errno), "a file that can be read");
  };
  auto file = InFile::open(name);
  if (!file) return unreadable();
  std::string content;
  char block[65536];
  for (;;) {
    const auto got = file.read(block, sizeof block);
    if (got < 0) return unreadable();
    if (got == 0) return content;
    content.append(block, static_cast<std::size_t>(got));
    if (content.size() > most)
      return fail(at, fmt::format("'{}' is over {} kB", name, most / 1024), "a file of that size at most");
  }
}

Result<std::string> read_ordinary(const std::string& name, const std::string& shown, const Where& where) {
  std::error_code problem;
  const auto status = std::filesystem::status(path_of(name), problem);
  if (std::filesystem::exists(status) && !std::filesystem::is_regular_file(status) &&
      !std::filesystem::is_directory(status))
    return fail(where, "'" + shown + "'", "an ordinary file",
                "a pipe or device could keep the reader waiting");
  return read_file(name, most_ordinary_bytes, where);
}

namespace {

/// The name of a file that another file names, if it may be followed.
Result<std::string> beside(const std::string& named_by, const std::string& wanted, const Where& where,
                           bool outside) {
  const auto path = path_of(wanted);
  const auto folder = path_of(named_by).parent_path();
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
  return whole.string();
}

}  // namespace

Result<std::string> read_beside(const std::string& named_by, const std::string& wanted, const Where& where,
                                bool outside) {
  const auto whole = beside(named_by, wanted, where, outside);
  return whole ? read_ordinary(*whole, wanted, where) : whole;
}

Result<std::vector<std::string>> files_in(const std::string& name, const Where& where) {
  namespace fs = std::filesystem;
  // Judgement: no folder of one purpose has more.
  constexpr std::size_t most = 10000;
  std::error_code problem;
  if (fs::is_regular_file(path_of(name), problem)) return std::vector{name};
  std::vector<std::string> out;
  for (fs::directory_iterator at(path_of(name), problem), end; !problem && at != end; at.increment(problem)) {
    std::error_code unknown;
    if (at->is_regular_file(unknown)) out.push_back(at->path().string());
    if (out.size() > most)
      return fail(where, fmt::format("over {} files in '{}'", most, name), "a folder with fewer");
  }
  if (problem)
    return fail(where, "'" + name + "': " + problem.message(), "a folder or file that can be read");
  std::sort(out.begin(), out.end());
  return out;
}

Result<std::vector<std::string>> files_beside(const std::string& named_by, const std::string& wanted,
                                              const Where& where, bool outside) {
  const auto whole = beside(named_by, wanted, where, outside);
  if (!whole) return tl::unexpected(whole.error());
  auto all = files_in(*whole, where);
  if (!all || outside) return all;
  for (const auto& file : *all) {
    // Links inside the folder lead nowhere else either.
    if (!lies_within(path_of(file), path_of(named_by).parent_path()))
      return fail(where, "'" + file + "'", "a file in the trip's folder or below it",
                  "it is a link out of that folder; --allow-outside takes the whole file system");
  }
  return all;
}

bool exists(const std::string& name) {
  std::error_code problem;
  return std::filesystem::exists(path_of(name), problem);
}

Result<bool> make_folder(const std::string& name, const Where& where) {
  namespace fs = std::filesystem;
  std::error_code problem;
  fs::create_directories(path_of(name), problem);
  if (problem || !fs::is_directory(path_of(name), problem))
    return fail(where, "'" + one_line(name) + "'" + (problem ? ": " + problem.message() : ""),
                "a folder that can be written to");
  return true;
}

Result<bool> write_file(const std::string& name, std::string_view content, Onto onto) {
  auto file = OutFile::open(name, onto);
  if (!file) return tl::unexpected(file.error());
  if (const auto put = file->put(content); !put) return put;
  return file->finish();
}

}  // namespace skerry::os
