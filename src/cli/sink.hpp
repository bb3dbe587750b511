// Where text leaves the program for a screen or a pipe: the one door, so that no command can forget it.
// Layer: cli (internal).
#pragma once

#include <ostream>
#include <streambuf>

#include "skerry/core/text.hpp"

namespace skerry::cli {

/// Hands on to another stream what is put into it, each piece written_out(). A piece never ends within a
/// character: whoever writes to it writes whole strings.
class SinkBuffer : public std::streambuf {
 public:
  SinkBuffer(std::ostream& to, bool colours) : to_(to), colours_(colours) {}
  void let_colours(bool pass) { colours_ = pass; }

 protected:
  std::streamsize xsputn(const char* text, std::streamsize size) override {
    to_ << written_out({text, static_cast<std::size_t>(size)}, colours_);
    return to_ ? size : 0;
  }
  int_type overflow(int_type c) override {
    const char one = traits_type::to_char_type(c);
    return xsputn(&one, 1) == 1 ? c : traits_type::eof();
  }
  int sync() override {
    to_.flush();
    return to_ ? 0 : -1;
  }

 private:
  std::ostream& to_;
  bool colours_;
};

class Sink : public std::ostream {
 public:
  Sink(std::ostream& to, bool colours) : std::ostream(nullptr), buffer_(to, colours) {
    rdbuf(&buffer_);
    exceptions(to.exceptions());
  }
  void let_colours(bool pass) { buffer_.let_colours(pass); }

 private:
  SinkBuffer buffer_;
};

}  // namespace skerry::cli
