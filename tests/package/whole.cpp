// Somebody else's program, which knows the one header.
#include <iostream>
#include <skerry/skerry.hpp>

int main() {
  skerry::engine::Session session;
  std::cout << session.answer(R"({"do": "sun", "at": "Fair Isle", "date": "2027-01-05", "format": "csv"})")
            << "\n";
}
