// The fan of rays of one cell of a trip's page.
// Layer: engine (internal).
#pragma once

#include "skerry/advice/advise.hpp"
#include "skerry/circuit/traced.hpp"

namespace skerry::engine {

/// From a site to a region's largest group of people, with the lobe of the antenna that serves them then, or a usual home
/// antenna's. All are indices of the trip (asserted); hour 0..23.
[[nodiscard]] circuit::FanAnswer fan_of(const kit::Trip& trip, const advice::Advice& advice, std::size_t site,
                                        std::size_t target, int hour, std::size_t band);

}  // namespace skerry::engine
