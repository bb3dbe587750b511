#include "skerry/ionosphere/sky.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <chrono>
#include <cmath>
#include <memory>
#include <tuple>
#include <utility>
#include <vector>

#include "foe.hpp"
#include "igrf.hpp"
#include "maps.hpp"
#include "skerry/core/kept.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"
#include "skerry/ionosphere/activity.hpp"
#include "skerry/ionosphere/measured.hpp"
#include "skerry/sun/position.hpp"

namespace skerry::ionosphere {

namespace {

using detail::fof2_functions;
using detail::hours;

// Judgement: places handled together; their functions and both maps (160 kB) stay in the second-level cache.
constexpr std::size_t block_places = 128;
constexpr std::size_t lanes = 4;
// Judgement: no more than these belong to one path.
constexpr std::size_t few_places = 32;
constexpr double absorption_height_km = 100.0;  // Source: ITU-R P.533 section 5 (from memory)
constexpr double muf_height_km = 300.0;  // Source: ITU-R P.533 section 3, and the modified dip's own height

// Judgement: nothing weaker or stranger than this leaves the maps. Measured on a 3 x 6 degree grid, all
// months, hours and five activities, 2020 field: foF2 of the CCIR set is 0.60..20.3 MHz, the URSI set falls
// below 0.5 in 9 of 5.3 million cases; on a coarser grid M(3000)F2 is 1.9..4.0 and never touches its limits.
constexpr double least_fof2_mhz = 0.5;
constexpr double least_m3000f2 = 1.5;
constexpr double most_m3000f2 = 4.5;

struct SunHour {
  double sin_dec = 0, cos_dec = 0, tan_dec = 0, sin_lon = 0, cos_lon = 0, lon_deg = 0;
};
using SunDay = std::array<SunHour, static_cast<std::size_t>(hours)>;

/// What neither month nor hour changes at some places.
struct Ground {
  Eigen::Matrix<double, Eigen::Dynamic, fof2_functions, Eigen::RowMajor> functions;
  std::vector<double> sin_lat, cos_lat, sin_lon, cos_lon;  ///< to whole lanes
  Eigen::ArrayXd modip_deg, dip100_deg, gyro100_mhz, gyro300_mhz;

  explicit Ground(std::size_t most) {
    const auto rows = static_cast<Eigen::Index>(most);
    functions.resize(rows, Eigen::NoChange);
    for (auto* column : {&sin_lat, &cos_lat, &sin_lon, &cos_lon})
      column->resize((most + lanes - 1) / lanes * lanes);
    for (auto* column : {&modip_deg, &dip100_deg, &gyro100_mhz, &gyro300_mhz}) column->resize(rows);
  }
};
using Values = Eigen::Matrix<double, Eigen::Dynamic, 2 * hours, Eigen::RowMajor>;
using FieldHere = detail::FieldAtHeights<2>;

struct Job {
  detail::HourCoefficients coefficients;
  FieldHere field;
  SunDay sun;
  double noon_declination_deg = 0;
  double f107 = 0;
};

void trigonometry(std::span<const GeoPoint> places, Ground& out) {
  const std::size_t count = places.size();
  for (std::size_t i = 0; i < count; ++i) {
    const GeoPoint p = places[i];
    out.sin_lat[i] = sin_deg(p.lat_deg);
    out.cos_lat[i] = std::abs(p.lat_deg) == 90.0 ? 0.0 : cos_deg(p.lat_deg);
    out.sin_lon[i] = sin_deg(p.lon_deg);
    out.cos_lon[i] = cos_deg(p.lon_deg);
  }
  for (std::size_t i = count; i % lanes != 0; ++i) {  // the last lanes get a copy, which is thrown away
    for (auto* column : {&out.sin_lat, &out.cos_lat, &out.sin_lon, &out.cos_lon})
      (*column)[i] = (*column)[count - 1];
  }
}

void lay(std::span<const GeoPoint> places, const FieldHere& field, Ground& out) {
  trigonometry(places, out);
  Field at[lanes][2];
  for (std::size_t i = 0; i < places.size(); i += lanes) {
    detail::evaluate<lanes, 2>(field, &out.sin_lat[i], &out.cos_lat[i], &out.sin_lon[i], &out.cos_lon[i], at);
    for (std::size_t j = i; j < std::min(i + lanes, places.size()); ++j) {
      const Field& low = at[j - i][0];
      const Field& high = at[j - i][1];
      const auto row = static_cast<Eigen::Index>(j);
      const double modip = detail::modip_rad(high, out.cos_lat[j]);
      out.modip_deg[row] = modip * deg_per_rad;
      out.dip100_deg[row] = low.dip_deg();
      out.gyro100_mhz[row] = low.gyro_mhz();
      out.gyro300_mhz[row] = high.gyro_mhz();
      detail::place_functions(std::sin(modip), out.cos_lat[j], out.cos_lon[j], out.sin_lon[j],
                              out.functions.row(row).data());
    }
  }
}

/// One path's places, which many questions share.
std::shared_ptr<const Ground> ground_of(std::span<const GeoPoint> places, double epoch,
                                        const FieldHere& field) {
  static Kept<std::pair<std::vector<GeoPoint>, double>, Ground, most_kept> kept;
  return kept.of({{places.begin(), places.end()}, epoch}, [&] {
    Ground out(places.size());
    lay(places, field, out);
    return out;
  });
}

/// The places of a block, which begin at a row of the sky.
struct Block {
  std::size_t begin, count;
  [[nodiscard]] Eigen::Index first() const { return static_cast<Eigen::Index>(begin); }
  [[nodiscard]] Eigen::Index rows() const { return static_cast<Eigen::Index>(count); }
};

void maps(const Job& job, Block block, const Ground& ground, Values& values, Sky& sky) {
  const auto rows = block.rows();
  values.topRows(rows).noalias() = ground.functions.topRows(rows) * job.coefficients;
  sky.fof2_mhz.middleRows(block.first(), rows) =
      values.topLeftCorner(rows, hours).array().max(least_fof2_mhz);
  sky.m3000f2.middleRows(block.first(), rows) =
      values.topRightCorner(rows, hours).array().max(least_m3000f2).min(most_m3000f2);
  sky.modip_deg.segment(block.first(), rows) = ground.modip_deg.head(rows);
  sky.dip100_deg.segment(block.first(), rows) = ground.dip100_deg.head(rows);
  sky.gyro100_mhz.segment(block.first(), rows) = ground.gyro100_mhz.head(rows);
  sky.gyro300_mhz.segment(block.first(), rows) = ground.gyro300_mhz.head(rows);
}

// Hours since the Sun set, at hour angle `angle_deg` (-180..180, noon 0) of a night; negative in polar night.
double hours_after_sunset(double tan_lat_tan_dec, double angle_deg) {
  if (tan_lat_tan_dec <= -1.0) return -1.0;
  const double sunset_deg = acos_deg(-tan_lat_tan_dec);
  // A rounding error before sunset must not become a whole day after it.
  const double since_deg = angle_deg - sunset_deg;
  return (since_deg < -1e-6 ? since_deg + 360.0 : std::max(since_deg, 0.0)) / 15.0;
}

void sun_and_e_layer(const Job& job, Block block, const Ground& work, Sky& sky) {
  for (std::size_t i = 0; i < block.count; ++i) {
    const auto row = static_cast<Eigen::Index>(block.begin + i);
    const GeoPoint p = sky.places[block.begin + i];
    const detail::FoePlace place = detail::foe_place(p.lat_deg, job.noon_declination_deg, job.f107);
    const double tan_lat = work.sin_lat[i] / std::max(work.cos_lat[i], 1e-12);
    for (int h = 0; h < hours; ++h) {
      const SunHour& sun = job.sun[static_cast<std::size_t>(h)];
      // Source: as in sun::zenith_deg (spherical law of cosines), with the hour angle's cosine by the
      // addition theorem.
      const double cos_zenith = std::clamp(
          work.sin_lat[i] * sun.sin_dec +
              work.cos_lat[i] * sun.cos_dec * (work.cos_lon[i] * sun.cos_lon + work.sin_lon[i] * sun.sin_lon),
          -1.0, 1.0);
      const double zenith_deg = deg_per_rad * std::acos(cos_zenith);
      const double after_h =
          zenith_deg < detail::foe_night_deg
              ? 0.0
              : hours_after_sunset(tan_lat * sun.tan_dec, wrap_180(p.lon_deg - sun.lon_deg));
      sky.zenith_deg(row, h) = zenith_deg;
      sky.foe_mhz(row, h) = detail::foe_at(place, cos_zenith, zenith_deg, after_h);
    }
  }
}

Job make_job(const Climate& climate, double index) {
  Job out{
      detail::hour_coefficients(static_cast<unsigned>(climate.day.month()), index, climate.r12, climate.maps),
      detail::FieldAtHeights<2>(detail::field_model(climate.field_epoch),
                                {absorption_height_km, muf_height_km}),
      {},
      0.0,
      f107_from_r12(climate.r12)};
  for (int h = 0; h < hours; ++h) {
    const sun::Position position = sun::position(start_of(climate.day) + std::chrono::hours{h});
    const double dec_deg = position.declination_deg;
    const double lon_deg = position.subsolar.lon_deg;
    out.sun[static_cast<std::size_t>(h)] = {sin_deg(dec_deg), cos_deg(dec_deg), tan_deg(dec_deg),
                                            sin_deg(lon_deg), cos_deg(lon_deg), lon_deg};
    // The noon height of the Sun (factor B) is the day's, not the hour's: 0.2 deg apart at most, 0.2 % of
    // foE.
    if (h == 12) out.noon_declination_deg = dec_deg;
  }
  return out;
}

std::shared_ptr<const Job> job_of(const Climate& climate) {
  using Key = std::tuple<std::chrono::sys_days, double, double, MapSet, double>;
  static Kept<Key, Job, most_kept> kept;
  const double index = climate.fof2_index.value_or(fof2_index(climate.r12));
  return kept.of(Key{climate.day, climate.r12, index, climate.maps, climate.field_epoch},
                 [&] { return make_job(climate, index); });
}

}  // namespace

Sky sky(std::span<const GeoPoint> places, const Climate& climate) {
  assert(climate.day.ok());
  Sky out;
  out.places.assign(places.begin(), places.end());
  const auto n = static_cast<Eigen::Index>(places.size());
  for (HourTable* table : {&out.fof2_mhz, &out.m3000f2, &out.foe_mhz, &out.zenith_deg})
    table->resize(n, hours);
  for (Eigen::ArrayXd* column : {&out.modip_deg, &out.dip100_deg, &out.gyro100_mhz, &out.gyro300_mhz})
    column->resize(n);
  if (places.empty()) return out;

  const auto job = job_of(climate);
  const auto fill = [&](Block block, const Ground& ground, Values& values) {
    maps(*job, block, ground, values, out);
    sun_and_e_layer(*job, block, ground, out);
  };
  if (places.size() <= few_places) {
    Values values(n, 2 * hours);
    fill({0, places.size()}, *ground_of(places, climate.field_epoch, job->field), values);
  } else {
    // Judgement: four blocks a piece, so that a piece (about 1 ms) outweighs handing it out.
    parallel_for(places.size(), 4 * block_places, [&](std::size_t begin, std::size_t end) {
      const std::size_t most = std::min(block_places, end - begin);
      Ground ground(most);
      Values values(most, 2 * hours);
      for (std::size_t at = begin; at < end; at += block_places) {
        const Block block{at, std::min(block_places, end - at)};
        lay(places.subspan(block.begin, block.count), job->field, ground);
        fill(block, ground, values);
      }
    });
  }
  apply_measured(out, climate);
  return out;
}

}  // namespace skerry::ionosphere
