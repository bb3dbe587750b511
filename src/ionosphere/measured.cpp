#include "skerry/ionosphere/measured.hpp"

#include <Eigen/Cholesky>
#include <cassert>
#include <cmath>

#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/path.hpp"
#include "skerry/ionosphere/sky.hpp"

namespace skerry::ionosphere {

namespace {

/// Variance of a reading beside that of the departures it samples. Judgement: automatic scaling is good to
/// some 3 to 5 % and the daily departures have 10 to 15 %.
constexpr double reading_variance = 0.05;

/// Hours between two times of day, the short way round the clock.
double hours_between(double a, double b) {
  const double d = std::abs(wrap_24(a) - wrap_24(b));
  return std::min(d, 24 - d);
}

/// Great-circle distance on the sphere: 0.6 % is nothing here, and every control point asks.
double sphere_km(GeoPoint a, GeoPoint b) {
  const double c = sin_deg(a.lat_deg) * sin_deg(b.lat_deg) +
                   cos_deg(a.lat_deg) * cos_deg(b.lat_deg) * cos_deg(a.lon_deg - b.lon_deg);
  return earth_radius_km * rad_per_deg * acos_deg(c);
}

std::optional<double> clock_hours(std::string_view text) {
  if (text.size() != 5 || text[2] != ':') return std::nullopt;
  const auto hours = to_number(text.substr(0, 2));
  const auto minutes = to_number(text.substr(3, 2));
  for (const std::size_t i : {0U, 1U, 3U, 4U}) {
    if (text[i] < '0' || text[i] > '9') return std::nullopt;
  }
  if (!hours || !minutes || *hours > 23 || *minutes > 59) return std::nullopt;
  return *hours + *minutes / 60;
}

}  // namespace

double measured_share(double distance_km, double hours) {
  const double d = distance_km / measured_half_km;
  const double t = hours / measured_half_h;
  return std::exp2(-d * d - t * t);
}

Result<MeasuredFof2> parse_measured(std::string_view text, std::optional<double> now_h, const Where& where) {
  constexpr const char* accepted = "MHZ@PLACE@HH:MM in UTC, as 6.2@-20.1,57.5@14:30";
  const auto shown = [&] { return "'" + one_line(text) + "'"; };
  const auto first = text.find('@');
  if (first == std::string_view::npos) return fail(where, shown(), accepted);
  const auto second = text.find('@', first + 1);
  const auto mhz = to_number(trim(text.substr(0, first)));
  if (!mhz || *mhz < 0.5 || *mhz > 30)
    return fail(where, shown(), accepted, "foF2 is 0.5 to 30 MHz, most often 2 to 15");
  const auto end = std::min(second, text.size());
  auto place = geodesy::parse_place(trim(text.substr(first + 1, end - first - 1)), where);
  if (!place) return tl::unexpected(std::move(place.error()));
  MeasuredFof2 out{*mhz, *place, now_h.value_or(0)};
  if (second == std::string_view::npos) {
    if (!now_h)
      return fail(where, shown() + " without a time", accepted, "only for today can the time be left out");
    return out;
  }
  const auto hours = clock_hours(trim(text.substr(second + 1)));
  if (!hours) return fail(where, shown(), accepted, "the time is 00:00 to 23:59, UTC");
  out.utc_hour = *hours;
  return out;
}

std::vector<double> measured_ratios(const Climate& climate) {
  std::vector<GeoPoint> places;
  for (const auto& m : climate.measured) places.push_back(m.at);
  Climate bare = climate;
  bare.measured.clear();
  const Sky maps = sky(places, bare);
  std::vector<double> out;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const auto& m = climate.measured[i];
    assert(m.mhz >= 0.5 && m.mhz <= 30 && m.utc_hour >= 0 && m.utc_hour < 24);
    const auto row = static_cast<Eigen::Index>(i);
    const auto hour = static_cast<Eigen::Index>(m.utc_hour);
    const double share = m.utc_hour - std::floor(m.utc_hour);
    const double mapped =
        (1 - share) * maps.fof2_mhz(row, hour) + share * maps.fof2_mhz(row, (hour + 1) % 24);
    out.push_back(m.mhz / mapped);
  }
  return out;
}

void apply_measured(Sky& out, const Climate& climate) {
  const auto& readings = climate.measured;
  if (readings.empty() || out.size() == 0) return;
  const auto n = static_cast<Eigen::Index>(readings.size());
  const auto ratios = measured_ratios(climate);
  Eigen::MatrixXd among(n, n);
  Eigen::VectorXd logs(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const auto& a = readings[static_cast<std::size_t>(i)];
    logs(i) = std::log(ratios[static_cast<std::size_t>(i)]);
    for (Eigen::Index j = 0; j < n; ++j) {
      const auto& b = readings[static_cast<std::size_t>(j)];
      among(i, j) = measured_share(sphere_km(a.at, b.at), hours_between(a.utc_hour, b.utc_hour));
    }
    // One reading alone is taken at its word at its own place and hour: the noise only softens the
    // contradictions between several.
    if (n > 1) among(i, i) += reading_variance;
  }
  const Eigen::VectorXd weights = among.ldlt().solve(logs);
  for (Eigen::Index row = 0; row < out.size(); ++row) {
    const GeoPoint place = out.places[static_cast<std::size_t>(row)];
    for (Eigen::Index i = 0; i < n; ++i) {
      const auto& m = readings[static_cast<std::size_t>(i)];
      const double near = weights(i) * measured_share(sphere_km(place, m.at), 0);
      if (std::abs(near) < 1e-6) continue;
      for (int h = 0; h < 24; ++h)
        out.fof2_mhz(row, h) *= std::exp(near * measured_share(0, hours_between(h, m.utc_hour)));
    }
    for (int h = 0; h < 24; ++h) out.fof2_mhz(row, h) = std::max(0.5, out.fof2_mhz(row, h));
  }
}

}  // namespace skerry::ionosphere
