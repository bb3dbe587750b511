#include "columns.hpp"

#include <algorithm>
#include <cassert>
#include <cstdint>
#include <numeric>
#include <vector>

#include "bytes.hpp"
#include "gazetteer_data.hpp"

namespace skerry::geodesy {

namespace {

constexpr std::size_t degree_rows = 180;
constexpr std::int32_t step_per_deg = 10'000;

using Numbers = std::vector<std::uint32_t>;

void put(std::string& out, std::uint32_t value, std::size_t bytes) {
  for (std::size_t k = 0; k < bytes; ++k) out += static_cast<char>(value >> (8 * k) & 255U);
}

/// Seven bits a byte, as class Bytes reads them.
void put_count(std::string& out, std::uint32_t value) {
  for (; value >= 128; value >>= 7U) out += static_cast<char>((value & 127U) | 128U);
  out += static_cast<char>(value);
}
void put_difference(std::string& out, std::int32_t value) {
  put_count(out, static_cast<std::uint32_t>(value) << 1U ^ (value < 0 ? ~0U : 0U));
}

/// A name in the order of rows and longitudes.
struct Row {
  std::int32_t lat = 0, lon = 0;
  std::uint32_t people = 0, zone = 0, country = 0, kind = 0, others = 0, listed = 0;
  std::string_view name, state;
};

struct Columns {
  std::string_view zones, countries, folds, strangers;
  std::vector<Row> rows;
  std::vector<std::string_view> others;
  Numbers gathered;
  std::uint32_t stranger_count = 0;
};

/// Takes one part after the other off the front.
class Parts {
 public:
  explicit Parts(std::string_view bytes) : rest_(bytes) {}
  std::string_view take(std::size_t length) {
    assert(length <= rest_.size());
    const auto out = rest_.substr(0, length);
    rest_.remove_prefix(length);
    return out;
  }
  Numbers column(std::size_t count, std::size_t width) {
    const auto bytes = take(count * width);
    Numbers out(count);
    for (std::size_t k = width; k-- > 0;) {
      for (std::size_t i = 0; i < count; ++i)
        out[i] = out[i] << 8U | static_cast<unsigned char>(bytes[k * count + i]);
    }
    return out;
  }
  std::vector<std::string_view> texts(std::size_t length) {
    auto bytes = take(length);
    std::vector<std::string_view> out;
    while (!bytes.empty()) {
      out.push_back(bytes.substr(0, bytes.find('\0')));
      bytes.remove_prefix(out.back().size() + 1);
    }
    return out;
  }
  [[nodiscard]] std::string_view rest() const { return rest_; }

 private:
  std::string_view rest_;
};

Columns read(std::string_view bytes) {
  Parts parts(bytes);
  [[maybe_unused]] const auto mark = parts.take(4);
  assert(mark == "SKGC");
  Numbers head(8);
  for (auto& number : head) number = parts.column(1, 4).front();
  Columns out;
  out.zones = parts.take(head[0]);
  out.countries = parts.take(head[1]);
  out.folds = parts.take(4 * std::size_t{head[2]});
  const std::size_t count = head[3];
  out.rows.resize(count);
  const auto per_row = parts.column(degree_rows, 2);
  const auto lat = parts.column(count, 2), lon = parts.column(count, 3);
  const auto fill = [&](std::uint32_t Row::*member, std::size_t width) {
    const auto numbers = parts.column(count, width);
    for (std::size_t i = 0; i < count; ++i) out.rows[i].*member = numbers[i];
  };
  fill(&Row::people, 4);
  fill(&Row::zone, 2);
  for (const auto member : {&Row::country, &Row::kind, &Row::others, &Row::listed}) fill(member, 1);
  const auto names = parts.texts(head[4]);
  out.others = parts.texts(head[5]);
  const auto states = parts.texts(head[6]);
  std::size_t i = 0, listed = 0;
  for (std::size_t row = 0; row < degree_rows; ++row) {
    std::int32_t last = -180 * step_per_deg;
    for (std::uint32_t n = 0; n < per_row[row]; ++n, ++i) {
      last += static_cast<std::int32_t>(lon[i]);
      out.rows[i].lat =
          (static_cast<std::int32_t>(row) - 90) * step_per_deg + static_cast<std::int32_t>(lat[i]);
      out.rows[i].lon = last;
      out.rows[i].name = names[i];
      out.rows[i].state = states[i];
      listed += out.rows[i].listed != 0 ? 1 : 0;
    }
  }
  assert(i == count);
  out.gathered = parts.column(listed, 3);
  out.stranger_count = head[7];
  out.strangers = parts.rest();
  return out;
}

}  // namespace

std::string names_of_columns(std::string_view columns) {
  const auto all = read(columns);
  const auto& rows = all.rows;
  const auto fold = [&](std::string_view name) { return Gazetteer::folded(name, all.folds); };
  std::vector<std::string> keys(rows.size());
  std::transform(rows.begin(), rows.end(), keys.begin(), [&](const Row& row) { return fold(row.name); });
  std::vector<std::uint32_t> by_name(rows.size()), rank(rows.size());
  std::iota(by_name.begin(), by_name.end(), 0U);
  std::sort(by_name.begin(), by_name.end(), [&](std::uint32_t a, std::uint32_t b) {
    const int apart = keys[a].compare(keys[b]);
    if (apart != 0) return apart < 0;
    if (rows[a].people != rows[b].people) return rows[a].people > rows[b].people;
    return rows[a].lat != rows[b].lat ? rows[a].lat < rows[b].lat : rows[a].lon < rows[b].lon;
  });
  for (std::uint32_t i = 0; i < by_name.size(); ++i) rank[by_name[i]] = i;

  struct Other {
    std::string key;
    std::uint32_t name;
    std::string_view text;
  };
  std::vector<Other> others;
  for (std::size_t k = 0; k < rows.size(); ++k) {
    for (std::uint32_t n = 0; n < rows[k].others; ++n) {
      const auto text = all.others.at(others.size());
      others.push_back({fold(text), rank[k], text});
    }
  }
  std::sort(others.begin(), others.end(), [](const Other& a, const Other& b) {
    const int apart = a.key.compare(b.key);
    return apart != 0 ? apart < 0 : a.name < b.name;
  });

  std::string pool, table, other_table;
  for (const auto k : by_name) {
    const Row& row = rows[k];
    put(table, static_cast<std::uint32_t>(pool.size()), 4);
    put(table, static_cast<std::uint32_t>(row.lat), 4);
    put(table, static_cast<std::uint32_t>(row.lon), 4);
    put(table, row.people, 4);
    put(table, row.zone, 2);
    put(table, row.country, 1);
    put(table, row.kind, 1);
    for (const auto text : {row.name, row.state}) pool.append(text) += '\0';
  }
  for (const auto& other : others) {
    put(other_table, static_cast<std::uint32_t>(pool.size()), 4);
    put(other_table, other.name, 4);
    pool.append(other.text) += '\0';
  }
  std::string out = "SKGN";
  for (const auto size : {all.zones.size(), all.countries.size(), all.folds.size() / 4, rows.size(),
                          others.size(), pool.size()})
    put(out, static_cast<std::uint32_t>(size), 4);
  out.append(all.zones).append(all.countries).append(all.folds).append(table).append(other_table);
  for (const auto i : rank) put(out, i, 2);
  return out + pool;
}

std::string places_of_columns(std::string_view columns) {
  const auto all = read(columns);
  struct Listed {
    std::int32_t lat = 0, lon = 0;
    std::uint32_t people = 0, together = 0, rank = 0;
    std::string_view name;
  };
  std::vector<Listed> out;
  for (const Row& row : all.rows) {
    if (row.listed == 0) continue;
    // Thousandths of a degree: one of the two beside it, as the listing rounded the number that it had.
    const auto beside = [](std::int32_t value) { return (value - (value % 10 + 10) % 10) / 10; };
    const auto up = static_cast<std::int32_t>(row.listed - 1);
    out.push_back({beside(row.lat) + up % 2, beside(row.lon) + up / 2 % 2, row.people,
                   row.people + all.gathered.at(out.size()), static_cast<std::uint32_t>(up / 4), row.name});
  }
  for (Bytes rest(all.strangers, ""); !rest.done();) {
    Listed one;
    one.lat = rest.difference();
    one.lon = rest.difference();
    one.people = rest.count();
    one.together = rest.count();
    const std::uint32_t length = rest.count();
    one.name = rest.text(length);
    out.push_back(one);
  }
  std::sort(out.begin(), out.end(), [](const Listed& a, const Listed& b) {
    if (a.people != b.people) return a.people > b.people;
    return a.name != b.name ? a.name < b.name : a.rank < b.rank;
  });
  std::string bytes = "SKPL";
  put_count(bytes, static_cast<std::uint32_t>(out.size()));
  for (const auto& one : out) {
    put_difference(bytes, one.lat);
    put_difference(bytes, one.lon);
    for (const auto number : {one.people, one.together, static_cast<std::uint32_t>(one.name.size())})
      put_count(bytes, number);
    bytes += one.name;
  }
  return bytes;
}

}  // namespace skerry::geodesy
