// A conversation about one trip, for a page: questions in, answers out, both JSON; what was computed is kept.
// Layer: engine. Sees everything above it but os.
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>

#include "skerry/advice/advise.hpp"
#include "skerry/files/trip_file.hpp"

namespace skerry::engine {

/// What a conversation may reach besides its messages. As it stands: nothing.
struct Surroundings {
  files::FileReader read;        ///< what a trip names and "files" does not hold; empty: none of it
  files::TerrainReader terrain;  ///< elevation files that a trip names; empty: none
  choose::Stop stop = advice::AdviceOptions{}.stop;  ///< of `pack`: may end the search early
  std::size_t most_bytes = 16U << 20U;  ///< of a message. Judgement: a trip of 1 MB, escaped, and its files
};

/// Same messages, same bytes: no clock, no file, no locale. Not for several threads at once.
///
/// A message is a JSON object with "do" and, if wanted, "id" (anything; comes back). An answer is an object with
/// "ok": true and what is said below, or with "ok": false, "error": the mistakes as the program prints them, a line
/// each, and "errors": list of {"where", "line", "column", "found", "accepted", "mend"}.
///
///   {"do": "open", "trip": TOML}  reads the trip and decides. "files": {NAME: CONTENT} is what the trip names.
///       "parts": page::quick_parts by their names; "facts": {"name", "reach" (0..1), "mass_g", "limit_g", "proved",
///       "carried", "left" (ids)}
///   {"do": "change", "limit_g", "must_go", "not_mine" (ids), "set": {"power_w", "r12", "date"}}  decides again under
///       all that is named, and nothing else: what is absent is as the trip file has it. Of "set", power is every
///       rig's, and the date the first day's. Ids that are unknown are passed over.
///       "parts", "facts", "said": page::change_text against the answer before
///   {"do": "rest"}  completes the last answer (firmness, remedies, pictures). "parts": all, "facts", "data":
///       page::page_json
///   {"do": "rays", "way", "hour", "band"}  one cell of the page by its numbers (way: sites times regions). "svg": the fan of
///       rays as page::rays_drawing has it, "text": where nothing comes down and what arrives
///   {"do": "save"}  "trip": the trip file with the changes written in, its comments kept; what is not mine stays in
///   {"do": "pack" | "explain" | "antenna", "trip": TOML, "set" (as of "change", of pack and explain), "name": what mistakes call it, ...}, {"do": "path",
///       "question": {...}}, {"do": "sun" | "ionosphere", "at": PLACE, ...}, {"do": "score", "spots" | "hours" |
///       "ionosonde": CSV, ...}  "text": what the commands print; their options as keys, "format" and "columns". `path`
///       takes the keys of `batch`; a place may be a name. "warnings": what the commands say beside it, if anything
class Session {
 public:
  explicit Session(Surroundings around = {});
  ~Session();
  Session(Session&&) noexcept;
  Session& operator=(Session&&) noexcept;

  [[nodiscard]] std::string answer(std::string_view message);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace skerry::engine
