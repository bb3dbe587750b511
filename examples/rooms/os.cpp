// A file that is there whole or not at all.
#include <fmt/format.h>

#include "skerry/os/files.hpp"

int main() {
  using namespace skerry;
  const std::string name = "skerry_example_os.txt";
  const auto written = os::write_file(name, "to be packed");
  if (!written) {
    fmt::print("{}\n", written.error().to_line());
    return 1;
  }
  const auto read = os::read_file(name, 1000, {});
  fmt::print("written and read: {} bytes\n", read ? read->size() : 0);
}
