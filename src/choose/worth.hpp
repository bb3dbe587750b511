// What gains in turns are worth when the hours are short. Whole numbers, so that sums know no order.
// Room: choose, internal. Sees choose.hpp.
#pragma once

#include <algorithm>
#include <cstdint>
#include <vector>

#include "skerry/choose/choose.hpp"

namespace skerry::choose {

/// Hours as the choice counts them: whole milliseconds, >= 0; infinity and whatever is over 2^61 ms is no limit.
inline constexpr std::int64_t no_limit_ms = std::int64_t{1} << 61U;
[[nodiscard]] std::int64_t whole_ms(double hours);

/// A whole turn, as shares of it are counted: a number below 2^30 that halves, thirds, fifths, sevenths and the like
/// divide (2^6 3^3 5^2 7 11 13 17), so that equal parts are equal and add up.
inline constexpr std::int64_t whole_turn = 735134400;

/// The spells of a problem, made ready.
struct Clock {
  struct Part {
    int turn = 0;
    std::int64_t ms = 0;
    std::int64_t share = 0;  ///< of `whole_turn`, for all days of the spell together
    double per_ms = 0;       ///< share / ms
  };
  struct Spell {
    std::vector<Part> parts;
    std::int64_t all_ms = 0;
    double count = 1;
  };
  std::vector<Spell> spells;
  int turns = 0, engines = 0;
  std::vector<std::int64_t> own_ms;                 ///< per engine
  std::vector<std::int64_t> among_spells, more_ms;  ///< per engine

  /// What an engine has in each spell of so much that it is fed. Concave, never falls, never more than `fed_ms`.
  [[nodiscard]] std::int64_t in_spell(int engine, std::int64_t fed_ms) const {
    const auto e = static_cast<std::size_t>(engine);
    if (among_spells[e] <= 1 || fed_ms >= no_limit_ms) return fed_ms;
    return std::min(fed_ms, (fed_ms + more_ms[e]) / among_spells[e]);
  }
  /// The least that an engine must be fed to have so much in each spell.
  [[nodiscard]] std::int64_t fed_for(int engine, std::int64_t ms) const {
    const auto e = static_cast<std::size_t>(engine);
    return among_spells[e] <= 1 ? ms : std::max(ms, among_spells[e] * ms - more_ms[e]);
  }

  explicit Clock(const Problem& problem);
  [[nodiscard]] std::size_t where(int engine, int turn) const {
    return static_cast<std::size_t>(engine * turns + turn);
  }
  [[nodiscard]] std::size_t places() const { return static_cast<std::size_t>(engines * turns); }
};

/// Weighs gains by the clock. Holds room for it, so that nothing is allocated while weighing: one for each thread.
class Scales {
 public:
  explicit Scales(const Clock& clock);

  /// Worth: a gain for a whole turn counts `whole_turn` times. `gains`: whole gains at clock.where(engine, turn); `ms`: what each
  /// engine is fed. Never falls when a gain or an hour is added.
  [[nodiscard]] std::int64_t worth(const std::int64_t* gains, const std::int64_t* ms);
  /// What the last of `ms` brings in a spell, per ms; 0 where they are enough.
  [[nodiscard]] double marginal(std::size_t spell, int engine, const std::int64_t* gains, std::int64_t ms);

  /// How long an engine works in each part of a spell, ms (by the parts of the spell).
  struct Work {
    std::int64_t worth = 0;
    std::vector<std::int64_t> ms;
  };
  [[nodiscard]] Work work(std::size_t spell, int engine, const std::int64_t* gains, std::int64_t ms);

 private:
  const std::vector<int>& best_first(std::size_t spell, int engine, const std::int64_t* gains);
  /// Goes through the parts of a spell from the best on as long as the hours last: each(part, its ms worked).
  template <class Each>
  std::int64_t spend(std::size_t spell, int engine, const std::int64_t* gains, std::int64_t ms, Each&& each);

  const Clock& clock_;
  std::vector<std::vector<int>>
      order_;  ///< per spell and engine; as they stood last, so that sorting is short
};

}  // namespace skerry::choose
