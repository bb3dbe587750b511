// The packing problem made small, once for all questions: whole numbers, merged things, dominated ways gone; and
// what one question changes of it. Room: choose, internal. Sees choose.hpp.
#pragma once

#include <cstdint>
#include <vector>

#include "worth.hpp"

namespace skerry::choose {

struct Ready {
  explicit Ready(const Problem& given);

  const Problem& problem;
  Clock clock;
  std::int64_t all = 0;              ///< worth of all cells served whole all the time
  std::vector<std::int64_t> weight;  ///< whole, per cell

  struct Entry {
    std::int32_t gain = 0;
    std::int32_t way = 0;
  };
  /// A cell under one engine, with the ways that serve it, by falling gain. No way stands there that a way with
  /// some of its things matches.
  struct Slot {
    std::int32_t number = 0;
    std::int32_t where = 0;  ///< clock.where(engine, turn)
    std::int32_t engine = 0;
    std::int32_t begin = 0, end = 0;  ///< into Lists::entries
  };
  struct Lists {
    std::vector<Entry> entries;
    std::vector<Slot> slots;
    std::vector<std::int64_t>
        settled;           ///< at where: gains of slots that are left out, as nothing more may come
    std::size_t ways = 0;  ///< that they were made of
  };
  Lists lists;  ///< all ways; a slot's number is its place
  struct Gain {
    std::int32_t slot = 0, gain = 0;
  };
  struct Way {
    std::vector<int> groups;
    int engine = 0;
    bool fed = false;                 ///< one of its own things feeds its engine
    std::int32_t begin = 0, end = 0;  ///< into `gains`
  };
  std::vector<Way> ways;
  std::vector<Gain> gains;

  /// Things that only work together are one group.
  std::vector<std::vector<int>> group;
  std::vector<int> group_of;  ///< per item; -1: serves nothing
  struct Feed {
    int group = 0;
    std::int64_t ms = 0, mg = 0;
  };
  std::vector<std::vector<Feed>> feeds;  ///< per engine, by falling ms per mg
  /// Groups of one thing each that stand for one another, by name.
  std::vector<std::vector<int>> alike;

  std::vector<std::int64_t> item_mg;
  std::vector<int> rank;  ///< per item, of its name

  /// A weight, or a share of one, in whole steps.
  [[nodiscard]] std::int32_t whole(double weight_or_share) const;

 private:
  double scale_[2] = {0, 0};
};

/// What one question says of the groups.
struct Question {
  Question(const Ready& ready, const Ask& ask);

  std::vector<int> forced;  ///< items that go whatever happens, sorted
  std::int64_t base_mg = 0;
  std::int64_t left_mg = 0;         ///< limit less base; negative: over the limit
  std::vector<std::int64_t> mg;     ///< per group: what it still weighs
  std::vector<int> in, out;         ///< groups decided before the search
  std::vector<int> before, behind;  ///< per group: the one like it that goes first, that comes next; -1
  std::vector<int> start;           ///< groups of Ask::start, without `in`

  /// Items of a kit of groups, sorted.
  [[nodiscard]] std::vector<int> items(const Ready& ready, const std::vector<int>& groups) const;
};

}  // namespace skerry::choose
