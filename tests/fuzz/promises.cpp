#include "promises.hpp"

#include <cstdio>
#include <cstdlib>

namespace skerry::fuzz {

void broken(std::string_view promise) {
  std::fprintf(stderr, "promise broken: %.*s\n", static_cast<int>(promise.size()), promise.data());
  std::abort();
}

}  // namespace skerry::fuzz
