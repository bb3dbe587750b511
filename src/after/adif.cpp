#include "skerry/after/adif.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "skerry/core/text.hpp"

namespace skerry::after {

namespace {

constexpr std::size_t most_bytes = 64U << 20U;

std::string upper(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return out;
}

class Parser {
 public:
  Parser(std::string_view text, const std::string& file) : text_(text), file_(file) {}

  AdifFile run() {
    if (!text_.empty() && text_.front() != '<') skip_header();
    AdifRecord record;
    while (const auto tag = next_tag()) {
      if (tag->name == "EOR") {
        if (!record.fields.empty()) out_.records.push_back(std::move(record));
        record = {};
        continue;
      }
      if (tag->name == "EOH") {  // a file whose header begins with a tag
        record = {};
        continue;
      }
      if (record.fields.empty()) record.line = line_at(tag->begin);
      if (!tag->length) {
        leave_out(*tag, fmt::format("<{}>", one_line(tag->text)),
                  "<FIELD:LENGTH> with a whole number of bytes");
        record = {};
        continue;
      }
      if (*tag->length > text_.size() - at_) {
        leave_out(
            *tag,
            fmt::format("<{}> with {} bytes to the end of the file", one_line(tag->text), text_.size() - at_),
            "no more bytes than are there");
        record = {};
        continue;
      }
      const auto data = text_.substr(at_, *tag->length);
      if (upper(data).find("<EOR>") != std::string::npos) {
        leave_out(*tag, fmt::format("<{}> that reaches into the next record", one_line(tag->text)),
                  "the length of its own data, in bytes");
        record = {};
        continue;
      }
      at_ += *tag->length;
      record.fields[tag->name] = std::string(trim(data));
    }
    if (!record.fields.empty()) {
      Error error;
      error.where = {file_, record.line, 1};
      error.found = "a last record without <EOR>";
      error.accepted = "<EOR> behind each record";
      error.mend = "left out: the file may be cut off";
      out_.warnings.push_back(std::move(error));
    }
    return std::move(out_);
  }

 private:
  struct Tag {
    std::size_t begin = 0;
    std::string_view text;  ///< between the brackets
    std::string name;
    std::optional<std::size_t> length;
  };

  void skip_header() {
    const auto whole = upper(text_);
    const auto end = whole.find("<EOH>");
    at_ = end == std::string::npos ? 0 : end + 5;
  }

  std::optional<Tag> next_tag() {
    const auto open = text_.find('<', at_);
    if (open == std::string_view::npos) return std::nullopt;
    // No tag is longer; a stray '<' must not swallow what follows.
    const auto close = text_.find_first_of("><\n", open + 1);
    if (close == std::string_view::npos) return std::nullopt;
    if (text_[close] != '>') {
      at_ = close;
      return next_tag_from_stray();
    }
    at_ = close + 1;
    Tag tag;
    tag.begin = open;
    tag.text = text_.substr(open + 1, close - open - 1);
    const auto colon = tag.text.find(':');
    tag.name = upper(trim(tag.text.substr(0, colon)));
    if (colon == std::string_view::npos) return tag;
    auto length = tag.text.substr(colon + 1);
    length = trim(length.substr(0, length.find(':')));
    if (!length.empty() && length.size() <= 9 &&
        length.find_first_not_of("0123456789") == std::string_view::npos)
      tag.length = static_cast<std::size_t>(*to_number(length));
    return tag;
  }
  std::optional<Tag> next_tag_from_stray() { return next_tag(); }

  /// Says what is wrong with the record and goes behind its <EOR>.
  void leave_out(const Tag& tag, std::string found, std::string accepted) {
    Error error;
    error.where = {file_, line_at(tag.begin), column_at(tag.begin)};
    error.found = std::move(found);
    error.accepted = std::move(accepted);
    error.mend = "the record is left out";
    out_.warnings.push_back(std::move(error));
    for (;;) {
      const auto open = text_.find('<', at_);
      if (open == std::string_view::npos) {
        at_ = text_.size();
        return;
      }
      at_ = open + 1;
      if (upper(text_.substr(open, 5)) == "<EOR>") {
        at_ = open + 5;
        return;
      }
    }
  }

  int line_at(std::size_t at) {
    line_ += static_cast<int>(std::count(text_.begin() + static_cast<std::ptrdiff_t>(counted_),
                                         text_.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
    counted_ = at;
    return line_;
  }
  [[nodiscard]] int column_at(std::size_t at) const {
    const auto before = text_.rfind('\n', at);
    return static_cast<int>(before == std::string_view::npos ? at + 1 : at - before);
  }

  std::string_view text_;
  const std::string& file_;
  std::size_t at_ = 0;
  std::size_t counted_ = 0;
  int line_ = 1;
  AdifFile out_;
};

}  // namespace

Result<AdifFile> parse_adif(std::string_view text, const std::string& file) {
  if (text.size() > most_bytes)
    return fail({file}, fmt::format("{} MB", text.size() >> 20U),
                fmt::format("at most {} MB", most_bytes >> 20U));
  if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
  auto out = Parser(text, file).run();
  if (out.records.empty() && out.warnings.empty())
    return fail({file}, "no record",
                "an ADIF log (.adi): fields like <CALL:6>... and <EOR> behind each record");
  return out;
}

}  // namespace skerry::after
