// Reading the committed tables of other programs.
#pragma once

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

/// The rows of authorities/<name>, all cells numbers; comment and heading lines left out.
inline std::vector<std::vector<double>> authority_rows(const std::string& name) {
  std::ifstream file(std::string(SKERRY_SOURCE_DIR) + "/tests/ionosphere/authorities/" + name);
  if (!file) throw std::runtime_error("no such table: " + name);
  std::vector<std::vector<double>> rows;
  bool heading = true;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#') continue;
    if (heading) {
      heading = false;
      continue;
    }
    std::istringstream cells(line);
    auto& row = rows.emplace_back();
    for (std::string cell; std::getline(cells, cell, ',');) row.push_back(std::stod(cell));
  }
  return rows;
}
