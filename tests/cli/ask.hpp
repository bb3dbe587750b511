// Runs the program in this process and keeps what it says.
#pragma once

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "skerry/cli/run.hpp"

struct Said {
  int code = -1;
  std::string out, err;
  [[nodiscard]] nlohmann::json json() const { return nlohmann::json::parse(out); }
};

inline Said ask(const std::vector<std::string>& args, const std::string& input = {}) {
  std::istringstream in(input);
  std::ostringstream out, err;
  skerry::cli::World world{.in = in, .out = out, .err = err, .flush = {}};
  Said said;
  said.code = skerry::cli::run(args, world);
  said.out = out.str();
  said.err = err.str();
  return said;
}

/// One line, ended once, beginning with the program's name.
inline bool is_one_line(const std::string& text) {
  return text.rfind("skerry: ", 0) == 0 && text.find('\n') == text.size() - 1;
}
