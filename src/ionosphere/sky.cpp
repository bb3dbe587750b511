#include "skerry/ionosphere/sky.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <chrono>
#include <cmath>
#include <memory>
#include <tuple>

#include "foe.hpp"
#include "igrf.hpp"
#include "kept.hpp"
#include "maps.hpp"
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

struct Workspace {
  Eigen::Matrix<double, block_places, fof2_functions, Eigen::RowMajor> functions;
  Eigen::Matrix<double, block_places, 2 * hours, Eigen::RowMajor> values;
  std::array<double, block_places> sin_lat{}, cos_lat{}, sin_lon{}, cos_lon{};
};

struct Job {
  detail::HourCoefficients coefficients;
  detail::FieldAtHeights<2> field;
  SunDay sun;
  double noon_declination_deg = 0;
  double f107 = 0;
};

void trigonometry(const Sky& sky, std::size_t begin, std::size_t count, Workspace& work) {
  for (std::size_t i = 0; i < count; ++i) {
    const GeoPoint p = sky.places[begin + i];
    work.sin_lat[i] = sin_deg(p.lat_deg);
    work.cos_lat[i] = std::abs(p.lat_deg) == 90.0 ? 0.0 : cos_deg(p.lat_deg);
    work.sin_lon[i] = sin_deg(p.lon_deg);
    work.cos_lon[i] = cos_deg(p.lon_deg);
  }
  for (std::size_t i = count; i % lanes != 0; ++i) {  // the last lanes get a copy, which is thrown away
    work.sin_lat[i] = work.sin_lat[count - 1];
    work.cos_lat[i] = work.cos_lat[count - 1];
    work.sin_lon[i] = work.sin_lon[count - 1];
    work.cos_lon[i] = work.cos_lon[count - 1];
  }
}

void fields_and_functions(const Job& job, std::size_t begin, std::size_t count, Workspace& work, Sky& sky) {
  Field at[lanes][2];
  for (std::size_t i = 0; i < count; i += lanes) {
    detail::evaluate<lanes, 2>(job.field, &work.sin_lat[i], &work.cos_lat[i], &work.sin_lon[i],
                               &work.cos_lon[i], at);
    for (std::size_t j = i; j < std::min(i + lanes, count); ++j) {
      const Field& low = at[j - i][0];
      const Field& high = at[j - i][1];
      const auto row = static_cast<Eigen::Index>(begin + j);
      const double modip = detail::modip_rad(high, work.cos_lat[j]);
      sky.modip_deg[row] = modip * deg_per_rad;
      sky.dip100_deg[row] = low.dip_deg();
      sky.gyro100_mhz[row] = low.gyro_mhz();
      sky.gyro300_mhz[row] = high.gyro_mhz();
      detail::place_functions(std::sin(modip), work.cos_lat[j], work.cos_lon[j], work.sin_lon[j],
                              work.functions.row(static_cast<Eigen::Index>(j)).data());
    }
  }
}

void maps(const Job& job, std::size_t begin, std::size_t count, Workspace& work, Sky& sky) {
  const auto rows = static_cast<Eigen::Index>(count);
  const auto first = static_cast<Eigen::Index>(begin);
  work.values.topRows(rows).noalias() = work.functions.topRows(rows) * job.coefficients;
  sky.fof2_mhz.middleRows(first, rows) = work.values.topLeftCorner(rows, hours).array().max(least_fof2_mhz);
  sky.m3000f2.middleRows(first, rows) =
      work.values.topRightCorner(rows, hours).array().max(least_m3000f2).min(most_m3000f2);
}

// Hours since the Sun set, at hour angle `angle_deg` (-180..180, noon 0) of a night; negative in polar night.
double hours_after_sunset(double tan_lat_tan_dec, double angle_deg) {
  if (tan_lat_tan_dec <= -1.0) return -1.0;
  const double sunset_deg = acos_deg(-tan_lat_tan_dec);
  // A rounding error before sunset must not become a whole day after it.
  const double since_deg = angle_deg - sunset_deg;
  return (since_deg < -1e-6 ? since_deg + 360.0 : std::max(since_deg, 0.0)) / 15.0;
}

void sun_and_e_layer(const Job& job, std::size_t begin, std::size_t count, const Workspace& work, Sky& sky) {
  for (std::size_t i = 0; i < count; ++i) {
    const auto row = static_cast<Eigen::Index>(begin + i);
    const GeoPoint p = sky.places[begin + i];
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
  static detail::Kept<Key, Job, detail::most_kept> kept;
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
  // Judgement: four blocks a piece, so that a piece (about 1 ms) outweighs handing it out.
  parallel_for(places.size(), 4 * block_places, [&](std::size_t begin, std::size_t end) {
    const auto work = std::make_unique<Workspace>();
    for (std::size_t at = begin; at < end; at += block_places) {
      const std::size_t count = std::min(block_places, end - at);
      trigonometry(out, at, count, *work);
      fields_and_functions(*job, at, count, *work, out);
      maps(*job, at, count, *work, out);
      sun_and_e_layer(*job, at, count, *work, out);
    }
  });
  apply_measured(out, climate);
  return out;
}

}  // namespace skerry::ionosphere
