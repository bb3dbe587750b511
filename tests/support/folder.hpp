// A folder of a test's own, gone at its end, and files read whole.
#pragma once

#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <string>

namespace skerry::test {

struct Folder {
  std::filesystem::path path;
  explicit Folder(const std::string& name)
      : path(std::filesystem::temp_directory_path() / ("skerry-" + name + "-" + std::to_string(::getpid()))) {
    std::filesystem::create_directories(path);
  }
  ~Folder() { std::filesystem::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  /// Of all files in it.
  [[nodiscard]] std::set<std::string> names() const {
    std::set<std::string> out;
    for (const auto& entry : std::filesystem::directory_iterator(path))
      out.insert(entry.path().filename().string());
    return out;
  }
  [[nodiscard]] std::string file(const std::string& name) const { return (path / name).string(); }
};

inline std::string read(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace skerry::test
