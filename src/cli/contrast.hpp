// The contrast page's question, and pictures written into a folder.
// Layer: cli (internal).
#pragma once

#include <string>
#include <vector>

#include "skerry/page/pictures.hpp"
#include "skerry/words/contrast.hpp"

namespace skerry::cli {

/// "month=2027-08", "r12=140", "power=100", "antenna=6", "hour=6,18": the question twice, all but that alike.
[[nodiscard]] words::Contrast contrast_of(const circuit::PathQuestion& question, const std::string& asked);

/// The folder, made if it is not there; Stop where that cannot be.
void write_pictures(const std::string& folder, const std::vector<page::NamedPicture>& pictures);

}  // namespace skerry::cli
