// A trip made ready, to be decided again and again.
// Layer: advice. Sees advise.hpp.
#pragma once

#include <memory>

#include "skerry/advice/advise.hpp"

namespace skerry::advice {

/// All that depends on the trip but neither on the mass limit nor on what must go or stay: setups, antennas solved,
/// the sky over all paths, the problem of the choice; later the other conditions and modes under which firmness is
/// asked. Owns its trip, and the advice it gives refers to nothing here.
///   decide()    what to carry, proof, reach, frontier, the kit's uses and openings, bags, cautions. Measured: 5 to
///               25 ms for the examples on one core.
///   complete()  what asks further: best kits without and with each thing, one antenna alone, variants, remedies,
///               each mode, firmness. The first time it lays out the other conditions (a tenth of a second or
///               two) and keeps them.
/// Both end early by AdviceOptions::stop and need no threads. Moved from, it may only be destroyed or assigned to.
class Prepared {
 public:
  ///   before  an earlier book, of the same things at another place: what is solved there is not solved again
  explicit Prepared(kit::Trip trip, const PatternBook* before = nullptr);
  Prepared(Prepared&&) noexcept;
  Prepared& operator=(Prepared&&) noexcept;
  ~Prepared();

  [[nodiscard]] const kit::Trip& trip() const;
  /// What Changes::must_go and not_mine name by number; as the trip stands.
  [[nodiscard]] const Inventory& inventory() const;
  /// The trip with the changes written into it: what an advice under them is told with.
  [[nodiscard]] kit::Trip trip_with(const Changes& changes) const;
  [[nodiscard]] Advice decide(const Changes& changes = {}, const AdviceOptions& options = {}) const;
  /// advice: of decide() of this object.
  void complete(Advice& advice, const AdviceOptions& options = {});

 private:
  struct Data;
  std::unique_ptr<Data> data_;
};

/// A book that keeps nothing but the currents of the wires over the ground they hang over: what holds wherever they
/// are hung over such ground, whatever lies further out.
[[nodiscard]] PatternBook currents_of(const PatternBook& book);

}  // namespace skerry::advice
