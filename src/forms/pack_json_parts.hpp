// The parts of skerry.pack/1 that tell of the trade-off.
// Layer: forms (internal). Sees pack.hpp.
#pragma once

#include "json_common.hpp"
#include "skerry/words/pack.hpp"

namespace skerry::forms {

[[nodiscard]] Json pack_sets_json(const kit::Trip& trip, const advice::BatteryPlan& plan);
[[nodiscard]] Json what_if_json(const advice::Advice& a, const advice::WhatIf& what_if);
/// Adds the keys people, practice, frontier, more_mass, single_antenna, variants, uncertainty, band_pairs,
/// bags.
void add_choice_json(Json& out, const kit::Trip& trip, const advice::Advice& a);

}  // namespace skerry::forms
