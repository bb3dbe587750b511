#include "skerry/after/adif.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "adif_parts.hpp"
#include "skerry/core/text.hpp"

namespace skerry::after {

namespace {

constexpr std::string_view end_of_record = "<EOR>";

class Parser {
 public:
  Parser(std::string_view text, const std::string& file) : text_(text), file_(file) {
    line_end_ = find("\n", 0);
  }

  Result<AdifFile> run() {
    if (!text_.empty() && text_.front() != '<') skip_header();
    AdifRecord record;
    while (const auto tag = next_tag()) {
      if (tag->name == "EOR") {
        if (!record.fields.empty()) {
          if (out_.records.size() == most_records) return too_many_records(file_, record.line);
          out_.records.push_back(std::move(record));
        }
        record = {};
        continue;
      }
      if (tag->name == "EOH") {  // a file whose header begins with a tag
        record = {};
        continue;
      }
      if (record.fields.empty()) record.line = line_at(tag->begin);
      if (!tag->length) {
        leave_out(*tag, fmt::format("<{}>", shown(*tag)), "<FIELD:LENGTH> with a whole number of bytes");
        record = {};
        continue;
      }
      if (*tag->length > text_.size() - at_) {
        leave_out(*tag,
                  fmt::format("<{}> with {} bytes to the end of the file", shown(*tag), text_.size() - at_),
                  "no more bytes than are there");
        record = {};
        continue;
      }
      const auto data = text_.substr(at_, *tag->length);
      // The length decides, unless it ends amid some text: then it is wrong, and the next record's end is in it.
      if (!tag_follows(at_ + *tag->length) && find_word(end_of_record, at_, at_ + *tag->length)) {
        leave_out(*tag, fmt::format("<{}> that reaches into the next record", shown(*tag)),
                  "the length of its own data, in bytes");
        record = {};
        continue;
      }
      if (record.fields.size() == most_fields) {
        leave_out(*tag, fmt::format("a record of over {} fields", most_fields), "<EOR> behind each record");
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

  /// Where the first of these characters stands from a place on: the one way in which text is gone through.
  std::size_t find(std::string_view any, std::size_t from) {
    const auto at = any.size() == 1 ? text_.find(any[0], from) : text_.find_first_of(any, from);
    if (from < text_.size()) out_.looked_at += std::min(at, text_.size()) - from;
    return at;
  }
  /// Where a tag, in upper case, begins in from .. to, in any case.
  std::optional<std::size_t> find_word(std::string_view word, std::size_t from, std::size_t to) {
    for (auto at = find("<", from); at < to; at = find("<", at + 1)) {
      if (upper(text_.substr(at, word.size())) == word) return at;
    }
    return std::nullopt;
  }

  void skip_header() {
    constexpr std::string_view end_of_header = "<EOH>";
    const auto end = find_word(end_of_header, 0, text_.size());
    at_ = end ? *end + end_of_header.size() : 0;
  }

  /// Whether nothing but white space stands before the next tag or the end of the file.
  [[nodiscard]] bool tag_follows(std::size_t at) const {
    // Judgement: no program leaves more between two fields.
    constexpr std::size_t widest_gap = 100;
    const auto gap = text_.substr(at, widest_gap);
    const auto next = gap.find_first_not_of(" \t\r\n");
    return next == std::string_view::npos ? gap.size() < widest_gap : gap[next] == '<';
  }

  std::optional<Tag> next_tag() {
    auto open = find("<", at_);
    auto close = open;
    for (;; open = find("<", close)) {
      if (open == std::string_view::npos) return std::nullopt;
      // No tag is longer; a stray '<' must not swallow what follows.
      close = find("><\n", open + 1);
      if (close == std::string_view::npos) return std::nullopt;
      if (text_[close] == '>') break;
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

  /// A tag as messages may quote it: its name and length. What else stands in a broken one may name somebody.
  static std::string shown(const Tag& tag) {
    const auto fits = [](std::string_view part, std::string_view of) {
      return !part.empty() && part.find_first_not_of(of) == std::string_view::npos;
    };
    const auto colon = tag.text.find(':');
    const auto rest = colon == std::string_view::npos ? std::string_view{} : trim(tag.text.substr(colon + 1));
    const bool name = colon != std::string_view::npos && fits(tag.name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ_");
    return fmt::format("{}:{}", name ? tag.name : "...", fits(rest, "-+.0123456789") ? rest : "...");
  }

  /// Says what is wrong with the record and goes behind its <EOR>.
  void leave_out(const Tag& tag, std::string found, std::string accepted) {
    Error error;
    error.where = {file_, line_at(tag.begin), column_at(tag.begin)};
    error.found = std::move(found);
    error.accepted = std::move(accepted);
    error.mend = "the record is left out";
    out_.warnings.push_back(std::move(error));
    const auto end = find_word(end_of_record, at_, text_.size());
    at_ = end ? *end + end_of_record.size() : text_.size();
  }

  /// Tags are asked for in order: each line of the file is looked for once.
  int line_at(std::size_t at) {
    for (; line_end_ < at; ++line_) {
      line_begin_ = line_end_ + 1;
      line_end_ = find("\n", line_begin_);
    }
    return line_;
  }
  /// Behind line_at() of the same place.
  [[nodiscard]] int column_at(std::size_t at) const { return static_cast<int>(at - line_begin_ + 1); }

  std::string_view text_;
  const std::string& file_;
  std::size_t at_ = 0;
  std::size_t line_begin_ = 0, line_end_ = 0;
  int line_ = 1;
  AdifFile out_;
};

}  // namespace

Result<AdifFile> parse_adif(std::string_view text, const std::string& file) {
  if (text.size() > most_log_bytes)
    return fail({file}, fmt::format("{} MB", text.size() >> 20U),
                fmt::format("at most {} MB", most_log_bytes >> 20U));
  if (const auto encoded = check_encoding(text, {file}); !encoded) return tl::unexpected(encoded.error());
  if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
  const auto begin = upper(trim(text.substr(0, 200)));
  if (begin.rfind("<?XML", 0) == 0 || begin.rfind("<ADX", 0) == 0) return parse_adx(text, file);
  auto out = Parser(text, file).run();
  if (out && out->records.empty() && out->warnings.empty())
    return fail(
        {file}, "no record",
        "an ADIF log: fields like <CALL:6>... and <EOR> behind each record (.adi), or its XML form (.adx)");
  return out;
}

}  // namespace skerry::after
