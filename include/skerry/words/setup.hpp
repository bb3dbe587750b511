// Setups in words: what they are called, how they stand, and why others cannot be.
// Layer: words. Sees everything above it.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "skerry/advice/advise.hpp"

namespace skerry::words {

/// "top 1.2 m bent over"
[[nodiscard]] std::string note_text(const antenna::Note& note);
/// Several, each text once: "; " between them.
[[nodiscard]] std::string notes_text(const std::vector<antenna::Note>& notes);
/// "cannot be matched: SWR 31 at the tuner, which reaches 10"
[[nodiscard]] std::string unfit_text(const advice::Unfit& why);
/// "ground", "coil", ...
[[nodiscard]] const char* loss_name(antenna::Loss::In in);
/// "transformer 1:49"
[[nodiscard]] std::string step_name(const antenna::ChainStep& step);

/// "end-fed wire as inverted V on the 6 m pole with the 10 W rig"
[[nodiscard]] std::string setup_label(const kit::Trip& trip, const kit::Setup& setup);
[[nodiscard]] std::string setup_label(const kit::Trip& trip, const advice::Advice& advice, int setup);
/// The same for advice::question_of(). The trip must outlive it.
[[nodiscard]] std::function<std::string(const kit::Setup&)> setup_namer(const kit::Trip& trip);

/// "as inverted V", "upright"
[[nodiscard]] std::string shape_text(antenna::Shape shape);
/// "20 m end-fed wire, cut to 19.6 m: serves 15m and 10m"
[[nodiscard]] std::string remedy_text(const kit::Trip& trip, const advice::Remedy& remedy);

/// How it hangs and which bands are refused, each thing once with the bands it is said of in front (unless
/// that is all of them); what it lacks.
///   tuner_last  of a setup of advise(): the bands that match with a tuner and not without are told in one
///               line, the last, and nothing of those that are off resonance by their length
[[nodiscard]] std::vector<std::string> setup_notes(const kit::Trip& trip, const kit::Setup& setup,
                                                   bool tuner_last = false);

/// What cannot be, and why.
struct CannotBe {
  std::string what, why;
};
/// None twice.
[[nodiscard]] std::vector<CannotBe> cannot_be(const kit::Trip& trip, const kit::Setups& setups);
/// Setups, bands, things and rigs.
[[nodiscard]] std::vector<CannotBe> cannot_be(const kit::Trip& trip, const advice::Advice& advice);

}  // namespace skerry::words
