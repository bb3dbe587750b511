// Wires hung up at the sites of a trip: their currents and fields, each solved once.
// Layer: advice, internal. Sees patterns.hpp.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "skerry/advice/patterns.hpp"
#include "skerry/antenna/mast.hpp"

namespace skerry::advice {

/// Solutions shared by all threads. Who comes second with the same wires may solve them again: the same.
struct SolvedWires {
  template <class T>
  struct Shelf {
    std::mutex guard;
    std::map<std::string, std::shared_ptr<const T>> by_key;

    [[nodiscard]] std::shared_ptr<const T> find(const std::string& key) {
      const std::lock_guard lock(guard);
      const auto at = by_key.find(key);
      return at == by_key.end() ? nullptr : at->second;
    }
    std::shared_ptr<const T> keep(const std::string& key, T&& solved) {
      auto kept = std::make_shared<const T>(std::move(solved));
      const std::lock_guard lock(guard);
      return by_key.try_emplace(key, std::move(kept)).first->second;
    }
  };
  Shelf<antenna::Solution> currents;  ///< by wires, ground and frequency; trials of trimming too
  Shelf<antenna::Radiated> fields;    ///< by foreground besides
  Shelf<antenna::MastSway> sways;     ///< by wires, ground, frequency and transformer
};

/// One way of hanging a wire on a band, and the currents that it may share with others.
struct Hung {
  std::shared_ptr<const antenna::Solution> currents;
  std::vector<antenna::Foreground> further_out;
  struct Toward {
    double sea_from_m = 0;  ///< 0: land
    int fall_deg = 0;
  };
  std::vector<Toward> towards;  ///< where each of further_out lies
  std::string key;              ///< of its far fields
  std::vector<antenna::Note> notes;
  antenna::Raised stands;                             ///< trimmed; its wires with the Q of their coils
  std::shared_ptr<const antenna::Radiated> radiated;  ///< once asked for; beyond as in further_out
};

struct WireJob {
  const kit::Setup* setup = nullptr;
  int band = 0;
};

/// How much the ground falls that way, in whole degrees.
[[nodiscard]] int fall_towards_deg(const kit::Site& site, double bearing_deg);

/// Puts up, trims and solves; no fields yet.
[[nodiscard]] tl::expected<Hung, Unfit> solve_wires(const kit::Trip& trip, const WireJob& job,
                                                    SolvedWires& known);
/// Where the power goes, if it is not known yet: the dearer half of the work.
void find_fields(const kit::Site& site, Hung& hung, SolvedWires& known);
/// Why a wire along a conductive mast is refused: what nobody knows of the mast decides too much.
[[nodiscard]] std::optional<Unfit> mast_doubt(const kit::Trip& trip, const WireJob& job, const Hung& hung,
                                              SolvedWires& known);
/// Solves what is not known yet, for antenna::trimmed.
[[nodiscard]] antenna::Meter remembering(SolvedWires& known);

/// Asks once for what is to be known about each ground on each band.
void prepare_grounds(const kit::Trip& trip, const std::vector<WireJob>& jobs);

}  // namespace skerry::advice
