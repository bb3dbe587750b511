#include "skerry/core/result.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <cstdlib>

#include "skerry/core/text.hpp"

namespace skerry {

std::string Error::to_line() const {
  std::string line;
  if (!where.file.empty()) {
    line = one_line(where.file, 200);
    if (where.line > 0) line += fmt::format(":{}", where.line);
    if (where.line > 0 && where.column > 0) line += fmt::format(":{}", where.column);
    line += ": ";
  }
  line += "found " + one_line(found, 160);
  if (!accepted.empty()) line += "; expected " + one_line(accepted, 400);
  if (!mend.empty()) line += "; " + one_line(mend, 300);
  return line;
}

void our_bug(const std::string& what) {
  std::fprintf(stderr, "skerry: internal error: %s\n", what.c_str());
  std::abort();
}

}  // namespace skerry
