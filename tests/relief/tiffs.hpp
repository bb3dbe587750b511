// TIFF files byte by byte, so that no library judges itself. Source: TIFF 6.0, sections 2 and 15; GeoTIFF 1.1 (from
// memory).
#pragma once

#include <cstdint>
#include <cstring>
#include <map>
#include <string>
#include <vector>

namespace skerry::test {

struct Tiff {
  struct Entry {
    std::uint16_t type = 0;
    std::uint32_t count = 0;
    std::string bytes;
  };
  bool big_endian = false;
  std::map<int, Entry> entries;
  std::vector<std::string> pieces;  ///< strips or tiles
  bool tiled = false;

  template <class T>
  [[nodiscard]] std::string number(T value) const {
    std::string out(sizeof value, '\0');
    std::memcpy(out.data(), &value, sizeof value);
    return big_endian ? std::string(out.rbegin(), out.rend()) : out;
  }
  template <class T>
  void set(int tag, std::uint16_t type, const std::vector<T>& values) {
    Entry e{type, static_cast<std::uint32_t>(values.size()), {}};
    for (const T v : values) e.bytes += number(v);
    entries[tag] = e;
  }
  void shorts(int tag, const std::vector<std::uint16_t>& values) { set(tag, 3, values); }
  void doubles(int tag, const std::vector<double>& values) { set(tag, 12, values); }
  void text(int tag, const std::string& value) {
    entries[tag] = {2, static_cast<std::uint32_t>(value.size() + 1), value + '\0'};
  }

  [[nodiscard]] std::string file() const {
    auto all = entries;
    std::string body;
    constexpr std::uint32_t head = 8;
    std::string offsets, counts;
    for (const auto& piece : pieces) {
      offsets += number(static_cast<std::uint32_t>(head + body.size()));
      counts += number(static_cast<std::uint32_t>(piece.size()));
      body += piece;
      if (body.size() % 2 == 1) body += '\0';
    }
    all[tiled ? 324 : 273] = {4, static_cast<std::uint32_t>(pieces.size()), offsets};
    all[tiled ? 325 : 279] = {4, static_cast<std::uint32_t>(pieces.size()), counts};
    std::string directory = number(static_cast<std::uint16_t>(all.size()));
    std::string more;
    const auto directory_at = static_cast<std::uint32_t>(head + body.size());
    const auto more_at = static_cast<std::uint32_t>(directory_at + 2 + 12 * all.size() + 4);
    for (const auto& [tag, e] : all) {
      directory += number(static_cast<std::uint16_t>(tag)) + number(e.type) + number(e.count);
      if (e.bytes.size() <= 4) {
        directory += e.bytes + std::string(4 - e.bytes.size(), '\0');
      } else {
        directory += number(static_cast<std::uint32_t>(more_at + more.size()));
        more += e.bytes;
        if (more.size() % 2 == 1) more += '\0';
      }
    }
    directory += number(std::uint32_t{0});
    return (big_endian ? "MM" : "II") + number(std::uint16_t{42}) + number(directory_at) + body + directory +
           more;
  }
};

/// A picture of heights, `columns` by `rows`, h(row, column), one strip a row; its corner at 20 S 63 E.
template <class T, class Height>
Tiff heights(int columns, int rows, double step_deg, Height&& h, bool big_endian = false) {
  Tiff t;
  t.big_endian = big_endian;
  t.shorts(256, {static_cast<std::uint16_t>(columns)});
  t.shorts(257, {static_cast<std::uint16_t>(rows)});
  t.shorts(258, {8 * sizeof(T)});
  t.shorts(259, {1});
  t.shorts(262, {1});
  t.shorts(277, {1});
  t.shorts(278, {1});
  t.shorts(339, {static_cast<std::uint16_t>(sizeof(T) == 4 ? 3 : T(-1) < T(0) ? 2 : 1)});
  t.doubles(33550, {step_deg, step_deg, 0});
  t.doubles(33922, {0, 0, 0, 63, -19, 0});
  t.shorts(34735, {1, 1, 0, 3, 1024, 0, 1, 2, 1025, 0, 1, 1, 2048, 0, 1, 4326});
  for (int r = 0; r < rows; ++r) {
    std::string row;
    for (int c = 0; c < columns; ++c) row += t.number(static_cast<T>(h(r, c)));
    t.pieces.push_back(row);
  }
  return t;
}

}  // namespace skerry::test
