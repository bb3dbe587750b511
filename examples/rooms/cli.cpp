// The program inside another: a question in, text out, nothing else touched.
#include <iostream>
#include <sstream>

#include "skerry/cli/run.hpp"

int main() {
  std::istringstream in;
  skerry::cli::World world{.in = in, .out = std::cout, .err = std::cerr, .flush = {}};
  return skerry::cli::run({"sun", "19.70S 63.43E", "--date", "2027-02-14"}, world);
}
