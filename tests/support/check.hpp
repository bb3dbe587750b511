// One include for test files, whichever Catch2 is installed: v2 (Debian 12) or v3.
#pragma once

#include <string>

#if __has_include(<catch2/catch_test_macros.hpp>)
#include <catch2/catch_approx.hpp>
#include <catch2/catch_test_macros.hpp>
#include <catch2/generators/catch_generators_all.hpp>
#include <catch2/matchers/catch_matchers_all.hpp>
using Catch::Approx;
using Catch::Matchers::ContainsSubstring;
#else
#include <catch2/catch.hpp>
inline auto ContainsSubstring(const std::string& part) {
  return Catch::Matchers::Contains(part);
}
#endif

using Catch::Matchers::WithinAbs;
