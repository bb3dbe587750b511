// JSON written straight to text: an answer holds some 2000 numbers, and a tree of them would cost ten times
// what computing them costs. Layer: forms (internal).
#pragma once

#include <algorithm>
#include <string>

#include "common.hpp"

namespace skerry::forms {

/// Builds JSON text; commas and, when `pretty`, line breaks come by themselves, as in dump().
class Writer {
 public:
  Writer(std::string& out, bool pretty) : out_(out), pretty_(pretty) {}

  void open(char bracket) {
    separate();
    out_ += bracket;
    ++depth_;
    first_ = true;
  }
  void close(char bracket) {
    --depth_;
    if (!first_) break_line();
    out_ += bracket;
    first_ = false;
  }
  Writer& key(const char* name) {
    separate();
    out_ += '"';
    out_ += name;
    out_ += pretty_ ? "\": " : "\":";
    after_key_ = true;
    return *this;
  }
  void raw(const std::string& json) {
    separate();
    out_ += json;
  }
  void null() { raw("null"); }
  void text(const std::string& value) {
    const auto plain = [](char c) { return c >= ' ' && c <= '~' && c != '"' && c != '\\'; };
    if (std::all_of(value.begin(), value.end(), plain)) {
      separate();
      out_ += '"';
      out_ += value;
      out_ += '"';
      return;
    }
    raw(Json(value).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace));
  }

  void text(const char* name, const std::string& value) { key(name).text(value); }
  void text_or_null(const char* name, const std::string& value) {
    value.empty() ? key(name).null() : key(name).text(value);
  }
  void boolean(const char* name, bool value) { key(name).raw(value ? "true" : "false"); }
  void integer(const char* name, long long value) { key(name).raw(std::to_string(value)); }
  /// Rounded; when pretty, a whole number keeps its ".0", as the tree writes it.
  void number(const char* name, double value, int digits) {
    key(name).separate();
    const auto start = out_.size();
    append_fixed(out_, value, digits);
    if (pretty_ && out_.find('.', start) == std::string::npos) out_ += ".0";
  }
  void number_or_null(const char* name, bool there, double value, int digits) {
    there ? number(name, value, digits) : key(name).null();
  }
  void object(const char* name, const auto& write) {
    key(name).open('{');
    write();
    close('}');
  }
  void list(const char* name, const auto& items, const auto& each) {
    key(name).open('[');
    for (const auto& item : items) each(item);
    close(']');
  }

 private:
  void break_line() {
    if (!pretty_) return;
    out_ += '\n';
    out_.append(2 * depth_, ' ');
  }
  void separate() {
    if (!after_key_) {
      if (!first_) out_ += ',';
      if (depth_ > 0) break_line();
    }
    first_ = after_key_ = false;
  }
  std::string& out_;
  bool pretty_;
  std::size_t depth_ = 0;
  bool first_ = true, after_key_ = false;
};

}  // namespace skerry::forms
