#include "gazetteer_data.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numeric>

#include "columns.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"

namespace skerry::geodesy {

namespace {

constexpr std::size_t name_bytes = 20, other_bytes = 8, fold_bytes = 4;

template <class T>
T number_at(const char* at) {
  std::uint32_t value = 0;
  for (std::size_t i = sizeof(T); i-- > 0;) value = value << 8U | static_cast<unsigned char>(at[i]);
  return static_cast<T>(value);
}

std::vector<std::string_view> parts_of(std::string_view text, char between) {
  std::vector<std::string_view> out;
  for (std::size_t from = 0; from <= text.size();) {
    const auto end = std::min(text.find(between, from), text.size());
    out.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  return out;
}

/// The code point at the front, which is taken off; 0xFFFD for what is no UTF-8.
char32_t take_code_point(std::string_view& rest) {
  const auto first = static_cast<unsigned char>(rest[0]);
  const std::size_t length = first < 0x80 ? 1 : first < 0xC0 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
  if (length == 0 || length > rest.size()) {
    rest.remove_prefix(1);
    return 0xFFFD;
  }
  char32_t value = length == 1 ? first : first & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i)
    value = value << 6U | (static_cast<unsigned char>(rest[i]) & 0x3FU);
  rest.remove_prefix(length);
  return value;
}

constexpr std::array<std::array<std::string_view, 2>, 4> written_out = {
    {{"st", "saint"}, {"ste", "sainte"}, {"mt", "mount"}, {"ft", "fort"}}};

}  // namespace

const Gazetteer& Gazetteer::get() {
  static const Gazetteer read;
  return read;
}

Gazetteer::Gazetteer() {
  const auto columns = embedded_if("places/columns.bin");
  static const std::string made = columns.empty() ? std::string() : names_of_columns(columns);
  const auto bytes = columns.empty() ? embedded("places/names.bin") : std::string_view(made);
  assert(bytes.substr(0, 4) == "SKGN");
  const auto head = [&](std::size_t i) {
    return std::size_t{number_at<std::uint32_t>(bytes.data() + 4 + 4 * i)};
  };
  std::size_t at = 4 + 6 * 4;
  const auto take = [&](std::size_t length) {
    const auto out = bytes.substr(at, length);
    at += length;
    return out;
  };
  zones_ = parts_of(take(head(0)), '\n');
  for (const auto line : parts_of(take(head(1)), '\n')) {
    const auto parts = parts_of(line, '\t');
    countries_.push_back({parts.at(0), parts.at(1), parts.at(2)});
  }
  folds_ = take(head(2) * fold_bytes);
  names_ = head(3);
  by_name_ = {take(names_ * name_bytes).data(), names_, name_bytes};
  by_other_ = {take(head(4) * other_bytes).data(), head(4), other_bytes};
  order_ = take(names_ * 2).data();
  pool_ = take(head(5));
  assert(at == bytes.size() && pool_.back() == '\0');
}

std::string_view Gazetteer::text_at(std::size_t place) const {
  return pool_.substr(place, pool_.find('\0', place) - place);
}

std::string_view Gazetteer::name_in(const Index& index, std::size_t row) const {
  return text_at(number_at<std::uint32_t>(index.rows + row * index.row_bytes));
}

double Gazetteer::degrees(std::size_t i, std::size_t offset) const {
  return number_at<std::int32_t>(by_name_.rows + i * name_bytes + offset) * 1e-4;
}

Named Gazetteer::named(std::size_t i) const {
  assert(i < names_);
  const char* row = by_name_.rows + i * name_bytes;
  Named out;
  out.name = name_in(by_name_, i);
  out.state = text_at(number_at<std::uint32_t>(row) + out.name.size() + 1);
  const auto& country = countries_.at(static_cast<unsigned char>(row[18]));
  out.country_code = country.code;
  out.country = country.name;
  out.zone = zones_.at(number_at<std::uint16_t>(row + 16));
  out.at = GeoPoint::at_deg(degrees(i, 4), degrees(i, 8));
  out.people = number_at<std::uint32_t>(row + 12);
  out.kind = static_cast<Named::Kind>(row[19]);
  return out;
}

std::string Gazetteer::folded(std::string_view text, std::string_view folds) {
  const auto fold = [&](std::size_t i) { return number_at<std::uint16_t>(folds.data() + i * fold_bytes); };
  const std::size_t count = folds.size() / fold_bytes;
  std::string plain;
  while (!text.empty()) {
    const auto c = take_code_point(text);
    if (c < 0x80) {
      plain += c == '?' ? ' ' : static_cast<char>(c);
    } else if (c < 0x300 || c >= 0x370) {  // between them: accents that stand alone, which fall away
      std::size_t low = 0, high = count;
      while (low < high) {
        const auto middle = (low + high) / 2;
        (fold(middle) < c ? low = middle + 1 : high = middle);
      }
      const bool known = low < count && fold(low) == c;
      if (!known) plain += '?';
      for (std::size_t i = 2; known && i < fold_bytes && folds[low * fold_bytes + i] != '\0'; ++i)
        plain += folds[low * fold_bytes + i];
    }
  }
  std::string out, word;
  const auto end_word = [&] {
    if (word.empty()) return;
    for (const auto& [from, to] : written_out) {
      if (word == from) word = to;
    }
    out += (out.empty() ? "" : " ") + word;
    word.clear();
  };
  for (const char c : lower(plain)) {
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '?') {
      word += c;
    } else if (c != '\'' && c != '.') {
      end_word();
    }
  }
  end_word();
  return out;
}

bool Gazetteer::country_has_code(std::size_t i, std::string_view code) const {
  const auto& country = countries_.at(static_cast<unsigned char>(by_name_.rows[i * name_bytes + 18]));
  const auto codes = parts_of(country.other_codes, ' ');
  return std::any_of(codes.begin(), codes.end(), [&](std::string_view c) { return lower(c) == code; });
}

std::string Gazetteer::state_name(std::string_view code) const {
  const auto found = std::find_if(countries_.begin(), countries_.end(), [&](const Country& c) {
    return c.code.size() == 5 && c.code.substr(3) == code;
  });
  return found == countries_.end() ? std::string() : folded(found->name);
}

void Gazetteer::search(const Index& index, std::string_view key, How how,
                       std::vector<std::size_t>& out) const {
  const auto add = [&](std::size_t row) {
    out.push_back(&index == &by_name_ ? row
                                      : number_at<std::uint32_t>(index.rows + row * index.row_bytes + 4));
  };
  if (how == How::words) {
    const std::string within = " " + std::string(key);
    for (std::size_t row = 0; row < index.count; ++row) {
      if ((" " + folded(name_in(index, row))).find(within) != std::string::npos) add(row);
    }
    return;
  }
  std::size_t low = 0, high = index.count;
  while (low < high) {
    const auto middle = (low + high) / 2;
    (folded(name_in(index, middle)) < key ? low = middle + 1 : high = middle);
  }
  for (; low < index.count; ++low) {
    const auto name = folded(name_in(index, low));
    if (name.compare(0, key.size(), key) != 0 || (how == How::whole && name.size() != key.size())) break;
    add(low);
  }
}

std::vector<std::size_t> Gazetteer::search(std::string_view key, How how) const {
  std::vector<std::size_t> out;
  search(by_name_, key, how, out);
  search(by_other_, key, how, out);
  return out;
}

std::optional<std::size_t> Gazetteer::nearest(GeoPoint at, double reach_deg, bool with_zone) const {
  const auto index_at = [&](std::size_t k) { return std::size_t{number_at<std::uint16_t>(order_ + 2 * k)}; };
  // The first of a row's places that lies not west of a longitude.
  const auto first_of = [&](double row, double lon_deg) {
    std::size_t low = 0, high = names_;
    while (low < high) {
      const auto middle = (low + high) / 2;
      const auto i = index_at(middle);
      const double its_row = std::floor(degrees(i, 4));
      (its_row < row || (its_row == row && degrees(i, 8) < lon_deg) ? low = middle + 1 : high = middle);
    }
    return low;
  };
  const double cosine = cos_deg(at.lat_deg);
  double least = sin_deg(reach_deg / 2) * sin_deg(reach_deg / 2);  // of the haversine
  std::optional<std::size_t> best;
  const auto look = [&](double row, double from_deg, double to_deg) {
    for (auto k = first_of(row, from_deg); k < names_; ++k) {
      const auto i = index_at(k);
      const double lat_deg = degrees(i, 4), lon_deg = degrees(i, 8);
      if (std::floor(lat_deg) != row || lon_deg > to_deg) break;
      const double u = sin_deg((lat_deg - at.lat_deg) / 2), v = sin_deg((lon_deg - at.lon_deg) / 2);
      const double h = u * u + cosine * cos_deg(lat_deg) * v * v;
      if (h >= least) continue;
      if (with_zone && number_at<std::uint16_t>(by_name_.rows + i * name_bytes + 16) == 0) continue;
      least = h;
      best = i;
    }
  };
  // Widest in longitude at the edge that lies nearer the pole.
  const double edge_deg = std::min(90.0, std::abs(at.lat_deg) + reach_deg);
  const double half_deg =
      edge_deg >= 90 ? 180.0
                     : std::min(180.0, asin_deg(sin_deg(std::min(reach_deg, 90.0)) / cos_deg(edge_deg)));
  for (double row = std::floor(std::max(-90.0, at.lat_deg - reach_deg));
       row <= std::floor(std::min(90.0, at.lat_deg + reach_deg)); ++row) {
    const double west = at.lon_deg - half_deg, east = at.lon_deg + half_deg;
    look(row, std::max(-180.0, west), std::min(180.0, east));
    if (west < -180) look(row, west + 360, 180);
    if (east > 180) look(row, -180, east - 360);
  }
  return best;
}

}  // namespace skerry::geodesy
