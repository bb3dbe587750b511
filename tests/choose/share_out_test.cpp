// Sharing out against trying every way.
#include "skerry/choose/share_out.hpp"

#include <random>

#include "check.hpp"

using namespace skerry::choose;

namespace {

/// Every way of putting the parcels into the bins, one after the other.
bool some_way(std::vector<Bin> bins, std::span<const Parcel> parcels, std::int64_t liquid_ul) {
  if (parcels.empty()) return true;
  const Parcel& p = parcels.front();
  for (std::size_t b = 0; b < bins.size(); ++b) {
    const std::int64_t wet = bins[b].liquid_counts ? p.liquid_ul : 0;
    if (((p.may >> b) & 1U) == 0 || bins[b].mg < p.mg || bins[b].mm3 < p.mm3 || liquid_ul < wet) continue;
    auto rest = bins;
    rest[b].mg -= p.mg;
    rest[b].mm3 -= p.mm3;
    if (some_way(rest, parcels.subspan(1), liquid_ul - wet)) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("sharing out says yes exactly when some way exists", "[choose][known]") {
  // The check is the enumeration of every way.
  std::mt19937 random(20261125);
  const auto whole = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  int yes = 0;
  int no = 0;
  for (int n = 0; n < 1500; ++n) {
    std::vector<Bin> bins(static_cast<std::size_t>(whole(1, 4)));
    for (auto& b : bins) b = {whole(-1, 30), whole(0, 30), whole(0, 1) == 1};
    std::vector<Parcel> parcels(static_cast<std::size_t>(whole(0, 7)));
    for (auto& p : parcels) {
      p = {whole(0, 16), whole(0, 16), whole(0, 3) == 0 ? whole(0, 5) : 0,
           static_cast<std::uint64_t>(whole(0, 2) == 0 ? whole(0, 15) : 15) & ((1U << bins.size()) - 1U)};
    }
    const std::int64_t liquid = whole(0, 8);
    std::vector<int> out;
    const Shared answer = share_out(bins, parcels, liquid, 1000000, out);
    REQUIRE(answer != Shared::given_up);
    const bool expected = some_way(bins, parcels, liquid);
    CAPTURE(n);
    REQUIRE((answer == Shared::yes) == expected);
    (expected ? yes : no) += 1;
    if (!expected) continue;
    // The way found keeps every limit.
    REQUIRE(out.size() == parcels.size());
    auto room = bins;
    std::int64_t left = liquid;
    for (std::size_t k = 0; k < parcels.size(); ++k) {
      auto& b = room.at(static_cast<std::size_t>(out[k]));
      REQUIRE(((parcels[k].may >> static_cast<unsigned>(out[k])) & 1U) == 1);
      b.mg -= parcels[k].mg;
      b.mm3 -= parcels[k].mm3;
      REQUIRE(b.mg >= 0);
      REQUIRE(b.mm3 >= 0);
      if (b.liquid_counts) left -= parcels[k].liquid_ul;
    }
    REQUIRE(left >= 0);
  }
  // Both answers are met often, so that each is tested.
  CHECK(yes > 300);
  CHECK(no > 300);
}

TEST_CASE("sharing out among many bins agrees with every way too", "[choose][known]") {
  // More bins than the test of sets is made for.
  std::mt19937 random(7);
  const auto whole = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  int no = 0;
  for (int n = 0; n < 150; ++n) {
    std::vector<Bin> bins(10);
    for (auto& b : bins) b = {whole(0, 12), whole(0, 12), false};
    std::vector<Parcel> parcels(5);
    for (auto& p : parcels) p = {whole(3, 9), whole(2, 9), 0, static_cast<std::uint64_t>(whole(1, 1023))};
    std::vector<int> out;
    const bool expected = some_way(bins, parcels, 0);
    no += expected ? 0 : 1;
    REQUIRE((share_out(bins, parcels, 0, 1000000, out) == Shared::yes) == expected);
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
    CHECK(share_out(bins, parcels, 0, 20000, out, &nodes) == Shared::yes);
    worst = std::max(worst, nodes);
  }
  CHECK(worst <= 600);
}
