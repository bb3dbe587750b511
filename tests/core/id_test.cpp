// Typed places in lists.
#include "skerry/core/id.hpp"

#include <concepts>
#include <optional>
#include <string>

#include "check.hpp"

using namespace skerry;

namespace {

struct Pole {};
struct Rope {};

template <class List, class Of>
concept looks_up = requires(List& list, Id<Of> id) {
  nth(list, id);
};

}  // namespace

TEST_CASE("an Id is a number only when asked, and no Id of another kind", "[core][property]") {
  CHECK(Id<Pole>(3).value() == 3);
  CHECK(Id<Pole>().value() == 0);
  static_assert(!std::convertible_to<int, Id<Pole>>);
  static_assert(!std::convertible_to<Id<Pole>, int>);
  static_assert(!std::constructible_from<Id<Pole>, Id<Rope>>);
}

TEST_CASE("Ids sort as their numbers, none before all", "[core][property]") {
  CHECK(Id<Pole>(1) < Id<Pole>(2));
  CHECK(std::optional<Id<Pole>>() < Id<Pole>(0));
}

TEST_CASE("a list gives its Ids in order, and its elements for them", "[core][property]") {
  const std::vector<std::string> list = {"a", "b", "c"};
  std::string all;
  for (const auto id : ids_of(list)) all += nth(list, id);
  CHECK(all == "abc");
  static_assert(looks_up<const std::vector<std::string>, std::string>);
}
