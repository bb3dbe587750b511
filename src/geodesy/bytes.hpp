// Reads the variable-length integers of the compact files below data/ (see data/land/import.py).
// Layer: geodesy. Sees core only.
#pragma once

#include <cassert>
#include <cstdint>
#include <string_view>

namespace skerry::geodesy {

/// A walk through one of our own files; running past its end is our bug.
class Bytes {
 public:
  Bytes(std::string_view bytes, std::string_view mark) : bytes_(bytes), at_(mark.size()) {
    assert(bytes.substr(0, mark.size()) == mark);
  }
  [[nodiscard]] bool done() const { return at_ >= bytes_.size(); }
  [[nodiscard]] std::uint32_t count() {
    std::uint32_t value = 0;
    for (unsigned shift = 0; shift < 32; shift += 7) {
      const std::uint32_t byte = next();
      value |= (byte & 127U) << shift;
      if (byte < 128U) break;
    }
    return value;
  }
  [[nodiscard]] std::int32_t difference() {
    const std::uint32_t n = count();
    return static_cast<std::int32_t>(n >> 1U) ^ -static_cast<std::int32_t>(n & 1U);
  }
  [[nodiscard]] std::string_view text(std::size_t length) {
    assert(at_ + length <= bytes_.size());
    const auto out = bytes_.substr(at_, length);
    at_ += length;
    return out;
  }

 private:
  [[nodiscard]] std::uint32_t next() {
    assert(at_ < bytes_.size());
    return at_ < bytes_.size() ? static_cast<unsigned char>(bytes_[at_++]) : 0U;
  }
  std::string_view bytes_;
  std::size_t at_ = 0;
};

}  // namespace skerry::geodesy
