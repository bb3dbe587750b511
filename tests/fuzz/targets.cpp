#include "targets.hpp"

#include <array>

namespace skerry::fuzz {

std::span<const Target> targets() {
  static constexpr std::array<Target, 9> all{{{"trip", trip},
                                              {"region", region},
                                              {"horizon", horizon},
                                              {"forecast", forecast},
                                              {"places", places},
                                              {"batch", batch},
                                              {"geometry", geometry},
                                              {"tables", tables},
                                              {"arguments", arguments}}};
  return all;
}

}  // namespace skerry::fuzz
