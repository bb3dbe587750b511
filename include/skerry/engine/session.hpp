// A conversation about one trip, for a page: questions in, answers out, both JSON; what was computed is kept.
// Layer: engine. Sees everything above it but after and os.
#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace skerry::engine {

/// Same messages, same bytes: no clock, no file, no locale. Not for several threads at once.
///
/// A message is a JSON object with "do" and, if wanted, "id" (anything; comes back). An answer is an object with
/// "ok": true and
///   "parts"  object of HTML fragments by name, made by room page
///   "facts"  object of numbers and names (below)
/// or with "ok": false and "errors": list of {"where", "line", "column", "found", "accepted", "mend", "text"}, text
/// being all of it in one line as the program prints it.
///
///   {"do": "open", "trip": TOML}  reads the trip and decides. "files": {NAME: CONTENT} is what the trip names.
///
/// facts: "name", "reach" (share, 0..1), "mass_g", "limit_g", "carried" and "left" (lists of ids).
class Session {
 public:
  Session();
  ~Session();
  Session(Session&&) noexcept;
  Session& operator=(Session&&) noexcept;

  [[nodiscard]] std::string answer(std::string_view message);

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace skerry::engine
