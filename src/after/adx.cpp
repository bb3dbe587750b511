// The XML form of a log: a flat one, read strictly, with nothing of XML that could reach out or grow.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>

#include "adif_parts.hpp"
#include "skerry/core/text.hpp"

namespace skerry::after {

namespace {

/// ADX, RECORDS, RECORD, field. Judgement: two more for what others put in.
constexpr std::size_t deepest = 6;
/// Judgement: the format's longest name has 25 letters.
constexpr std::size_t longest_name = 64;

constexpr std::string_view record_begins = "<RECORD>", record_ends = "</RECORD>";

bool name_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-' ||
         c == '.' || c == ':';
}
bool blank(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

/// Source: RFC 3629 section 3.
void append_utf8(std::string& out, std::uint32_t code) {
  const auto put = [&](std::uint32_t byte) { out += static_cast<char>(static_cast<unsigned char>(byte)); };
  if (code < 0x80) return put(code);
  if (code < 0x800) {
    put(0xC0 | code >> 6U);
  } else {
    if (code < 0x10000) {
      put(0xE0 | code >> 12U);
    } else {
      put(0xF0 | code >> 18U);
      put(0x80 | (code >> 12U & 0x3FU));
    }
    put(0x80 | (code >> 6U & 0x3FU));
  }
  put(0x80 | (code & 0x3FU));
}

/// Puts the text in the place of XML's own five names and of numbers; false: any other name, which nobody defines
/// here, or a number that is no character.
bool append_unescaped(std::string& out, std::string_view text) {
  using Pair = std::pair<std::string_view, char>;
  while (!text.empty()) {
    const auto amp = std::min(text.find('&'), text.size());
    out += text.substr(0, amp);
    text.remove_prefix(amp);
    if (text.empty()) return true;
    const auto end = text.substr(0, 12).find(';');
    if (end == std::string_view::npos) return false;
    auto name = text.substr(1, end - 1);
    text.remove_prefix(end + 1);
    if (!name.empty() && name[0] == '#') {
      const bool hex = name.size() > 1 && name[1] == 'x';
      name.remove_prefix(hex ? 2 : 1);
      std::uint32_t code = 0;
      const auto read = std::from_chars(name.data(), name.data() + name.size(), code, hex ? 16 : 10);
      if (read.ec != std::errc{} || read.ptr != name.data() + name.size() || code == 0 || code > 0x10FFFF ||
          (code >= 0xD800 && code < 0xE000))
        return false;
      append_utf8(out, code);
      continue;
    }
    bool known = false;
    for (const auto& [word, letter] :
         {Pair{"amp", '&'}, {"lt", '<'}, {"gt", '>'}, {"quot", '"'}, {"apos", '\''}}) {
      if (name != word) continue;
      out += letter;
      known = true;
    }
    if (!known) return false;
  }
  return true;
}

class AdxReader {
 public:
  AdxReader(std::string_view text, const std::string& file) : text_(text), file_(file) {
    line_end_ = std::min(text_.find('\n'), text_.size());
  }

  Result<AdifFile> run() {
    while (at_ < text_.size()) {
      const auto wrong = step();
      if (!wrong) {
        if (out_.records.size() > most_records) return too_many_records(file_, record_.line);
        continue;
      }
      // Among records only one is left out; anywhere else it is no log of this form.
      if (!in_records()) return fail(here(), wrong->found, wrong->accepted);
      leave_out(*wrong);
    }
    if (!inside_.empty())
      out_.warnings.push_back({here(), "the end of the file inside a tag", "</ADX> at its end",
                               "an unfinished record is left out: the file may be cut off"});
    out_.looked_at += text_.size();
    return std::move(out_);
  }

 private:
  struct Wrong {
    std::string found, accepted;
    bool to_the_end = false;
  };
  using Step = std::optional<Wrong>;

  /// One tag, or text up to the next.
  Step step() {
    if (text_[at_] != '<') {
      const auto end = std::min(text_.find('<', at_), text_.size());
      const auto piece = text_.substr(at_, end - at_);
      if (in_field()) {
        if (!append_unescaped(data_, piece))
          return Wrong{"an entity that XML does not define",
                       "&amp;, &lt;, &gt;, &quot;, &apos; or &#NUMBER;"};
      } else if (!trim(piece).empty()) {
        return Wrong{"text outside of a field", "ADX with RECORDS, RECORD and fields in them"};
      }
      at_ = end;
      return std::nullopt;
    }
    const auto rest = text_.substr(at_);
    if (rest.starts_with("<!--")) return pass("-->", 4);
    if (rest.starts_with("<?")) return pass("?>", 2);
    if (rest.starts_with("<![CDATA[") && in_field()) {
      const auto begin = at_ + 9;
      const auto unclosed = pass("]]>", 9);
      if (!unclosed) data_ += text_.substr(begin, at_ - 3 - begin);
      return unclosed;
    }
    if (rest.starts_with("<!"))
      return Wrong{"a declaration in XML", "a log without DOCTYPE, as programs save it"};
    return rest.starts_with("</") ? close() : open();
  }

  Step pass(std::string_view end, std::size_t head) {
    const auto found = text_.find(end, at_ + head);
    if (found == std::string_view::npos)
      return Wrong{"a part of XML that is never closed", std::string(end), true};
    at_ = found + end.size();
    return std::nullopt;
  }

  std::string_view name_at(std::size_t from) const {
    auto to = from;
    while (to < text_.size() && to - from <= longest_name && name_letter(text_[to])) ++to;
    return text_.substr(from, to - from);
  }
  std::size_t past_blanks(std::size_t at) const {
    while (at < text_.size() && blank(text_[at])) ++at;
    return at;
  }

  Step open() {
    const Wrong broken{"a tag that is none", "<NAME> or <NAME KEY=\"VALUE\">"};
    const auto name = name_at(at_ + 1);
    if (name.empty() || name.size() > longest_name) return broken;
    if (inside_.size() == deepest)
      return Wrong{fmt::format("tags nested more than {} deep", deepest), "a flat log"};
    // Of USERDEF and APP the attributes say what the field is called.
    std::string program, field;
    auto at = past_blanks(at_ + 1 + name.size());
    while (at < text_.size() && name_letter(text_[at])) {
      const auto key = name_at(at);
      at = past_blanks(at + key.size());
      if (at + 1 >= text_.size() || text_[at] != '=') return broken;
      at = past_blanks(at + 1);
      if (at >= text_.size() || (text_[at] != '"' && text_[at] != '\'')) return broken;
      const auto end = text_.find_first_of(std::string{text_[at], '<'}, at + 1);
      if (end == std::string_view::npos || text_[end] == '<') return broken;
      std::string value;
      if (!append_unescaped(value, text_.substr(at + 1, end - at - 1))) return broken;
      if (key == "PROGRAMID") program = std::move(value);
      if (key == "FIELDNAME") field = std::move(value);
      at = past_blanks(end + 1);
    }
    const bool empty = at < text_.size() && text_[at] == '/';
    if (empty) ++at;
    if (at >= text_.size() || text_[at] != '>') return broken;
    const auto called = upper(name);
    if (inside_.empty() && called != "ADX") return Wrong{"another kind of XML", "a log, <ADX>"};
    if (inside_.size() == 2 && inside_[1] == "RECORDS") {
      if (called != "RECORD") return Wrong{"a part of RECORDS that is no RECORD", "<RECORD> ... </RECORD>"};
      record_ = {{}, here().line};
    }
    if (inside_.size() == 3 && in_records()) {
      field_ = called == "APP"       ? upper("APP_" + program + "_" + field)
               : called == "USERDEF" ? upper(field)
                                     : called;
      data_.clear();
    }
    if (inside_.size() >= 4 && in_records())
      return Wrong{"a tag inside a field", "text alone (&lt; for '<')"};
    at_ = at + 1;
    inside_.push_back(called);
    return empty ? leave() : std::nullopt;
  }

  Step close() {
    const auto name = name_at(at_ + 2);
    const auto at = past_blanks(at_ + 2 + name.size());
    if (inside_.empty() || upper(name) != inside_.back() || at >= text_.size() || text_[at] != '>')
      return Wrong{"an end of another tag than the one that is open",
                   "</NAME> of the innermost that is open"};
    at_ = at + 1;
    return leave();
  }

  /// Out of the innermost.
  Step leave() {
    const auto depth = inside_.size();
    if (depth == 4 && in_records()) {
      if (record_.fields.size() == most_fields)
        return Wrong{fmt::format("a record of over {} fields", most_fields), "</RECORD> behind each record"};
      record_.fields[field_] = std::string(trim(data_));
    }
    if (depth == 3 && in_records() && !record_.fields.empty()) out_.records.push_back(std::move(record_));
    inside_.pop_back();
    return std::nullopt;
  }

  [[nodiscard]] bool in_field() const { return inside_.size() >= (in_records() ? 4U : 3U); }
  [[nodiscard]] bool in_records() const { return inside_.size() > 1 && inside_[1] == "RECORDS"; }

  /// Says what is wrong with the record and goes behind it: to its end, or where that is missing to the next one's
  /// beginning.
  void leave_out(const Wrong& wrong) {
    out_.warnings.push_back({here(), wrong.found, wrong.accepted, "the record is left out"});
    inside_.resize(2);
    const auto from = at_;
    at_ = text_.size();
    for (auto at = wrong.to_the_end ? text_.size() : from; at < text_.size(); at = text_.find('<', at + 1)) {
      const auto rest = text_.substr(at);
      if (rest.starts_with(record_ends) || (at > from && rest.starts_with(record_begins))) {
        at_ = at + (rest[1] == '/' ? record_ends.size() : 0);
        break;
      }
    }
    out_.looked_at += at_ - from;
  }

  /// Places are asked for in order: each line is looked for once.
  Where here() {
    for (; line_end_ < at_; ++line_) {
      line_begin_ = line_end_ + 1;
      line_end_ = std::min(text_.find('\n', line_begin_), text_.size());
    }
    return {file_, line_, static_cast<int>(at_ - line_begin_ + 1)};
  }

  std::string_view text_;
  const std::string& file_;
  std::size_t at_ = 0, line_begin_ = 0, line_end_ = 0;
  int line_ = 1;
  std::vector<std::string> inside_;
  AdifRecord record_;
  std::string field_, data_;
  AdifFile out_;
};

}  // namespace

Result<AdifFile> parse_adx(std::string_view text, const std::string& file) {
  auto out = AdxReader(text, file).run();
  if (out && out->records.empty() && out->warnings.empty())
    return fail({file}, "no record", "a log in ADIF's XML form (.adx): <RECORD> with its fields");
  return out;
}

}  // namespace skerry::after
