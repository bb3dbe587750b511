// Paths written by steps.

#include <cmath>
#include <cstdlib>

#include "skerry/core/text.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

/// A number of tenths: "12.3", "-.5", "7".
std::string tenths(long n) {
  const long size = std::labs(n);
  std::string out = n < 0 ? "-" : "";
  if (size >= 10 || size == 0) out += std::to_string(size / 10);
  if (size % 10 != 0) out += "." + std::to_string(size % 10);
  return out;
}

/// With a blank where the sign does not tell it from the number before.
void add_pair(std::string& out, long x, long y) {
  out += tenths(x);
  const auto second = tenths(y);
  if (second.front() != '-') out += ' ';
  out += second;
}

}  // namespace

std::string short_path(const std::string& path) {
  std::string out;
  long x = 0, y = 0, first_x = 0, first_y = 0;
  const char* at = path.c_str();
  const auto number = [&] {
    while (*at == ' ' || *at == ',') ++at;
    const char* const begin = at;
    if (*at == '-') ++at;
    while (*at == '.' || (*at >= '0' && *at <= '9')) ++at;
    return std::lround(to_number({begin, static_cast<std::size_t>(at - begin)}).value_or(0) * 10);
  };
  while (*at != '\0') {
    const char what = *at++;
    if (what == 'M') {
      first_x = x = number();
      first_y = y = number();
      add_pair(out += 'M', x, y);
    } else if (what == 'L') {
      const long to_x = number(), to_y = number();
      if (to_x != x || to_y != y) add_pair(out += 'l', to_x - x, to_y - y);
      x = to_x;
      y = to_y;
    } else if (what == 'H') {
      const long to = number();
      out += "h" + tenths(to - x);
      x = to;
    } else if (what == 'V') {
      const long to = number();
      out += "v" + tenths(to - y);
      y = to;
    } else if (what == 'Z') {
      out += 'Z';
      x = first_x;
      y = first_y;
    } else if (what != ' ') {
      return path;
    }
  }
  return out;
}

}  // namespace skerry::page
