#include "skerry/core/csv.hpp"

#include <algorithm>
#include <set>

#include "skerry/core/text.hpp"

namespace skerry {

namespace {

class Scanner {
 public:
  explicit Scanner(std::string_view text) : text_(text) {}
  [[nodiscard]] bool done() const { return at_ >= text_.size(); }
  [[nodiscard]] int line() const { return line_; }
  [[nodiscard]] bool unclosed() const { return unclosed_; }

  /// Passes over comments and empty lines.
  void skip_lines() {
    while (!done()) {
      const auto end = std::min(text_.find('\n', at_), text_.size());
      const auto whole = trim(text_.substr(at_, end - at_));
      if (!whole.empty() && whole.front() != '#') return;
      at_ = end + 1;
      ++line_;
    }
  }

  std::vector<std::string> record() {
    std::vector<std::string> cells;
    for (;;) {
      cells.push_back(cell());
      if (done() || text_[at_] != ',') break;
      ++at_;
    }
    if (!done() && text_[at_] == '\r') ++at_;
    if (!done() && text_[at_] == '\n') {
      ++at_;
      ++line_;
    }
    return cells;
  }

 private:
  std::string cell() {
    auto start = at_;
    while (start < text_.size() && (text_[start] == ' ' || text_[start] == '\t')) ++start;
    if (start < text_.size() && text_[start] == '"') return quoted(start + 1);
    const auto end = std::min(text_.find_first_of(",\r\n", at_), text_.size());
    const auto out = trim(text_.substr(at_, end - at_));
    at_ = end;
    return std::string(out);
  }
  std::string quoted(std::size_t from) {
    std::string out;
    at_ = from;
    while (!done()) {
      const char c = text_[at_++];
      if (c == '\n') ++line_;
      if (c != '"') {
        out += c;
      } else if (!done() && text_[at_] == '"') {
        out += '"';
        ++at_;
      } else {
        at_ = std::min(text_.find_first_of(",\r\n", at_), text_.size());
        return out;
      }
    }
    unclosed_ = true;
    return out;
  }

  std::string_view text_;
  std::size_t at_ = 0;
  int line_ = 1;
  bool unclosed_ = false;
};

}  // namespace

int CsvTable::column(std::initializer_list<std::string_view> names) const {
  for (const auto name : names) {
    const auto at = std::find(header.begin(), header.end(), name);
    if (at != header.end()) return static_cast<int>(at - header.begin());
  }
  return -1;
}

Result<CsvTable> parse_csv(std::string_view text, const std::string& file, std::size_t most) {
  if (text.size() > most)
    return fail({file}, std::to_string(text.size() >> 20U) + " MB",
                "at most " + std::to_string(most >> 20U) + " MB");
  if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
  Scanner scanner(text);
  CsvTable out;
  scanner.skip_lines();
  const int header_line = scanner.line();
  if (scanner.done())
    return fail({file, header_line, 1}, "no header", "a first line with the names of the columns");
  std::set<std::string> seen;
  for (const auto& name : scanner.record()) {
    out.header.push_back(lower(trim(name)));
    if (!out.header.back().empty() && !seen.insert(out.header.back()).second)
      return fail({file, header_line, 1}, "column '" + one_line(out.header.back()) + "' twice",
                  "each column once");
  }
  for (;;) {
    scanner.skip_lines();
    if (scanner.done()) break;
    const int line = scanner.line();
    out.rows.push_back({line, scanner.record()});
    if (scanner.unclosed())
      return fail({file, line, 1}, "a quote that is never closed", "text in pairs of quotes (RFC 4180)");
  }
  return out;
}

}  // namespace skerry
