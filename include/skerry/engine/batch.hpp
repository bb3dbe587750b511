// One line of `skerry batch`: a question in JSON, and its answer or what is wrong with it, in JSON again.
// Layer: engine. Sees everything above it but os.
#pragma once

#include <string>
#include <string_view>

#include "skerry/circuit/path_answer.hpp"
#include "skerry/core/result.hpp"
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

/// Answer or error; never throws for what a line may hold.
///   table  its rows instead of an answer in JSON; then an error is one line of plain text
///   good   gets whether the line could be answered
[[nodiscard]] std::string answer_line(std::string_view line, std::size_t line_number,
                                      const forms::PathTable* table = nullptr, bool* good = nullptr);

}  // namespace skerry::engine
