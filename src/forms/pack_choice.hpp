// What the choice trades against what, and how it stands under other conditions: a part of skerry.pack/1.
// Layer: forms (internal).
#pragma once

#include "common.hpp"
#include "skerry/advice/advise.hpp"

namespace skerry::forms {

[[nodiscard]] Json one_kit_json(const advice::Advice& a, const choose::Choice& kit);
[[nodiscard]] Json firmness_json(const kit::Trip& trip, const advice::Advice& a);
void add_choice_json(Json& out, const kit::Trip& trip, const advice::Advice& a);

}  // namespace skerry::forms
