// Loss of a bounce off sea or land, from a table made once: a Fresnel reflection costs two complex roots, and
// the inner loop asks for millions.

#include <array>

#include "data.hpp"
#include "skerry/antenna/ground.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::circuit {

namespace {

constexpr int elevations = 65;  // spaced as squares, dense near grazing where the sea's loss peaks
constexpr int frequencies = 33;
constexpr double low_mhz = 1.5, high_mhz = 64;

class Table {
 public:
  // Judgement: "average" handbook ground for land; wet or dry land differs by up to 2 dB a bounce.
  Table() {
    const double step = std::log10(high_mhz / low_mhz) / (frequencies - 1);
    for (int f = 0; f < frequencies; ++f) {
      const double mhz = low_mhz * std::pow(10.0, f * step);
      for (int e = 0; e < elevations; ++e) {
        const double u = static_cast<double>(e) / (elevations - 1);
        const double elevation = 90 * u * u;
        at(0, f, e) = antenna::reflection_loss_db(antenna::sea(), elevation, mhz);
        at(1, f, e) = antenna::reflection_loss_db(antenna::average_land(), elevation, mhz);
      }
    }
    inverse_step_ = 1 / step;
  }
  /// Place among the frequencies, 0 .. frequencies - 1.
  [[nodiscard]] double row(double log10_mhz) const {
    return std::clamp((log10_mhz - std::log10(low_mhz)) * inverse_step_, 0.0, frequencies - 1.0);
  }
  [[nodiscard]] const double* cells(int ground, int f) const {
    return &nth(cells_, (ground * frequencies + f) * elevations);
  }

 private:
  double& at(int g, int f, int e) { return nth(cells_, (g * frequencies + f) * elevations + e); }
  std::array<double, 2UL * frequencies * elevations> cells_{};
  double inverse_step_ = 1;
};

const Table& table() {
  static const Table made;
  return made;
}

}  // namespace

BounceLoss::BounceLoss(double log10_mhz) {
  const double y = table().row(log10_mhz);
  const int j = std::min(static_cast<int>(y), frequencies - 2);
  sea_ = table().cells(0, j);
  land_ = table().cells(1, j);
  share_ = y - j;
}

double BounceLoss::operator()(double on_land, double on_sea, double elevation_deg) const {
  const double x = std::sqrt(std::clamp(elevation_deg, 0.0, 90.0) / 90) * (elevations - 1);
  const int i = std::min(static_cast<int>(x), elevations - 2);
  const double u = x - i;
  const auto between = [&](const double* rows) {
    const double* a = rows + i;
    const double* b = a + elevations;
    return (1 - share_) * ((1 - u) * a[0] + u * a[1]) + share_ * ((1 - u) * b[0] + u * b[1]);
  };
  double loss = 0;
  if (on_land > 0) loss += on_land * between(land_);
  if (on_sea > 0) loss += on_sea * between(sea_);
  return loss;
}

}  // namespace skerry::circuit
