// A whole decision from text to text, as a page or another language asks for it.
#include <iostream>

#include "skerry/engine/session.hpp"

int main() {
  skerry::engine::Session session;
  std::cout << session.answer(
                   R"({"do": "path", "question": {"from": "-19.70,63.43", "to": "JN45", "month": "2027-02",
                                  "bands": ["20m"], "hours": [18]}})")
            << "\n";
}
