// The published JSON Schemas of our JSON answers.
// Layer: forms. Sees core only.
#pragma once

#include <string>
#include <vector>

namespace skerry::forms {

/// "antenna", "batch", "ionosphere", ... in alphabetical order.
[[nodiscard]] const std::vector<std::string>& schema_names();
/// The text of one of them; name must be known (asserted). JSON Schema 2020-12.
[[nodiscard]] std::string schema_text(const std::string& name);

}  // namespace skerry::forms
