// One line of `skerry batch`: a question in JSON, about a path or a trip, and its answer or what is wrong with it.
// Layer: engine. Sees everything above it but os.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "skerry/circuit/path_answer.hpp"
#include "skerry/core/result.hpp"
#include "skerry/engine/session.hpp"
#include "skerry/forms/pack_columns.hpp"
#include "skerry/forms/path_columns.hpp"
#include "skerry/forms/path_line.hpp"

namespace skerry::engine {

/// Longest line taken, without its line break. Judgement: a request with 100 frequencies has 2 kB.
inline constexpr std::size_t most_line_bytes = 64U << 10U;

struct Request {
  std::string id_json;  ///< as it was written, without blanks; empty: none given (or not readable)
  circuit::PathQuestion question;
  forms::LineOptions options;
};

/// Reads a request. `id_json` is filled as soon as the id is known, so that an error can carry it too.
/// Errors have the key in where.file.
[[nodiscard]] Checked<Request> read_request(std::string_view line, std::string& id_json);

/// The error as one line of JSON:
/// {"id":...,"error":"...","line":N,"where":...,"found":...,"accepted":...,"hint":...}; of several mistakes
/// the first, and "more" with their number.
[[nodiscard]] std::string error_line(const std::vector<Error>& errors, std::size_t line_number,
                                     const std::string& id_json);

/// What lines that ask what to pack may reach: as it stands, no file. Called from any thread.
struct TripFiles {
  /// A trip file's text.
  std::function<Result<std::string>(const std::string& name, const Where& where)> text;
  /// What the trip file of a name may read.
  std::function<Surroundings(const std::string& name)> beside;
};

/// How lines are answered.
struct LineForm {
  const forms::PathTable* paths = nullptr;  ///< its rows instead of JSON
  const forms::PackTable* packs = nullptr;  ///< likewise; either makes an error one line of plain text
  TripFiles trips;
};

/// Answer or error; never throws for what a line may hold. A line with "do": "pack" is Session's message of that name,
/// with a trip file's text or name under "trip"; its answer is skerry.pack/1 on one line, with "id", and with
/// "warnings" where there are any. Any other line asks about a path.
///   good   gets whether the line could be answered
[[nodiscard]] std::string answer_line(std::string_view line, std::size_t line_number,
                                      const LineForm& form = {}, bool* good = nullptr);

}  // namespace skerry::engine
