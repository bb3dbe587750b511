#include "skerry/core/csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "skerry/core/text.hpp"

namespace skerry {

namespace {

/// Judgement: tables of people have tens of columns.
constexpr std::size_t most_columns = 1000;

}  // namespace

std::optional<std::size_t> CsvHead::column(std::initializer_list<std::string_view> names) const {
  for (const auto name : names) {
    const auto at = std::find(header.begin(), header.end(), name);
    if (at != header.end()) return static_cast<std::size_t>(at - header.begin());
  }
  return std::nullopt;
}

/// Passes over comments and empty lines.
void CsvReader::skip_lines() {
  while (at_ < text_.size()) {
    const auto end = std::min(text_.find('\n', at_), text_.size());
    const auto whole = trim(text_.substr(at_, end - at_));
    if (!whole.empty() && whole.front() != '#') return;
    at_ = end + 1;
    ++line_;
  }
}

void CsvReader::record(std::vector<std::string>& cells) {
  std::size_t count = 0;
  for (;;) {
    if (count == cells.size()) cells.emplace_back();
    cell(cells[count]);
    if (count < most_columns) ++count;
    if (at_ >= text_.size() || text_[at_] != ',') break;
    ++at_;
  }
  cells.resize(count);
  if (at_ < text_.size() && text_[at_] == '\r') ++at_;
  if (at_ < text_.size() && text_[at_] == '\n') {
    ++at_;
    ++line_;
  }
}

void CsvReader::cell(std::string& out) {
  auto start = at_;
  while (start < text_.size() && (text_[start] == ' ' || text_[start] == '\t')) ++start;
  if (start < text_.size() && text_[start] == '"') {
    at_ = start + 1;
    return quoted(out);
  }
  const auto end = std::min(text_.find_first_of(",\r\n", at_), text_.size());
  out = trim(text_.substr(at_, end - at_));
  at_ = end;
}

void CsvReader::quoted(std::string& out) {
  out.clear();
  while (at_ < text_.size()) {
    const char c = text_[at_++];
    if (c == '\n') ++line_;
    if (c != '"') {
      out += c;
    } else if (at_ < text_.size() && text_[at_] == '"') {
      out += '"';
      ++at_;
    } else {
      at_ = std::min(text_.find_first_of(",\r\n", at_), text_.size());
      return;
    }
  }
  unclosed_ = true;
}

Result<CsvReader> CsvReader::open(std::string_view text, const std::string& file, std::size_t most) {
  if (text.size() > most)
    return fail({file}, std::to_string(text.size() >> 20U) + " MB",
                "at most " + std::to_string(most >> 20U) + " MB");
  if (const auto encoded = check_encoding(text, {file}); !encoded) return tl::unexpected(encoded.error());
  if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
  CsvReader reader(text, file);
  reader.skip_lines();
  const Where where{file, reader.line_, 1};
  if (reader.at_ >= text.size())
    return fail(where, "no header", "a first line with the names of the columns");
  auto& header = reader.head_.header;
  reader.record(header);
  if (header.size() == most_columns)
    return fail(where, "a thousand columns or more", "a table of fewer columns");
  if (header.size() == 1) {
    for (const auto& [other, called] : {std::pair(';', "semicolons"), std::pair('\t', "tabs")}) {
      if (header[0].find(other) != std::string::npos)
        return fail(where, fmt::format("columns parted by {}", called),
                    "columns parted by commas, points in numbers (RFC 4180)",
                    "save it again as CSV with commas: some programs part by the country's settings");
    }
  }
  std::set<std::string> seen;
  for (auto& name : header) {
    name = lower(trim(name));
    if (!name.empty() && !seen.insert(name).second)
      return fail(where, "column '" + one_line(name) + "' twice", "each column once");
  }
  return reader;
}

Result<bool> CsvReader::next(CsvRow& row) {
  skip_lines();
  if (at_ >= text_.size()) return false;
  row.line = line_;
  record(row.cells);
  if (unclosed_)
    return fail({file_, row.line, 1}, "a quote that is never closed", "text in pairs of quotes (RFC 4180)");
  return true;
}

Result<CsvTable> parse_csv(std::string_view text, const std::string& file, std::size_t most) {
  auto reader = CsvReader::open(text, file, most);
  if (!reader) return tl::unexpected(std::move(reader.error()));
  CsvTable out;
  out.header = reader->head().header;
  for (CsvRow row;;) {
    const auto more = reader->next(row);
    if (!more) return tl::unexpected(more.error());
    if (!*more) return out;
    out.rows.push_back(row);
  }
}

}  // namespace skerry
