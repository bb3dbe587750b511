#include "skerry/os/surroundings.hpp"

#include <chrono>

namespace skerry::os {

UtcTime now() {
  return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
}

}  // namespace skerry::os
