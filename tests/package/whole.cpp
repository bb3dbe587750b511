// Somebody else's program, which knows the one header.
#include <skerry/skerry.hpp>

#include <iostream>

int main() {
  skerry::engine::Session session;
  std::cout << session.answer(R"({"do": "sun", "at": "Fair Isle", "date": "2027-01-05", "format": "csv"})") << "\n";
}
