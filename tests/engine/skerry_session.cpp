// A session at a terminal: a JSON message a line in, a JSON answer a line out, as the page's worker speaks.
#include <iostream>
#include <string>

#include "skerry/engine/session.hpp"

int main() {
  std::ios::sync_with_stdio(false);
  skerry::engine::Session session;
  for (std::string line; std::getline(std::cin, line);) std::cout << session.answer(line) << std::endl;
}
