// Sharing out against trying every way.
#include "skerry/choose/share_out.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "check.hpp"

using namespace skerry::choose;

namespace {

/// Every way of putting the parcels into the bins, one after the other, from the k-th on.
bool some_way(const std::vector<Bin>& bins, std::span<const Parcel> parcels, const std::vector<Quota>& quotas,
              std::size_t k = 0) {
  if (k == parcels.size()) return true;
  const Parcel& p = parcels[k];
  for (std::size_t b = 0; b < bins.size(); ++b) {
    if (((p.may >> b) & 1U) == 0 || bins[b].mg < p.mg || bins[b].mm3 < p.mm3) continue;
    auto left = quotas;
    bool within = true;
    for (auto& q : left) {
      if (((q.bins >> b) & 1U) != 0) q.most -= q.amounts[k];
      within = within && q.most >= 0;
    }
    if (!within) continue;
    auto rest = bins;
    rest[b].mg -= p.mg;
    rest[b].mm3 -= p.mm3;
    if (some_way(rest, parcels, left, k + 1)) return true;
  }
  return false;
}

/// Things cut out of bags at random, so that they go in with the given share to spare.
struct Partition {
  std::vector<Bin> bins;
  std::vector<Parcel> parcels;
};
Partition random_partition(std::mt19937& random, int bags, int things, double slack) {
  const auto number = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  Partition out;
  for (int b = 0; b < bags; ++b) {
    const int mine = things * (b + 1) / bags - things * b / bags;
    std::vector<double> mass(static_cast<std::size_t>(mine)), room(mass.size());
    double mass_sum = 0, room_sum = 0;
    for (std::size_t i = 0; i < mass.size(); ++i) {
      mass_sum += mass[i] = number(0.1, 1);
      room_sum += room[i] = number(0.1, 1);
    }
    // 7 kg and 30 litres or so, grams and cubic centimetres.
    const double g = std::round(number(5000, 9000)), cm3 = std::round(number(20000, 40000));
    Bin bin;
    for (std::size_t i = 0; i < mass.size(); ++i) {
      Parcel p;
      p.mg = 1000 * std::llround(g * mass[i] / mass_sum);
      p.mm3 = 1000 * std::llround(cm3 * room[i] / room_sum);
      p.may = (std::uint64_t{1} << bags) - 1;
      bin.mg += p.mg;
      bin.mm3 += p.mm3;
      out.parcels.push_back(p);
    }
    bin.mg = std::llround(static_cast<double>(bin.mg) / (1 - slack));
    bin.mm3 = std::llround(static_cast<double>(bin.mm3) / (1 - slack));
    out.bins.push_back(bin);
  }
  std::shuffle(out.parcels.begin(), out.parcels.end(), random);
  return out;
}

/// The way found keeps every limit.
void check_way(std::vector<Bin> room, const std::vector<Parcel>& parcels, std::vector<Quota> quotas,
               const std::vector<int>& out) {
  REQUIRE(out.size() == parcels.size());
  for (std::size_t k = 0; k < parcels.size(); ++k) {
    auto& b = room.at(static_cast<std::size_t>(out[k]));
    REQUIRE(((parcels[k].may >> static_cast<unsigned>(out[k])) & 1U) == 1);
    b.mg -= parcels[k].mg;
    b.mm3 -= parcels[k].mm3;
    REQUIRE(b.mg >= 0);
    REQUIRE(b.mm3 >= 0);
    for (auto& q : quotas) {
      if (((q.bins >> static_cast<unsigned>(out[k])) & 1U) != 0) q.most -= q.amounts[k];
      REQUIRE(q.most >= 0);
    }
  }
}

}  // namespace

TEST_CASE("sharing out says yes exactly when some way exists", "[choose][known]") {
  // The check is the enumeration of every way.
  std::mt19937 random(20261125);
  const auto whole = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  int yes = 0;
  int no = 0;
  int given_up = 0;
  for (int n = 0; n < 1500; ++n) {
    std::vector<Bin> bins(static_cast<std::size_t>(whole(1, 4)));
    for (auto& b : bins) b = {whole(-1, 30), whole(0, 30)};
    std::vector<Parcel> parcels(static_cast<std::size_t>(whole(0, 7)));
    for (auto& p : parcels) {
      p = {whole(0, 16), whole(0, 16),
           static_cast<std::uint64_t>(whole(0, 2) == 0 ? whole(0, 15) : 15) & ((1U << bins.size()) - 1U)};
    }
    std::vector<Quota> quotas(static_cast<std::size_t>(whole(0, 2)));
    for (auto& q : quotas) {
      q = {static_cast<std::uint64_t>(whole(0, 15)), whole(0, 8), {}};
      for (std::size_t k = 0; k < parcels.size(); ++k)
        q.amounts.push_back(whole(0, 3) == 0 ? whole(0, 5) : whole(0, 1));
    }
    std::vector<int> out;
    // Every third is left to moving about and branching with little to spend: it may give up, and not err.
    const std::uint64_t most = n % 3 == 0 ? 12 : 1000000;
    const Shared answer = share_out(bins, parcels, quotas, most, out);
    given_up += answer == Shared::given_up ? 1 : 0;
    REQUIRE((n % 3 == 0 || answer != Shared::given_up));
    const bool expected = some_way(bins, parcels, quotas);
    CAPTURE(n);
    if (answer == Shared::given_up) continue;
    REQUIRE((answer == Shared::yes) == expected);
    (expected ? yes : no) += 1;
    if (expected) check_way(bins, parcels, quotas, out);
  }
  // Both answers are met often, so that each is tested.
  CHECK(yes > 300);
  CHECK(no > 300);
  CHECK(given_up < 100);  // of 500 that may
}

TEST_CASE("sharing out among many bins agrees with every way too", "[choose][known]") {
  // More bins than the test of sets is made for.
  std::mt19937 random(7);
  const auto whole = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  int no = 0;
  for (int n = 0; n < 150; ++n) {
    std::vector<Bin> bins(10);
    for (auto& b : bins) b = {whole(0, 12), whole(0, 12)};
    std::vector<Parcel> parcels(5);
    for (auto& p : parcels) p = {whole(3, 9), whole(2, 9), static_cast<std::uint64_t>(whole(1, 1023))};
    std::vector<int> out;
    const bool expected = some_way(bins, parcels, {});
    no += expected ? 0 : 1;
    REQUIRE((share_out(bins, parcels, {}, 1000000, out) == Shared::yes) == expected);
  }
  CHECK(no > 20);
  CHECK(no < 130);  // of 150: both answers are tested
}

TEST_CASE("a real kit in its bags needs hardly a step back", "[choose][property]") {
  // 60 things of 20 to 1500 g in 8 bags filled to 85 % of what they take: the answer comes on the straight
  // way down (one node a thing), or nearly.
  std::mt19937 random(9);
  std::uint64_t worst = 0;
  for (int n = 0; n < 200; ++n) {
    std::vector<Parcel> parcels;
    std::int64_t mg = 0;
    for (int i = 0; i < 60; ++i) {
      Parcel p;
      p.mg = std::uniform_int_distribution<std::int64_t>(20000, 1500000)(random);
      p.mm3 = 2 * p.mg;
      p.may = i % 5 == 0 ? 0x0F : (i % 7 == 0 ? 0xF0 : 0xFF);
      mg += p.mg;
      parcels.push_back(p);
    }
    std::vector<Bin> bins(8);
    for (std::size_t b = 0; b < 8; ++b) {
      bins[b].mg = static_cast<std::int64_t>(static_cast<double>(mg) / 0.85 / 8);
      bins[b].mm3 = 2 * bins[b].mg;
    }
    std::vector<int> out;
    std::uint64_t nodes = 0;
    CHECK(share_out(bins, parcels, {}, 20000, out, &nodes) == Shared::yes);
    worst = std::max(worst, nodes);
  }
  CHECK(worst <= 600);
}

TEST_CASE("things cut out of two to four bags are shared out again with 3 % to spare", "[choose][property]") {
  // A way exists by construction; the straight way down finds hardly any of them.
  std::mt19937 random(20261126);
  for (const int bags : {2, 3, 4}) {
    for (const int things : {20, 25, 30}) {
      int found = 0;
      std::uint64_t nodes_of_all = 0;
      constexpr int tries = 100;
      for (int n = 0; n < tries; ++n) {
        const auto partition = random_partition(random, bags, things, 0.03);
        std::vector<int> out;
        std::uint64_t nodes = 0;
        const Shared answer = share_out(partition.bins, partition.parcels, {}, 20000, out, &nodes);
        REQUIRE(answer != Shared::no);
        nodes_of_all += nodes;
        if (answer != Shared::yes) continue;
        ++found;
        check_way(partition.bins, partition.parcels, {}, out);
      }
      UNSCOPED_INFO(bags << " bags, " << things << " things: " << found << " of " << tries << ", "
                         << nodes_of_all / tries << " nodes each");
      CHECK(found == tries);
    }
  }
}

TEST_CASE("masses that cannot be made up are refused without a search", "[choose][edge]") {
  // Eleven of 600 in five bags of 1000, two of 1700: one, and two, go into each; the sum would do.
  std::vector<Bin> bins(5, Bin{1000, 1000});
  bins.push_back({1700, 1000});
  bins.push_back({1700, 1000});
  const std::vector<Parcel> ten(10, Parcel{600, 1, 0x7F});
  std::vector<int> out;
  std::uint64_t nodes = 0;
  CHECK(share_out(bins, ten, {}, 20000, out, &nodes) == Shared::no);
  CHECK(nodes <= 4 * 10 + 1);
  CHECK(share_out(bins, std::span(ten).first(9), {}, 20000, out) == Shared::yes);
}

TEST_CASE("a quota holds over its bags together", "[choose][edge]") {
  const std::vector<Bin> bins(3, Bin{100, 100});
  const std::vector<Parcel> four(4, Parcel{10, 10, 0x7});
  std::vector<int> out;
  // Two in the first two bags together: the other two go into the third.
  std::vector<Quota> quotas{{0x3, 2, {1, 1, 1, 1}}};
  REQUIRE(share_out(bins, four, quotas, 1000, out) == Shared::yes);
  CHECK(std::count(out.begin(), out.end(), 2) >= 2);
  quotas.push_back({0x4, 1, {1, 1, 1, 1}});
  CHECK(share_out(bins, four, quotas, 1000, out) == Shared::no);
}
