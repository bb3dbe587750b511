#include "skerry/forms/horizon.hpp"

#include "common.hpp"

namespace skerry::forms {

std::string horizon_json(const words::HorizonAnswer& a) {
  Json out = {{"schema", "skerry.horizon/1"}, {"at", place_json(a.at, a.named)}};
  out["altitude_m"] = rounded(a.around.ground_m, 1);
  out["eye_m"] = rounded(a.view.eye_m, 1);
  out["reach_km"] = rounded(a.view.reach_km, 1);
  out["files"] = a.files;
  out["cell_m"] = rounded(a.cell_m, 1);
  out["missing_share"] = rounded(a.missing_share, 4);
  out["void_share"] = rounded(a.void_share, 6);
  out["missing_squares"] = a.absent;
  Json azimuths = Json::array();
  for (std::size_t i = 0; i < a.around.skyline.size(); ++i) {
    const auto& shore = a.around.shore[i];
    azimuths.push_back({{"azimuth_deg", rounded(a.around.azimuth_deg(i), 2)},
                        {"skyline_deg", rounded(a.around.skyline[i].deg, 2)},
                        {"skyline_km", rounded(a.around.skyline[i].km, 2)},
                        {"fall_deg", rounded(a.around.fall_deg[i], 1)},
                        {"sea_from_m", shore ? Json(rounded(shore->from_m, 0)) : Json(nullptr)},
                        {"sea_open_km", shore ? Json(rounded(shore->open_km, 1)) : Json(nullptr)}});
  }
  out["azimuths"] = std::move(azimuths);
  out["regions"] = list(a.marks, [](const auto& m) -> Json {
    Json one = {{"name", m.region},
                {"bearing_deg", rounded(m.bearing_deg, 1)},
                {"distance_km", rounded(m.distance_km, 0)},
                {"skyline_deg", rounded(m.skyline.deg, 2)},
                {"skyline_km", rounded(m.skyline.km, 2)},
                {"takeoff", nullptr}};
    if (m.leaves) {
      one["takeoff"] = {{"lowest_deg", rounded(m.leaves->lowest_deg, 1)},
                        {"usual_deg", rounded(m.leaves->usual_deg, 1)},
                        {"highest_deg", rounded(m.leaves->highest_deg, 1)},
                        {"usual_band", m.leaves->usual_band},
                        {"open_hours", m.leaves->open},
                        {"best_days_in_ten", rounded(m.leaves->best_days_in_ten, 1)}};
    }
    return one;
  });
  out["trip_rows"] = a.rows;
  return dump(out);
}

std::string horizon_csv(const words::HorizonAnswer& a) {
  std::string out = "azimuth_deg,skyline_deg,skyline_km,fall_deg,sea_from_m,sea_open_km\n";
  for (std::size_t i = 0; i < a.around.skyline.size(); ++i) {
    const auto& shore = a.around.shore[i];
    out += fmt::format("{:g},{},{},{},{},{}\n", a.around.azimuth_deg(i), fixed(a.around.skyline[i].deg, 2),
                       fixed(a.around.skyline[i].km, 2), fixed(a.around.fall_deg[i], 1),
                       shore ? fixed(shore->from_m, 0) : "", shore ? fixed(shore->open_km, 1) : "");
  }
  return out;
}

}  // namespace skerry::forms
