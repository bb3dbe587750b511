#include "zone_file.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>

namespace skerry::sun {

namespace {

constexpr std::size_t header_bytes = 44;

/// Big-endian, four bytes.
std::size_t count_at(std::string_view bytes, std::size_t at) {
  std::size_t out = 0;
  for (std::size_t i = 0; i < 4; ++i) out = out << 8U | static_cast<unsigned char>(bytes[at + i]);
  return out;
}

/// The length of the header and data block that begin the bytes, where they are whole.
std::optional<std::size_t> block(std::string_view bytes, std::size_t time_bytes) {
  if (bytes.size() < header_bytes || bytes.substr(0, 4) != "TZif") return std::nullopt;
  const auto utc = count_at(bytes, 20), standard = count_at(bytes, 24), leaps = count_at(bytes, 28),
             times = count_at(bytes, 32), types = count_at(bytes, 36), letters = count_at(bytes, 40);
  if (types == 0 || letters == 0 || (utc != 0 && utc != types) || (standard != 0 && standard != types))
    return std::nullopt;
  const auto length = header_bytes + times * (time_bytes + 1) + types * 6 + letters +
                      leaps * (time_bytes + 4) + standard + utc;
  if (length > bytes.size()) return std::nullopt;
  const auto type_of_time = bytes.substr(header_bytes + times * time_bytes, times);
  if (std::any_of(type_of_time.begin(), type_of_time.end(),
                  [&](char type) { return static_cast<unsigned char>(type) >= types; }))
    return std::nullopt;
  const auto type_records = bytes.substr(header_bytes + times * (time_bytes + 1), types * 6);
  for (std::size_t i = 0; i < types; ++i) {
    if (static_cast<unsigned char>(type_records[i * 6 + 5]) >= letters) return std::nullopt;
  }
  return length;
}

}  // namespace

bool is_whole_zone_file(std::string_view bytes) {
  const auto first = block(bytes, 4);
  if (!first) return false;
  if (bytes[4] == '\0') return true;
  const auto rest = bytes.substr(*first);
  const auto second = block(rest, 8);
  // The footer: a rule between two line ends.
  return second && rest.size() >= *second + 2 && rest[*second] == '\n' && rest.back() == '\n';
}

}  // namespace skerry::sun
