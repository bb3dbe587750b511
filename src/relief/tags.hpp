// What of GeoTIFF reader and writer share. Layer: relief, private.
#pragma once

#include <tiffio.h>

#include <algorithm>
#include <array>
#include <cstdarg>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <memory>
#include <string>

namespace skerry::relief {

struct Close {
  void operator()(TIFF* tiff) const { TIFFClose(tiff); }
};
using Handle = std::unique_ptr<TIFF, Close>;

/// A file in memory as libtiff asks for it, and what it complained of last. `Bytes` that cannot grow are only read.
template <class Bytes>
struct Memory {
  Bytes bytes;
  std::uint64_t at = 0;
  std::string complaint = {};

  /// mode as of TIFFClientOpen; largest_piece: no more memory at once, 0: as much as it likes.
  Handle open(const char* mode, tmsize_t largest_piece) {
    const std::unique_ptr<TIFFOpenOptions, decltype(&TIFFOpenOptionsFree)> options(TIFFOpenOptionsAlloc(),
                                                                                   TIFFOpenOptionsFree);
    TIFFOpenOptionsSetErrorHandlerExtR(options.get(), keep_complaint, this);
    TIFFOpenOptionsSetWarningHandlerExtR(options.get(), keep_quiet, this);
    TIFFOpenOptionsSetMaxSingleMemAlloc(options.get(), largest_piece);
    return Handle(TIFFClientOpenExt("memory", mode, this, read, write, seek, close, size, nullptr, nullptr,
                                    options.get()));
  }

 private:
  static Memory& of(thandle_t handle) { return *static_cast<Memory*>(handle); }
  static tmsize_t read(thandle_t handle, void* to, tmsize_t count) {
    auto& m = of(handle);
    if (count <= 0 || m.at >= m.bytes.size()) return 0;
    const auto n = std::min<std::uint64_t>(static_cast<std::uint64_t>(count), m.bytes.size() - m.at);
    std::memcpy(to, m.bytes.data() + m.at, n);
    m.at += n;
    return static_cast<tmsize_t>(n);
  }
  static tmsize_t write(thandle_t handle, void* from, tmsize_t count) {
    if constexpr (requires(Bytes b) { b.resize(1); }) {
      auto& m = of(handle);
      if (count <= 0) return 0;
      const auto n = static_cast<std::uint64_t>(count);
      if (m.bytes.size() < m.at + n) m.bytes.resize(m.at + n);
      std::memcpy(m.bytes.data() + m.at, from, n);
      m.at += n;
      return count;
    }
    return 0;
  }
  static toff_t seek(thandle_t handle, toff_t offset, int whence) {
    auto& m = of(handle);
    m.at = whence == SEEK_SET ? offset : whence == SEEK_CUR ? m.at + offset : m.bytes.size() + offset;
    return m.at;
  }
  static int close(thandle_t) { return 0; }
  static toff_t size(thandle_t handle) { return of(handle).bytes.size(); }
  static int keep_complaint(TIFF*, void* user, const char*, const char* format, va_list values) {
    std::array<char, 200> text{};
    if (std::vsnprintf(text.data(), text.size(), format, values) > 0) of(user).complaint = text.data();
    return 1;  // nobody else is told
  }
  static int keep_quiet(TIFF*, void*, const char*, const char*, va_list) { return 1; }
};

// Source: OGC 19-008r4, GeoTIFF 1.1.
inline constexpr std::uint32_t pixel_scale = 33550, tie_points = 33922, transformation = 34264,
                               key_directory = 34735;
inline constexpr int model_type = 1024, raster_type = 1025, geographic_type = 2048, angular_units = 2054,
                     projected_type = 3072, vertical_units = 4099;
inline constexpr int geographic = 2, pixel_is_area = 1, pixel_is_point = 2, wgs84 = 4326,
                     wgs84_with_height = 4979, degree = 9102, metre = 9001;
/// Source: the tags that open software writes nodata and names of bands to, as text (from memory).
inline constexpr std::uint32_t nodata_text = 42113, metadata_text = 42112;

}  // namespace skerry::relief
